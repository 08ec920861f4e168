//! A cure of one family makes no correction of another, and moves nothing into a wall or into something else.

use redtag_families_tests::{case_projects, houses, review};
use redtag_rule::prelude::{Inquiry, Place, Project, need};
use redtag_rule::schema::contract::{Finding, Outcome, Remedy, Stage};
use redtag_rule::schema::quantity::System;
use redtag_rule_space::{Stand, room, standing};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// Cures that bring another correction to light, each with why that is right: the rule of the cure, the rule of the correction.
const BROUGHT_TO_LIGHT: [(&str, &str); 1] = [
    // A valve that balances needs 20 psi where a plain one does with 8: whether the pipe gives it is then asked in earnest.
    ("water-heating/scald-protection", "water-supply/pressure-budget"),
];

type Corrections = BTreeSet<(String, String)>;

fn corrections(found: &[Finding]) -> Corrections {
    let subject = |finding: &Finding| finding.subject.id.clone().unwrap_or_else(|| finding.subject.pointer.clone());
    let broken = found.iter().filter(|finding| finding.outcome == Outcome::Correction);
    broken.map(|finding| (finding.rule.clone(), subject(finding))).collect()
}

/// So deep may two bodies be drawn into each other and still touch, in metres: 3/4 in, as the check of documents has it.
const DRAWN: f64 = 0.75 * 0.0254;

/// What stands in a wall, outside its room or in something else.
fn misplaced(project: &Value) -> BTreeSet<(String, String)> {
    let Ok(project) = serde_json::from_value::<Project>(project.clone()) else { return BTreeSet::new() };
    let none = BTreeMap::new();
    let inquiry = Inquiry::new(&project, &none, Stage::Final, "2025-06-01");
    let mut found = BTreeSet::new();
    let place: Place<'_, Project> = inquiry.project();
    for space in need!(place, spaces).map(|spaces| spaces.items().collect::<Vec<_>>()).unwrap_or_default() {
        let (stands, _) = standing(&inquiry, &space);
        if let Ok(room) = room(&space) {
            let out = |one: &&Stand| {
                let plan = one.body.plan();
                let deep = room.walls().iter().filter_map(|wall| wall.face().overlap(&plan)).fold(0.0_f64, f64::max);
                deep > DRAWN || !room.contains(plan.middle())
            };
            found.extend(stands.iter().filter(out).map(|one| (one.equipment.id.clone(), "the walls".to_owned())));
        }
        for (index, one) in stands.iter().enumerate() {
            let into = |other: &&Stand| {
                one.solid().overlap(&other.solid()).is_some_and(|shared| shared.plan > DRAWN && shared.height > DRAWN)
            };
            let others = stands[index + 1..].iter().filter(into);
            found.extend(others.map(|other| (one.equipment.id.clone(), other.equipment.id.clone())));
        }
    }
    found
}

/// The corrections that are there with a cure and were not before, and what then stands where nothing can.
fn new_with(project: &Value, remedy: &Remedy, before: &Corrections) -> Vec<(String, String)> {
    let mut patched = project.clone();
    let patch: json_patch::Patch = serde_json::from_value(Value::Array(remedy.patch.clone())).expect("a JSON Patch");
    json_patch::patch(&mut patched, &patch).expect("a patch that fits");
    let Some(found) = review(&patched) else { return vec![("nothing".to_owned(), "a project that still reads".to_owned())] };
    let moved = misplaced(&patched).difference(&misplaced(project)).cloned().collect::<Vec<_>>();
    corrections(&found).difference(before).cloned().chain(moved).collect()
}

fn failures(projects: &[(String, Value)]) -> (usize, Vec<String>) {
    let (mut tried, mut failures) = (0, Vec::new());
    for (name, project) in projects {
        let Some(found) = review(project) else { continue };
        let before = corrections(&found);
        for finding in found.iter().filter(|finding| finding.outcome == Outcome::Correction) {
            for remedy in finding.remedies.iter().filter(|remedy| !remedy.patch.is_empty()) {
                tried += 1;
                let mut new = new_with(project, remedy, &before);
                new.retain(|(rule, _)| !BROUGHT_TO_LIGHT.contains(&(finding.rule.as_str(), rule.as_str())));
                if !new.is_empty() {
                    let cure = remedy.words.print(System::UsCustomary);
                    failures.push(format!("{name}: {}: \"{cure}\": now there is {new:?}", finding.rule));
                }
            }
        }
    }
    (tried, failures)
}

#[test]
fn a_cure_makes_no_correction_of_any_family_in_a_house() {
    let (tried, failures) = failures(&houses());
    assert!(tried > 20, "only {tried} cures were tried");
    assert!(failures.is_empty(), "{} of {tried} cures:\n{}", failures.len(), failures.join("\n"));
}

#[test]
fn a_cure_makes_no_correction_of_any_family_in_a_case() {
    let (tried, failures) = failures(&case_projects());
    assert!(tried > 400, "only {tried} cures were tried");
    assert!(failures.is_empty(), "{} of {tried} cures:\n{}", failures.len(), failures.join("\n"));
}
