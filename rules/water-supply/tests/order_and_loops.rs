//! The order of pipes and outlets in a file decides nothing, and a file whose pipes run in a circle is answered all the same.

use redtag_rule::schema::contract::{Finding, Stage};
use redtag_rule::schema::project::Project;
use redtag_rule::schema::quantity::System;
use redtag_rule::{Inquiry, Value, json};
use redtag_water_supply::MODULE;
use std::collections::BTreeMap;

fn review(house: &Value) -> Vec<Finding> {
    let project: Project = serde_json::from_value(house.clone()).unwrap();
    let parameters = BTreeMap::new();
    let inquiry = Inquiry::new(&project, &parameters, Stage::Final, "2025-06-01");
    MODULE.entries.iter().flat_map(|entry| (entry.rule.check)(&inquiry)).collect()
}

fn said(house: &Value) -> Vec<String> {
    let one = |found: Finding| {
        let id = found.subject.id.unwrap_or_default();
        format!("{} {:?} {}", id, found.outcome, found.summary.print(System::UsCustomary))
    };
    let mut all: Vec<String> = review(house).into_iter().map(one).collect();
    all.sort();
    all
}

fn boatyard() -> Value {
    serde_json::from_str(include_str!("../../../examples/houses/boatyard-corrected.json")).unwrap()
}

#[test]
fn order_decides_nothing() {
    let before = said(&boatyard());
    assert!(before.iter().any(|line| line.contains("psi left")), "{before:#?}");
    for list in ["/water/pipes", "/water/fixtures", "/water/valves", "/equipment", "/spaces"] {
        let mut house = boatyard();
        house.pointer_mut(list).and_then(Value::as_array_mut).unwrap().reverse();
        assert_eq!(said(&house), before, "{list} the other way about");
    }
}

#[test]
fn pipes_in_a_circle_end() {
    let mut house = boatyard();
    let pipes = house.pointer("/water/pipes").and_then(Value::as_array).unwrap().len();
    for (from, to) in (0..pipes).flat_map(|from| (0..pipes).map(move |to| (from, to))) {
        let id = house["water"]["pipes"][to]["id"].clone();
        let mut circle = house.clone();
        circle["water"]["pipes"][from]["from"] = id;
        assert!(!review(&circle).is_empty());
    }
    house["water"]["pipes"] = json!([]);
    assert!(!review(&house).is_empty());
}
