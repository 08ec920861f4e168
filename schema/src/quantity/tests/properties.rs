//! Properties over many inputs.

use crate::quantity::*;
use proptest::prelude::*;

/// Any kind and any of its units.
fn kind_and_unit() -> impl Strategy<Value = (Kind, &'static Unit)> {
    prop::sample::select(Kind::ALL)
        .prop_flat_map(|kind| (Just(kind), prop::sample::select(kind.units().iter().collect::<Vec<_>>())))
}

/// A number of up to five significant digits, as text.
fn short_number() -> impl Strategy<Value = String> {
    (1_u32..=99_999, 0_usize..=6).prop_map(|(digits, decimals)| {
        let value = f64::from(digits) / 10_f64.powi(i32::try_from(decimals).unwrap());
        let text = format!("{value:.decimals$}");
        if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
    })
}

/// Texts made of what amounts are made of, so that many are amounts and many nearly are.
pub(super) fn amount_like() -> impl Strategy<Value = String> {
    let pieces = prop::sample::select(vec![
        "1", "36", "1,200", "0.25", "5/8", "3 1/2", "½", "-", "−", "+", " ", " ", "\u{a0}", "in", "ft", "'", "\"", "′", "″",
        "psi", "Btu/h", "°F", "F°", "%", ":", "/", "per", "wc", "R", "R-", "h", "min", "m³", "ft2", "k", ".", ",", "e3", "lb",
        "oz", "gpm", "A", "V", "Ω", "ACH", "gpg", "°", "\n", "\u{2028}", "é",
    ]);
    prop::collection::vec(pieces, 1..7).prop_map(|pieces| pieces.concat())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    #[test]
    fn five_digits_survive_reading_and_printing((kind, unit) in kind_and_unit(), number in short_number()) {
        let text = format!("{number} {}", unit.symbol());
        let si = kind.parse(&text).unwrap();
        let printed = kind.print(si, System::UsCustomary, Some(unit.symbol()));
        let again = kind.parse(&printed).unwrap();
        prop_assert!((again - si).abs() <= 1e-12 * si.abs(), "{} printed as {}", text, printed);
        prop_assert_eq!(kind.print(again, System::UsCustomary, Some(unit.symbol())), printed);
    }

    #[test]
    fn feet_and_inches_add_up(feet in 0_u32..1_000, inches in 0_u32..12, sixteenths in 1_u32..16, mark in 0_usize..4) {
        let text = match mark {
            0 => format!("{feet} ft {inches} {sixteenths}/16 in"),
            1 => format!("{feet}'-{inches} {sixteenths}/16\""),
            2 => format!("{feet}′ {inches}-{sixteenths}/16″"),
            _ => format!("{feet}ft{inches} {sixteenths}/16in"),
        };
        let expected = f64::from(feet * 12 * 16 + inches * 16 + sixteenths) / 16.0 * 0.0254;
        let si = Length::parse(&text).unwrap().si();
        prop_assert!((si - expected).abs() <= 1e-14 * expected, "{}", text);
        prop_assert_eq!(Position::parse(&format!("-{text}")).unwrap().si(), -si);
    }

    #[test]
    fn thousands_separators_change_nothing(number in 1_u64..10_000_000_000) {
        let plain = Kind::Energy.parse(&format!("{number} J")).unwrap();
        let printed = Kind::Energy.print(plain, System::Si, Some("J"));
        prop_assert_eq!(Kind::Energy.parse(&printed).unwrap(), plain);
    }

    #[test]
    fn any_text_is_read_or_refused_in_its_bounds(kind in prop::sample::select(Kind::ALL), text in amount_like()) {
        check_refusal(kind, &text)?;
    }

    #[test]
    fn any_unicode_is_read_or_refused_in_its_bounds(kind in prop::sample::select(Kind::ALL), text in "\\PC{0,30}") {
        check_refusal(kind, &text)?;
    }

    #[test]
    fn canonical_objects_survive_json(si in 0.0..1e12_f64, number in short_number()) {
        for amount in [Length::from_si(si), Length::parse(&format!("{number} in")).unwrap()] {
            let json = serde_json::to_string(&amount).unwrap();
            prop_assert_eq!(serde_json::from_str::<Length>(&json).unwrap(), amount);
        }
    }

    #[test]
    fn at_least_mirrors_at_most(a in -1e6..1e6_f64, b in -1e6..1e6_f64) {
        prop_assert_eq!(at_least(a, b), at_most(b, a));
        prop_assert!(at_least(a, b) || at_most(a, b));
        prop_assert!(at_least(a, a) && at_most(a, a));
    }
}

fn check_refusal(kind: Kind, text: &str) -> Result<(), TestCaseError> {
    match kind.parse(text) {
        Ok(si) => prop_assert!(si.is_finite() && (si >= 0.0 || kind.may_be_negative())),
        Err(error) => {
            prop_assert!(text.get(error.range()).is_some(), "{:?} in {:?}", error, text);
            prop_assert!(!error.to_string().is_empty());
        }
    }
    Ok(())
}

#[cfg(feature = "json-schema")]
mod schema {
    use super::*;
    use jsonschema::Validator;
    use schemars::JsonSchema;
    use serde_json::{Value, json};

    fn pattern(kind: Kind) -> Validator {
        jsonschema::validator_for(&json!({"type": "string", "pattern": kind.pattern()})).unwrap()
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(300))]

        #[test]
        fn the_pattern_lets_every_amount_through(texts in prop::collection::vec(amount_like(), 50)) {
            for &kind in Kind::ALL {
                let pattern = pattern(kind);
                for text in texts.iter().filter(|text| kind.parse(text).is_ok()) {
                    prop_assert!(pattern.is_valid(&json!(text)), "{} {:?}", kind, text);
                }
            }
        }
    }

    #[test]
    fn the_pattern_lets_examples_through_and_stops_bare_numbers() {
        for &kind in Kind::ALL {
            let pattern = pattern(kind);
            for example in kind.examples() {
                assert!(pattern.is_valid(&json!(example)), "{example}");
            }
            assert!(!pattern.is_valid(&json!("wide")), "{kind}");
            assert_eq!(pattern.is_valid(&json!("36")), kind == Kind::Ratio, "{kind}");
        }
    }

    #[derive(JsonSchema)]
    #[expect(dead_code, reason = "only its schema is asked for")]
    struct Door {
        /// Clear width of the opening.
        width: Option<Length>,
        height: Length,
    }

    #[test]
    fn a_field_keeps_its_own_description() {
        let schema: Value = schemars::schema_for!(Door).into();
        let width = &schema["properties"]["width"];
        assert_eq!(width["description"], "Clear width of the opening.");
        assert_eq!(width["x-dimension"], "length");
        assert_eq!(width["type"], json!(["string", "null"]));
        let height = &schema["properties"]["height"];
        assert_eq!(height["description"], "A length, such as \"36 in\" or \"6 ft 8 in\".");
        assert_eq!(height["examples"][0], "36 in");
        assert!(schema.get("$defs").is_none(), "amounts are inline");
    }
}
