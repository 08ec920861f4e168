//! The base pack through the real modules: every case of every rule, among them the nineteen boundary vectors of combustion
//! air and the published examples the case files name.

mod program_support;

use program_support::{Bench, Outcome};
use std::path::Path;

fn cases(rule: &str) -> String {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../rules").join(rule);
    std::fs::read_to_string(file).unwrap_or_default()
}

#[test]
fn every_case_of_every_rule_holds_and_no_rule_lacks_one() -> Outcome {
    let bench = Bench::new()?;
    let output = bench.redtag(&["prove"]).output()?;
    let said = String::from_utf8(output.stdout)?;
    assert!(output.status.success(), "{said}");
    assert!(!said.contains("lacks"), "{said}");
    assert!(said.lines().filter(|line| line.contains("cases hold")).count() > 15, "{said}");
    Ok(())
}

#[test]
fn every_parameter_is_noticed_by_some_case() -> Outcome {
    let bench = Bench::new()?;
    let output = bench.redtag(&["prove", "--perturb"]).output()?;
    let said = String::from_utf8(output.stdout)?;
    assert!(output.status.success() && !said.contains("no case notices"), "{said}");
    Ok(())
}

#[test]
fn all_nineteen_vectors_are_among_the_cases() {
    let supply = cases("combustion-air/src/rules/supply.md");
    for number in 1..=19 {
        assert!(supply.contains(&format!("vector {number},")), "vector {number} is not among the cases");
    }
    assert!(cases("combustion-air/src/rules/location.md").contains("vector 19,"), "the location of vector 19");
}

#[test]
fn the_worked_examples_of_fuel_match_are_among_the_cases() {
    let all: String = ["plate_matches_supply", "conversion_evidence", "altitude_rating"]
        .iter()
        .map(|rule| cases(&format!("fuel-match/src/rules/{rule}.md")))
        .collect();
    for figure in ["158", "267", "78,880", "89,440"] {
        assert!(all.contains(figure), "{figure} is in no case");
    }
}
