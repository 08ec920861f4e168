//! All families are here, and the demo houses leave no list unsaid.

use redtag_families_tests::{FAMILIES, houses, review, root};
use redtag_rule::schema::contract::{Finding, Outcome};
use redtag_rule::schema::quantity::System;
use std::collections::BTreeSet;

#[test]
fn every_family_is_linked() {
    let folders = std::fs::read_dir(root().join("rules")).expect("rules/").map(|entry| entry.expect("an entry").path());
    let named = folders.filter(|folder| folder.join("src/rules").is_dir());
    let there: BTreeSet<String> =
        named.map(|folder| folder.file_name().unwrap_or_default().to_string_lossy().into_owned()).collect();
    let linked: BTreeSet<String> = FAMILIES
        .iter()
        .map(|(module, folder)| {
            assert_eq!(module.name, *folder);
            (*folder).to_owned()
        })
        .collect();
    assert_eq!(there, linked, "add the family to tests/families");
}

/// Houses that show one trade, and what they do not say of the others: to write that there are none would be false.
const ONE_TRADE: [&str; 3] = ["manifold", "space-room", "board-room"];
const OF_OTHERS: [&str; 5] = ["/valves", "/vents", "/relief", "/receptacles", "/alarms"];

#[test]
fn no_demo_house_leaves_a_list_unsaid() {
    for (name, house) in houses() {
        let found = review(&house).unwrap_or_else(|| panic!("{name} does not read"));
        let asked: BTreeSet<&str> =
            found.iter().filter(|finding| finding.asks_for_list()).map(|finding| finding.missing[0].pointer.as_str()).collect();
        let one_trade = ONE_TRADE.iter().any(|house| name.starts_with(house));
        let left_out = |list: &&str| one_trade && OF_OTHERS.iter().any(|of_others| list.ends_with(of_others));
        let asked: BTreeSet<&str> = asked.into_iter().filter(|list| !left_out(list)).collect();
        assert!(asked.is_empty(), "{name} does not say {asked:?}; [] says that there are none");
    }
}

#[test]
fn the_corrected_boatyard_has_nothing_to_correct_and_nothing_unsaid() {
    let (_, house) = houses().into_iter().find(|(name, _)| name == "boatyard-corrected.json").expect("the house");
    let found = review(&house).expect("it reads");
    let open = found.iter().filter(|finding| matches!(finding.outcome, Outcome::Correction | Outcome::Unresolved));
    let told = |finding: &Finding| {
        let missing: Vec<&str> = finding.missing.iter().map(|missing| missing.pointer.as_str()).collect();
        let about = finding.subject.id.as_deref().unwrap_or(&finding.subject.pointer);
        format!("{} about {about}: {} {missing:?}", finding.rule, finding.summary.print(System::UsCustomary))
    };
    let open: Vec<String> = open.map(told).collect();
    assert!(open.is_empty(), "{} findings:\n{}", open.len(), open.join("\n"));
}
