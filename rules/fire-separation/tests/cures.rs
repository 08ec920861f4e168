//! The cures of the demo room, each tried: the finding it belongs to must hold afterwards.

use redtag_fire_separation::MODULE;
use redtag_rule::Inquiry;
use redtag_rule::schema::contract::{Finding, Outcome, Stage};
use redtag_rule::schema::project::Project;
use serde_json::Value;
use std::collections::BTreeMap;

const BARE: &str = include_str!("../../../examples/houses/board-room.json");

fn answers(project: &Value) -> Vec<Finding> {
    let project: Project = serde_json::from_value(project.clone()).expect("the demo room reads");
    let none = BTreeMap::new();
    let inquiry = Inquiry::new(&project, &none, Stage::Final, "2025-03-03");
    MODULE
        .entries
        .iter()
        .flat_map(|entry| {
            (entry.rule.check)(&inquiry).into_iter().map(|finding| Finding { rule: entry.rule.id.to_owned(), ..finding })
        })
        .collect()
}

/// Puts a value where a JSON Patch of one `add` puts it.
fn add(project: &mut Value, path: &str, value: &Value) {
    let (parent, name) = path.rsplit_once('/').expect("a path has a parent");
    match project.pointer_mut(parent).expect("the parent is there") {
        Value::Array(items) if name == "-" => items.push(value.clone()),
        Value::Array(items) => items[name.parse::<usize>().expect("an index")] = value.clone(),
        parent => parent[name] = value.clone(),
    }
}

#[test]
fn every_cure_that_can_be_tried_cures() {
    let room: Value = serde_json::from_str(BARE).expect("the demo room is JSON");
    let mut tried = 0;
    for finding in answers(&room).iter().filter(|finding| finding.outcome == Outcome::Correction) {
        assert!(!finding.remedies.is_empty(), "{} of {} has no cure", finding.rule, finding.subject.label);
        for remedy in finding.remedies.iter().filter(|remedy| !remedy.patch.is_empty()) {
            let mut cured = room.clone();
            for operation in &remedy.patch {
                let operation = serde_json::to_value(operation).expect("an operation is JSON");
                add(&mut cured, operation["path"].as_str().expect("a path"), &operation["value"]);
            }
            let after = answers(&cured);
            let same = after.iter().find(|after| after.rule == finding.rule && after.subject.pointer == finding.subject.pointer);
            assert_eq!(same.map(|same| same.outcome), Some(Outcome::Complies), "{} of {}", finding.rule, finding.subject.label);
            tried += 1;
        }
    }
    assert_eq!(tried, 5, "two boards inside, one in the garage, the duct, the drain");
}

#[test]
fn what_is_missing_is_marked_on_the_plan() {
    let room: Value = serde_json::from_str(BARE).expect("the demo room is JSON");
    for finding in answers(&room).iter().filter(|finding| finding.outcome == Outcome::Correction) {
        let drawn = !matches!(finding.rule.as_str(), "fire-separation/garage-ducts");
        assert_eq!(!finding.marks.is_empty(), drawn, "{} of {}", finding.rule, finding.subject.label);
    }
}
