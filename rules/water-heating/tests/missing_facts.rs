//! A fact that is taken away never cures: with any one fact of the water gone from a demo house, nothing that was broken complies,
//! nothing panics, and no amount is no number.

use redtag_water_heating::MODULE;

const HOUSES: [&str; 2] =
    [include_str!("../../../examples/houses/boatyard.json"), include_str!("../../../examples/houses/town-duplex.json")];

/// The parts the rules of this family read, without those that only make the file long.
fn short(text: &str) -> redtag_rule::Value {
    let mut house: redtag_rule::Value = serde_json::from_str(text).unwrap();
    let map = house.as_object_mut().unwrap();
    map.retain(|part, _| ["schema", "water", "equipment", "site", "building"].contains(&part.as_str()));
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
    let (mut broken, mut unresolved) = (0, 0);
    for text in HOUSES {
        let found = redtag_rule::testing::missing_facts_never_cure(&MODULE, &short(text), &["water", "equipment", "site"], &[]);
        (broken, unresolved) = (broken + found.0, unresolved + found.1);
    }
    assert!(broken > 0, "nothing is broken in these houses: the test shows nothing");
    assert!(unresolved > 20, "only {unresolved} facts are missed");
}
