use crate::quantity::*;

#[test]
fn smoke() {
    assert!(at_least(Length::parse("3 ft").unwrap(), Length::parse("36 in").unwrap()));
}
