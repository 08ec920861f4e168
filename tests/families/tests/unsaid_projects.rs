//! Projects that say next to nothing, or leave out what would be held against them: each is asked or corrected.

use redtag_families_tests::{houses, review};
use redtag_rule::schema::contract::{Finding, Outcome};
use serde_json::{Value, json};
use std::collections::BTreeSet;

fn found(project: &Value) -> Vec<Finding> {
    review(project).expect("the project reads")
}

/// Whether something is asked of a thing or held against it.
fn is_asked(found: &[Finding], id: &str, pointer: &str) -> bool {
    let counts = |finding: &Finding| matches!(finding.outcome, Outcome::Correction | Outcome::Unresolved);
    let about = |finding: &Finding| {
        finding.subject.id.as_deref() == Some(id) || finding.missing.iter().any(|missing| missing.pointer.starts_with(pointer))
    };
    found.iter().any(|finding| counts(finding) && about(finding))
}

fn asks(found: &[Finding], pointer: &str) -> bool {
    let named = |finding: &Finding| finding.missing.iter().any(|missing| missing.pointer == pointer);
    found.iter().any(|finding| finding.outcome == Outcome::Unresolved && named(finding))
}

fn corrections(found: &[Finding]) -> BTreeSet<(String, String)> {
    let subject = |finding: &Finding| finding.subject.id.clone().unwrap_or_else(|| finding.subject.pointer.clone());
    let broken = found.iter().filter(|finding| finding.outcome == Outcome::Correction);
    broken.map(|finding| (finding.rule.clone(), subject(finding))).collect()
}

/// What burns or holds fuel where people are, named and nothing more.
const INDOORS: [(&str, &str, &str); 4] = [
    ("generator", "generator", "plant"),
    ("tank", "gas-container", "plant"),
    ("dryer", "clothes-dryer", "plant"),
    ("range", "range", "bedroom"),
];

fn rooms(things: &[(&str, &str, &str)]) -> Value {
    let thing = |(id, kind, space): &(&str, &str, &str)| json!({"id": id, "kind": kind, "space": space});
    json!({
        "schema": 1,
        "spaces": [{"id": "plant", "kind": "mechanical-room"}, {"id": "bedroom", "kind": "sleeping-room"}],
        "equipment": things.iter().map(thing).collect::<Vec<_>>()
    })
}

#[test]
fn a_generator_a_propane_tank_and_a_dryer_indoors_and_a_range_in_a_bedroom_are_asked_about() {
    let found = found(&rooms(&INDOORS));
    for (at, (id, ..)) in INDOORS.iter().enumerate() {
        assert!(is_asked(&found, id, &format!("/equipment/{at}")), "nothing is asked of the {id}");
    }
}

#[test]
fn each_of_them_alone_is_asked_about() {
    for thing in INDOORS {
        assert!(is_asked(&found(&rooms(&[thing])), thing.0, "/equipment/0"), "nothing is asked of the {} alone", thing.0);
    }
}

#[test]
fn a_list_taken_out_does_not_cure_what_was_planted_in_it() {
    let house = houses().into_iter().find(|(name, _)| name == "boatyard.json").expect("the boatyard").1;
    let planted = corrections(&found(&house));
    for (part, list) in [("drainage", "/drainage/indirect"), ("", "/exhausts")] {
        let mut without = house.clone();
        let holder = if part.is_empty() { Some(&mut without) } else { without.get_mut(part) };
        let taken =
            holder.and_then(Value::as_object_mut).and_then(|fields| fields.remove(list.rsplit('/').next().unwrap_or_default()));
        assert!(taken.is_some(), "the house has no {list}");
        let found = found(&without);
        let cured: Vec<_> = planted.difference(&corrections(&found)).cloned().collect();
        assert!(!cured.is_empty(), "nothing was planted in {list}");
        assert!(asks(&found, list), "{cured:?} are gone and nothing asks for {list}");
    }
}

/// A panel of forty spaces fed from its far end too, of whose breakers two are listed.
fn two_of_forty() -> Value {
    json!({
        "schema": 1,
        "electrical": {
            "services": [], "feeders": [], "transfers": [], "generators": [], "storage": [], "solar": [], "outdoor_receptacles": [],
            "panels": [{"id": "main", "bus_rating": "200 A", "main": "200 A", "feed_position": "top", "spaces": 40, "directory": true,
                "circuits": [
                    {"id": "solar", "role": "source", "overcurrent": "60 A", "poles": 2, "slots": [2, 4], "marked": true},
                    {"id": "range", "role": "load", "overcurrent": "50 A", "poles": 2, "slots": [1, 3]}
                ]}],
            "inverters": [{"id": "inverter", "panel": "main", "circuit": "solar", "interconnection": "load-side", "output_current": "48 A"}]
        }
    })
}

#[test]
fn two_breakers_listed_of_forty_do_not_pass_the_bus() {
    let bus = |project: &Value| {
        let of_bus = |finding: &Finding| finding.rule == "panels/bus" && finding.subject.id.as_deref() == Some("main");
        found(project).into_iter().find(of_bus).expect("the bus is judged")
    };
    let mut project = two_of_forty();
    let open = bus(&project);
    assert_eq!(open.outcome, Outcome::Unresolved, "{:?}", open.summary);
    assert_eq!(open.missing[0].pointer, "/electrical/panels/0/circuits_complete");
    project["electrical"]["panels"][0]["circuits_complete"] = json!(true);
    assert_eq!(bus(&project).outcome, Outcome::Complies);
    project["electrical"]["panels"][0]["circuits"][1]["overcurrent"] = json!("150 A");
    assert_eq!(bus(&project).outcome, Outcome::Correction);
}

/// Eleven things a plan names and says nothing more of.
const NAMED: [&str; 11] = [
    "furnace",
    "tankless-water-heater",
    "water-softener",
    "pressure-tank",
    "floor-drain",
    "panel",
    "inverter",
    "battery",
    "heat-recovery-ventilator",
    "gas-manifold",
    "exhaust-fan",
];

#[test]
fn eleven_named_things_are_each_asked_about() {
    let things: Vec<(&str, &str, &str)> = NAMED.iter().map(|kind| (*kind, *kind, "plant")).collect();
    let found = found(&rooms(&things));
    let silent = |(at, kind): &(usize, &&str)| !is_asked(&found, kind, &format!("/equipment/{at}"));
    let silent: Vec<&str> = NAMED.iter().enumerate().filter(silent).map(|(_, kind)| *kind).collect();
    assert!(silent.is_empty(), "nothing is asked of {silent:?}");
}
