//! A kind that is named wakes its rules: nothing that stands in a room is passed over because nothing more is said of it.

use redtag_families_tests::review;
use redtag_rule::schema::contract::{Finding, Outcome};
use redtag_rule::schema::project::EquipmentKind;
use serde_json::{Value, json};

/// A thing alone in a room of a house that has no openings, exhausts, vents or ducts.
fn alone(kind: &str, room: &str) -> Value {
    json!({
        "schema": 1,
        "spaces": [{"id": "room", "kind": room}],
        "openings": [], "exhausts": [], "vents": [], "ducts": [],
        "equipment": [{"id": "thing", "kind": kind, "space": "room"}]
    })
}

/// What is asked of the thing or held against it.
fn asked(project: &Value) -> Vec<Finding> {
    let about = |finding: &Finding| {
        let counts = matches!(finding.outcome, Outcome::Correction | Outcome::Unresolved | Outcome::Advice);
        let named = finding.subject.id.as_deref() == Some("thing");
        counts && (named || finding.missing.iter().any(|missing| missing.pointer.starts_with("/equipment/0")))
    };
    let found = review(project).expect("the project reads");
    found.into_iter().filter(about).collect()
}

#[test]
fn every_kind_alone_in_a_room_is_asked_about_or_says_why_not() {
    let silent = |kind: &&EquipmentKind| asked(&alone(kind.word(), "mechanical-room")).is_empty();
    let silent: Vec<&EquipmentKind> = EquipmentKind::ALL.iter().filter(silent).collect();
    let unexplained: Vec<&str> =
        silent.iter().filter(|kind| kind.nature().nothing_asked.is_none()).map(|kind| kind.word()).collect();
    assert!(unexplained.is_empty(), "{} kinds ask nothing: {unexplained:?}", unexplained.len());
    assert!(silent.len() <= 3, "{silent:?}");
}

#[test]
fn a_furnace_is_asked_whether_it_burns_and_an_electric_one_is_not_asked_for_its_vent() {
    let mut electric = alone("furnace", "mechanical-room");
    electric["equipment"][0]["burns_fuel"] = json!(false);
    let burns = |project: &Value| {
        let asked = asked(project);
        asked.iter().flat_map(|finding| &finding.missing).filter(|missing| missing.pointer == "/equipment/0/burns_fuel").count()
    };
    assert!(burns(&alone("furnace", "mechanical-room")) > 5);
    assert_eq!(burns(&electric), 0);
    let families = ["venting/", "fuel-match/", "gas-installation/", "combustion-air/"];
    let of_burners =
        asked(&electric).into_iter().filter(|finding| families.iter().any(|family| finding.rule.starts_with(family)));
    assert_eq!(of_burners.map(|finding| finding.rule).collect::<Vec<_>>(), [""; 0]);
}
