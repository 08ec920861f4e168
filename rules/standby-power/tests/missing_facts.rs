//! A fact that is taken away never cures: with any one of the facts this family reads gone from a demo house, nothing that was
//! broken complies, nothing panics, and no amount is no number.

use redtag_standby_power::MODULE;

const HOUSES: [&str; 1] = [include_str!("../../../examples/houses/power-room.json")];

#[test]
fn a_missing_fact_never_cures() {
    let (mut broken, mut unresolved) = (0, 0);
    for house in HOUSES {
        let house = serde_json::from_str(house).unwrap();
        let found = redtag_rule::testing::missing_facts_never_cure(&MODULE, &house, &["electrical"], &[]);
        (broken, unresolved) = (broken + found.0, unresolved + found.1);
    }
    assert!(broken > 0, "nothing is broken in these houses: the test shows nothing");
    assert!(unresolved > 5, "only {unresolved} facts are missed");
}
