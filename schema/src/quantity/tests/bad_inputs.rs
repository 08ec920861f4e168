//! What is refused, in which words, and where in the text the blame lies.

use crate::quantity::*;

/// A kind, a text, the message, the part of the text it is about.
const REFUSED: &[(Kind, &str, &str, &str)] = &[
    (Kind::Length, "36", "36 has no unit: write \"36 in\", \"36 ft\" or \"36 mm\"", "36"),
    (Kind::Length, "6' 8", "8 has no unit: write \"8 in\", \"8 ft\" or \"8 mm\"", "8"),
    (Kind::ThermalResistance, "13", "13 has no unit: write \"R-13\", \"13 ft²·h·°F/Btu\" or \"13 m²·K/W\"", "13"),
    (Kind::Ratio, "25", "25 has no unit: write \"25 %\" or \"25:1\"", "25"),
    (Kind::Length, "36 psi", "\"36 psi\" is a pressure; a length is wanted, such as \"36 in\"", "psi"),
    (Kind::Area, "6'8\"", "\"6'8\"\" is a length; an area is wanted, such as \"35 in²\"", "'"),
    (Kind::Length, "1:4", "\"1:4\" is a ratio; a length is wanted, such as \"36 in\"", ":4"),
    (Kind::ApparentPower, "1,500 W", "\"1,500 W\" is a power; an apparent power is wanted, such as \"1,500 VA\"", "W"),
    (Kind::Pressure, "7 in", "\"7 in\" is a length; a pressure is wanted, such as \"7 in wc\"", "in"),
    (Kind::Length, "36 inn", "\"inn\" is not a known unit (did you mean \"in\"?); a length is wanted, such as \"36 in\"", "inn"),
    (
        Kind::Power,
        "120,000 Btu/hh",
        "\"Btu/hh\" is not a known unit (did you mean \"Btu/h\"?); a power is wanted, such as \"120,000 Btu/h\"",
        "Btu/hh",
    ),
    (Kind::Length, "36 furlongs", "\"furlongs\" is not a known unit; a length is wanted, such as \"36 in\"", "furlongs"),
    (
        Kind::Area,
        "12 AWG",
        "\"AWG\" cannot be read as a unit: a wire size is a name, not an amount; an area is wanted, such as \"35 in²\"",
        "AWG",
    ),
    (
        Kind::AirChangeRate,
        "5 ACH50",
        "\"ACH50\" cannot be read as a unit: ACH50 is the result of a test at 50 Pa; write ACH in the field for that test; \
         an air change rate is wanted, such as \"0.35 ACH\"",
        "ACH50",
    ),
    (
        Kind::Power,
        "120 MBtu/h",
        "\"MBtu/h\" cannot be read as a unit: some read a thousand, others a million; write kBtu or MMBtu; a power is \
         wanted, such as \"120,000 Btu/h\"",
        "MBtu/h",
    ),
    (Kind::Length, "about 36 in", "\"about 36 in\" is not a number; a length is wanted, such as \"36 in\"", "about 36 in"),
    (Kind::Length, "NaN in", "\"NaN in\" is not a number; a length is wanted, such as \"36 in\"", "NaN in"),
    (Kind::Length, "inf in", "\"inf in\" is not a number; a length is wanted, such as \"36 in\"", "inf in"),
    (Kind::Length, "", "nothing is written here; a length is wanted, such as \"36 in\"", ""),
    (Kind::Length, "  ", "nothing is written here; a length is wanted, such as \"36 in\"", "  "),
    (Kind::Length, "9e999 in", "\"9e999\" cannot be read as a number: write powers of ten out, such as 1,000 for 1e3", "9e999"),
    (
        Kind::Length,
        "1.5E+3 mm",
        "\"1.5E+3\" cannot be read as a number: write powers of ten out, such as 1,000 for 1e3",
        "1.5E+3",
    ),
    (
        Kind::Power,
        "12,00 Btu/h",
        "\"12,00\" cannot be read as a number: a comma parts thousands, as in 120,000; a point begins the decimals, as in \
         0.35",
        "12,00",
    ),
    (
        Kind::AirChangeRate,
        "0,350 ACH",
        "\"0,350\" cannot be read as a number: a comma parts thousands, as in 120,000; a point begins the decimals, as in \
         0.35",
        "0,350",
    ),
    (
        Kind::Power,
        "120 000 Btu/h",
        "\"120 000\" cannot be read as a number: write one number, such as 36, 1,200.5, 5/8 or 3 1/2",
        "120 000",
    ),
    (
        Kind::Length,
        "30-36 in",
        "\"30-36\" cannot be read as a number: write one number, such as 36, 1,200.5, 5/8 or 3 1/2",
        "30-36",
    ),
    (
        Kind::Length,
        "1.2.3 m",
        "\"1.2.3\" cannot be read as a number: write one number, such as 36, 1,200.5, 5/8 or 3 1/2",
        "1.2.3",
    ),
    (Kind::Length, "1/0 in", "\"1/0\" cannot be read as a number: nothing can be divided by zero", "1/0"),
    (
        Kind::Length,
        "3 5/4 in",
        "\"3 5/4\" cannot be read as a number: the fraction after a whole number must be less than one",
        "3 5/4",
    ),
    (Kind::Length, "-36 in", "\"-36 in\" is below zero, which a length cannot be", "-36 in"),
    (Kind::Ratio, "-25 %", "\"-25 %\" is below zero, which a ratio cannot be", "-25 %"),
    (Kind::Temperature, "-460 °F", "\"-460 °F\" is below absolute zero (-459.67 °F, -273.15 °C)", "-460 °F"),
    (Kind::Length, "6 ft 14 in", "\"6 ft 14 in\" does not add up: the in come to one ft or more", "6 ft 14 in"),
    (
        Kind::Length,
        "6.5 ft 2 in",
        "\"6.5 ft 2 in\" does not add up: only the last part may have a fraction, and ft is not the last",
        "6.5 ft 2 in",
    ),
    (Kind::Length, "8 in 6 ft", "\"8 in 6 ft\" does not add up: in cannot be followed by ft", "8 in 6 ft"),
    (Kind::Power, "3 kW 200 W", "\"3 kW 200 W\" does not add up: a power is written with one number and one unit", "3 kW 200 W"),
    (Kind::Slope, "1:0", "\"1:0\" cannot be read as a number: nothing can be divided by zero", "0"),
    (Kind::Length, "36 in,", "\"in,\" is not a known unit (did you mean \"in\"?); a length is wanted, such as \"36 in\"", "in,"),
    (
        Kind::Power,
        "5 mW",
        "\"mW\" is not a known unit (did you mean \"MW\"?); a power is wanted, such as \"120,000 Btu/h\"",
        "mW",
    ),
];

