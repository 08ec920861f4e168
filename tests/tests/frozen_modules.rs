//! Modules compiled against every contract version there ever was still answer.

mod program_support;

use program_support::{Bench, Outcome};
use redtag_schema::contract::Outcome as Answer;
use redtag_schema::review::Reviews;
use serde_json::json;
use std::path::Path;

#[test]
fn a_module_of_contract_1_0_0_still_answers() -> Outcome {
    let bench = Bench::new()?;
    let project = json!({
        "schema": 1,
        "packs": [{"name": "frozen-contract", "version": "^1"}],
        "spaces": [
            {"id": "high", "kind": "mechanical-room", "ceiling_height": "7 ft"},
            {"id": "low", "kind": "mechanical-room", "ceiling_height": "6 ft 11 in"},
            {"id": "unsaid", "kind": "mechanical-room"}
        ]
    });
    bench.write("house.json", project.to_string())?;
    let pack = Path::new(env!("CARGO_MANIFEST_DIR")).join("frozen/contract-1.0.0/built");
    let packs = pack.display().to_string();
    let output = bench.redtag(&["review", "--format", "json", "--packs", &packs, "house.json"]).output()?;
    let reviews: Reviews = serde_json::from_slice(&output.stdout)?;
    let findings = reviews.reviews.iter().flat_map(|review| &review.findings);
    let mut found: Vec<(&str, Answer)> = findings
        .filter(|finding| finding.rule == "frozen/ceiling-height")
        .map(|finding| (finding.subject.id.as_deref().unwrap_or_default(), finding.outcome))
        .collect();
    found.sort();
    assert_eq!(found, [("high", Answer::Complies), ("low", Answer::Correction), ("unsaid", Answer::Unresolved)]);
    Ok(())
}
