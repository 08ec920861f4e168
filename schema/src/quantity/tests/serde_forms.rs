//! The author's string, the canonical object, and what is neither.

use crate::quantity::*;
use serde_json::{Value, from_value, json, to_value};

fn error(value: Value) -> String {
    from_value::<Length>(value).unwrap_err().to_string()
}

#[test]
fn a_string_becomes_the_canonical_object() {
    let length: Length = from_value(json!("36 in")).unwrap();
    let canonical = json!({"si": 0.9144, "unit": "m", "written": "36 in"});
    assert_eq!(to_value(&length).unwrap(), canonical);
    assert_eq!(from_value::<Length>(canonical).unwrap(), length);
}

#[test]
fn what_was_calculated_has_no_words() {
    let volume = Volume::from_si(2.5);
    assert_eq!(to_value(&volume).unwrap(), json!({"si": 2.5, "unit": "m³"}));
}

#[test]
fn fields_of_a_later_version_are_passed_over() {
    let value = json!({"si": 1.0, "unit": "m", "written": "1 m", "tolerance": 0.1});
    assert_eq!(from_value::<Length>(value).unwrap().written(), Some("1 m"));
}

#[test]
fn bare_numbers_are_refused_with_the_units_they_could_have_been() {
    let expected = "36 has no unit: write \"36 in\", \"36 ft\" or \"36 mm\"";
    assert_eq!(error(json!(36)), expected);
    assert_eq!(error(json!(-36)), expected.replace("36", "-36"));
    assert_eq!(error(json!(3.5)), expected.replace("36", "3.5"));
    assert!(from_value::<Ratio>(json!(0.25)).is_err());
}

#[test]
fn other_json_is_refused_with_an_example() {
    let message = error(json!(true));
    assert!(message.contains("a length in quotation marks, such as \"36 in\""), "{message}");
    assert!(error(json!(["36 in"])).contains("a length in quotation marks"));
    assert!(error(json!({"unit": "m"})).contains("missing field `si`"));
}

#[test]
fn a_canonical_object_is_checked() {
    assert!(error(json!({"si": -1.0, "unit": "m"})).contains("\"-1 m\" is below zero"));
    assert!(error(json!({"si": 1.0, "unit": "ft"})).contains("the unit of a length here is \"m\", not \"ft\""));
    assert!(from_value::<Position>(json!({"si": -1.0, "unit": "m"})).is_ok());
    assert!(from_value::<Temperature>(json!({"si": -1.0, "unit": "K"})).is_err());
}

#[test]
fn what_is_not_finite_is_not_written() {
    for number in [f64::NAN, f64::INFINITY] {
        assert!(to_value(Length::from_si(number)).is_err());
    }
}

#[test]
fn kinds_are_kebab_case() {
    for kind in Kind::ALL {
        assert_eq!(to_value(kind).unwrap(), json!(kind.name()));
        assert_eq!(from_value::<Kind>(json!(kind.name())).unwrap(), *kind);
    }
    assert_eq!(to_value(System::UsCustomary).unwrap(), json!("us-customary"));
}
