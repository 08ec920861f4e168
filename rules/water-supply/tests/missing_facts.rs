//! A fact that is taken away never cures: in the demo houses, with any one fact of the water gone, nothing that was broken complies,
//! nothing panics, and no amount is not a number.

use redtag_rule::schema::contract::{Finding, Outcome, Stage};
use redtag_rule::schema::project::Project;
use redtag_rule::{Case, Entry, Value};
use redtag_water_supply::MODULE;
use std::collections::BTreeMap;

const HOUSES: [&str; 2] =
    [include_str!("../../../examples/houses/boatyard.json"), include_str!("../../../examples/houses/town-duplex.json")];

fn review(house: &Value) -> Vec<(&'static str, Finding)> {
    let project: Project = serde_json::from_value(house.clone()).unwrap();
    let parameters = BTreeMap::new();
    let case = Case::new(&project, &parameters, Stage::Final, "2025-06-01");
    let of = |entry: &Entry| (entry.rule.check)(&case).into_iter().map(|found| (entry.rule.id, found)).collect::<Vec<_>>();
    MODULE.entries.iter().flat_map(of).collect()
}

fn subject(found: &Finding) -> String {
    found.subject.id.clone().unwrap_or_else(|| found.subject.pointer.clone())
}

/// Pointers of everything that may be left out below a place.
fn facts(value: &Value, at: &str, into: &mut Vec<String>) {
    match value {
        Value::Object(map) => map.iter().for_each(|(name, inner)| {
            if !["id", "kind", "x", "y"].contains(&name.as_str()) {
                into.push(format!("{at}/{name}"));
                facts(inner, &format!("{at}/{name}"), into);
            }
        }),
        Value::Array(items) => items.iter().enumerate().for_each(|(index, inner)| facts(inner, &format!("{at}/{index}"), into)),
        _ => {}
    }
}

fn without(house: &Value, pointer: &str) -> Value {
    let mut house = house.clone();
    let (parent, name) = pointer.rsplit_once('/').unwrap();
    house.pointer_mut(parent).and_then(Value::as_object_mut).unwrap().remove(name);
    house
}

/// The parts the rules of this family read, without those that only make the file long.
fn short(text: &str) -> Value {
    let mut house: Value = serde_json::from_str(text).unwrap();
    let map = house.as_object_mut().unwrap();
    for part in ["electrical", "gas", "vents", "ducts", "openings", "raceways", "exhausts", "variances", "drainage", "spaces"] {
        map.remove(part);
    }
    map["equipment"].as_array_mut().unwrap().retain_mut(|item| {
        let read = ["water_heating", "relief", "tank", "treatment", "pump"];
        if let Some(item) = item.as_object_mut() {
            item.retain(|name, _| name == "id" || name == "kind" || name == "pan" || read.contains(&name.as_str()));
        }
        read.iter().any(|part| item.get(part).is_some())
    });
    house
}

#[test]
fn a_missing_fact_never_cures() {
    let mut broken = 0;
    for text in HOUSES {
        let house = short(text);
        let before: BTreeMap<(&str, String), Outcome> =
            review(&house).into_iter().map(|(rule, found)| ((rule, subject(&found)), found.outcome)).collect();
        broken += before.values().filter(|outcome| **outcome == Outcome::Correction).count();
        let mut pointers = Vec::new();
        for part in ["water", "equipment", "site"] {
            facts(&house[part], &format!("/{part}"), &mut pointers);
        }
        let mut unresolved = 0;
        for pointer in &pointers {
            for (rule, found) in review(&without(&house, pointer)) {
                let was = before.get(&(rule, subject(&found)));
                let cured = was == Some(&Outcome::Correction) && found.outcome == Outcome::Complies;
                assert!(!cured, "{rule} about {} complies without {pointer}", subject(&found));
                unresolved += usize::from(found.outcome == Outcome::Unresolved && was == Some(&Outcome::Complies));
                let steps = found.worksheet.iter().flat_map(|step| &step.text.amounts).chain(&found.summary.amounts);
                assert!(
                    steps.into_iter().all(|amount| amount.si.is_finite()),
                    "{rule} says what is not a number without {pointer}"
                );
            }
        }
        assert!(unresolved > 10, "only {unresolved} of {} facts are missed", pointers.len());
    }
    assert!(broken > 0, "nothing is broken in either house: the test shows nothing");
}