#[test]
fn messages_and_places() {
    for (kind, text, message, place) in REFUSED {
        let error = kind.parse(text).err().unwrap_or_else(|| panic!("{text} was read"));
        assert_eq!(&error.to_string(), message);
        assert_eq!(&text[error.range()], *place, "{text}");
    }
}

#[test]
fn a_unit_is_not_guessed_from_half_of_one() {
    for text in ["36 in/", "36 in per", "36 in//ft", "36 /in", "36 in in", "36 in ft", "36 of", "36 m in", "1/4 in/12 in"] {
        assert!(Kind::Length.parse(text).is_err() && Kind::Slope.parse(text).is_err(), "{text}");
    }
}

#[test]
fn long_texts_are_refused() {
    let error = Length::parse(&format!("{} in", "9".repeat(400))).unwrap_err();
    assert!(matches!(error, QuantityError::TooLong { .. }));
}

#[test]
fn control_characters_are_no_spaces() {
    assert!(Length::parse("36\tin").is_err());
    assert!(Length::parse("36\nin").is_err());
}

#[test]
fn only_what_can_be_negative_may_be() {
    let negative: Vec<Kind> = Kind::ALL.iter().copied().filter(|kind| kind.may_be_negative()).collect();
    let expected = [Kind::Position, Kind::Temperature, Kind::TemperatureDifference, Kind::Slope, Kind::Angle];
    assert_eq!(negative, expected);
    for kind in Kind::ALL {
        let text = format!("-1 {}", kind.units()[0].symbol());
        assert_eq!(kind.parse(&text).is_ok(), kind.may_be_negative(), "{text}");
    }
}
