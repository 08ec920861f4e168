//! "Not less than" and "not more than" are inclusive, and forgive conversion only.

use crate::quantity::*;

fn length(text: &str) -> Length {
    Length::parse(text).unwrap()
}

#[test]
fn three_feet_meet_thirty_six_inches() {
    assert_ne!(length("3 ft").si(), length("36 in").si(), "the floats differ; the amounts do not");
    for (a, b) in [("3 ft", "36 in"), ("30 in", "762 mm"), ("6 ft 6 in", "78 in")] {
        assert!(at_least(length(a), length(b)) && at_least(length(b), length(a)), "{a} {b}");
        assert!(at_most(&length(a), &length(b)) && at_most(&length(b), &length(a)), "{a} {b}");
    }
}

#[test]
fn a_shortfall_is_not_forgiven() {
    for short in ["35.9 in", "35 15/16 in", "35.999999 in"] {
        assert!(!at_least(length(short), length("3 ft")), "{short}");
        assert!(!at_most(length("3 ft"), length(short)), "{short}");
    }
}

#[test]
fn numbers_and_uom_quantities_are_held_against_each_other() {
    assert!(at_least(0.9144, 0.9144));
    assert!(at_most(length("3 ft").quantity(), length("36 in").quantity()));
}

#[test]
fn what_is_not_a_number_meets_no_limit() {
    for (actual, limit) in [(f64::NAN, 1.0), (1.0, f64::NAN), (f64::NAN, f64::NAN)] {
        assert!(!at_least(actual, limit) && !at_most(actual, limit));
    }
    assert!(at_least(f64::INFINITY, 1.0) && !at_most(f64::INFINITY, 1.0));
}

#[test]
fn quantities_calculate_in_their_dimensions() {
    // 140,000 Btu/h of a gas of 1,000 Btu/ft3 is 140 cubic feet per hour.
    let input = Power::parse("140,000 Btu/h").unwrap().quantity();
    let heating_value = HeatingValue::parse("1,000 Btu/ft³").unwrap().quantity();
    let flow = VolumeFlow::from_quantity(&(input / heating_value));
    assert_eq!(flow.print_in("cfh"), "140 cfh");
    // 100 ft2 of R-10 under 50 F° let 500 Btu/h through.
    let area = Area::parse("100 ft²").unwrap().quantity();
    let difference = TemperatureDifference::parse("50 F°").unwrap().quantity();
    let insulation = ThermalResistance::parse("R-10").unwrap().quantity();
    let loss: uom::si::f64::Power = area * difference / insulation;
    assert_eq!(Power::from_quantity(&loss).print(System::UsCustomary), "500 Btu/h");
}
