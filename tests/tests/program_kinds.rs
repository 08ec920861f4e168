//! A kind that is named wakes its rules: nothing that stands in a room is passed over because nothing more is said of it.

mod program_support;

use program_support::{Bench, said};
use redtag_schema::contract::Outcome;
use redtag_schema::project::EquipmentKind;
use redtag_schema::review::{Review, Reviews};
use serde_json::{Value, json};
use std::path::PathBuf;

type Outcomes = Result<(), Box<dyn std::error::Error>>;

/// A thing alone in a room of a house that has no openings, exhausts, vents or ducts.
fn alone(kind: &str, room: &str) -> Value {
    json!({
        "schema": 1,
        "spaces": [{"id": "room", "kind": room}],
        "openings": [], "exhausts": [], "vents": [], "ducts": [],
        "equipment": [{"id": "thing", "kind": kind, "space": "room"}]
    })
}

/// Reviews of projects, in their order; named so that the program keeps it.
fn reviews(bench: &Bench, projects: &[(String, Value)]) -> Result<Vec<Review>, Box<dyn std::error::Error>> {
    let mut paths: Vec<PathBuf> = Vec::new();
    for (at, (name, project)) in projects.iter().enumerate() {
        paths.push(bench.write(&format!("{at:03}-{name}.json"), serde_json::to_vec(project)?)?);
    }
    let (_, out, _) = said(bench.redtag(&["review", "--format", "json"]).args(&paths));
    let found: Reviews = serde_json::from_str(&out)?;
    Ok(found.reviews)
}

/// What is asked of the thing or held against it.
fn asked(review: &Review) -> Vec<&str> {
    let about = |finding: &&redtag_schema::review::ReviewedFinding| {
        let counts = matches!(finding.outcome, Outcome::Correction | Outcome::Unresolved | Outcome::Advice);
        let named = finding.subject.id.as_deref() == Some("thing");
        counts && (named || finding.missing.iter().any(|missing| missing.pointer.starts_with("/equipment/0")))
    };
    review.findings.iter().filter(about).map(|finding| finding.rule.as_str()).collect()
}

#[test]
fn every_kind_alone_in_a_room_is_asked_about_or_says_why_not() -> Outcomes {
    let bench = Bench::new()?;
    let kinds = EquipmentKind::ALL;
    let projects: Vec<_> = kinds.iter().map(|kind| (kind.word().to_owned(), alone(kind.word(), "mechanical-room"))).collect();
    let reviews = reviews(&bench, &projects)?;
    assert_eq!(reviews.len(), kinds.len());
    let silent: Vec<&str> = kinds
        .iter()
        .zip(&reviews)
        .filter(|(kind, review)| asked(review).is_empty() && kind.nature().nothing_asked.is_none())
        .map(|(kind, _)| kind.word())
        .collect();
    assert!(silent.is_empty(), "{} of {} kinds ask nothing: {silent:?}", silent.len(), kinds.len());
    let reasons = kinds.iter().filter(|kind| kind.nature().nothing_asked.is_some()).count();
    assert!(reasons <= 3, "{reasons} kinds ask nothing and say why");
    Ok(())
}

/// The five things that passed in silence: a generator, a container of propane and a dryer indoors, a range in a bedroom, and
/// all of them together.
#[test]
fn what_passed_in_silence_is_asked_about() -> Outcomes {
    let bench = Bench::new()?;
    let mut projects = vec![
        ("generator".to_owned(), alone("generator", "mechanical-room")),
        ("container".to_owned(), alone("gas-container", "mechanical-room")),
        ("dryer".to_owned(), alone("clothes-dryer", "mechanical-room")),
        ("range".to_owned(), alone("range", "sleeping-room")),
    ];
    let mut all = alone("generator", "mechanical-room");
    all["spaces"] = json!([{"id": "room", "kind": "mechanical-room"}, {"id": "bed", "kind": "sleeping-room"}]);
    all["equipment"] = json!([
        {"id": "thing", "kind": "generator", "space": "room"},
        {"id": "tank", "kind": "gas-container", "space": "room"},
        {"id": "dryer", "kind": "clothes-dryer", "space": "room"},
        {"id": "range", "kind": "range", "space": "bed"}
    ]);
    projects.push(("all".to_owned(), all));
    for ((name, _), review) in projects.iter().zip(reviews(&bench, &projects)?) {
        assert!(!asked(&review).is_empty(), "{name}: nothing is asked");
        let counted = |outcome| review.counts.get(&outcome).copied().unwrap_or_default();
        assert!(counted(Outcome::Correction) + counted(Outcome::Unresolved) > 0, "{name}: {:?}", review.counts);
    }
    Ok(())
}

/// A furnace without a burner counted as burning nothing.
#[test]
fn a_furnace_is_asked_whether_it_burns_and_an_electric_one_is_not_asked_for_its_vent() -> Outcomes {
    let bench = Bench::new()?;
    let mut electric = alone("furnace", "mechanical-room");
    electric["equipment"][0]["burns_fuel"] = json!(false);
    let found =
        reviews(&bench, &[("furnace".to_owned(), alone("furnace", "mechanical-room")), ("electric".to_owned(), electric)])?;
    let burns = |review: &Review| {
        let missing = review.findings.iter().flat_map(|finding| &finding.missing);
        missing.filter(|missing| missing.pointer == "/equipment/0/burns_fuel").count()
    };
    assert!(burns(&found[0]) > 0);
    assert_eq!(burns(&found[1]), 0);
    assert!(!asked(&found[1]).iter().any(|rule| rule.starts_with("venting/") || rule.starts_with("fuel-match/")));
    Ok(())
}
