//! What reports print.

use crate::quantity::*;

fn us(kind: Kind, text: &str, unit: Option<&str>) -> String {
    kind.print(kind.parse(text).unwrap(), System::UsCustomary, unit)
}

fn si(kind: Kind, text: &str) -> String {
    kind.print(kind.parse(text).unwrap(), System::Si, None)
}

#[test]
fn us_customary_comes_out_as_the_trade_writes_it() {
    let cases = [
        (Kind::Length, "3 ft", "36 in"),
        (Kind::Length, "5/8 in", "0.625 in"),
        (Kind::Length, "914 mm", "35.984 in"),
        (Kind::Position, "-18 in", "-1.5 ft"),
        (Kind::Area, "35 in²", "0.24306 ft²"),
        (Kind::Volume, "7,000 ft3", "7,000 ft³"),
        (Kind::Power, "140 MBH", "140,000 Btu/h"),
        (Kind::Power, "131,073 Btu/h", "131,073 Btu/h"),
        (Kind::Power, "123,456,789 Btu/h", "123,456,789 Btu/h"),
        (Kind::ApparentPower, "9.6 kVA", "9,600 VA"),
        (Kind::Pressure, "11 inH2O", "11 in wc"),
        (Kind::VolumeFlow, "150 cfm", "150 cfm"),
        (Kind::Temperature, "0 °F", "0 °F"),
        (Kind::Temperature, "-5 °F", "-5 °F"),
        (Kind::Temperature, "49 °C", "120.2 °F"),
        (Kind::TemperatureDifference, "70 °F", "70 F°"),
        (Kind::Energy, "14.2 kWh", "14.2 kWh"),
        (Kind::Slope, "1:48", "0.25 in/ft"),
        (Kind::Ratio, "1:3", "33.333 %"),
        (Kind::AirChangeRate, "0.35 /h", "0.35 ACH"),
        (Kind::Angle, "22.5 deg", "22.5°"),
        (Kind::Duration, "90 s", "90 s"),
        (Kind::Duration, "90 min", "90 min"),
        (Kind::Duration, "36 h", "36 h"),
        (Kind::Duration, "30 d", "30 d"),
        (Kind::HeatingValue, "1,000 Btu/ft3", "1,000 Btu/ft³"),
        (Kind::ThermalResistance, "R13", "R-13"),
        (Kind::Concentration, "15 gpg", "15 gpg"),
    ];
    for (kind, text, expected) in cases {
        assert_eq!(us(kind, text, None), expected);
    }
}

#[test]
fn si_on_request() {
    let cases = [
        (Kind::Length, "36 in", "914.4 mm"),
        (Kind::Area, "2 ft²", "0.18581 m²"),
        (Kind::Area, "1 ft²", "929.03 cm²"),
        (Kind::Area, "35 in²", "225.81 cm²"),
        (Kind::Area, "0.0069 in²", "4.4516 mm²"),
        (Kind::Area, "0 in²", "0 m²"),
        (Kind::Volume, "7,000 ft3", "198.22 m³"),
        (Kind::Power, "199,000 Btu/h", "58.321 kW"),
        (Kind::Pressure, "7 in wc", "1.7436 kPa"),
        (Kind::VolumeFlow, "8 gpm", "0.50472 L/s"),
        (Kind::Temperature, "120 °F", "48.889 °C"),
        (Kind::ThermalResistance, "R-13", "2.2894 m²·K/W"),
        (Kind::HeatingValue, "1,000 Btu/ft³", "37.259 MJ/m³"),
        (Kind::AirChangeRate, "0.35 ACH", "0.35 /h"),
    ];
    for (kind, text, expected) in cases {
        assert_eq!(si(kind, text), expected);
    }
}

#[test]
fn a_unit_may_be_asked_for() {
    assert_eq!(us(Kind::Area, "1 ft²", Some("in²")), "144 in²");
    assert_eq!(us(Kind::Area, "1 ft²", Some("sq in")), "144 in²");
    assert_eq!(us(Kind::Volume, "50 gal", Some("gal")), "50 gal");
    assert_eq!(us(Kind::Pressure, "1 psi", Some("in wc")), "27.68 in wc");
    assert_eq!(us(Kind::Length, "3 ft", Some("psi")), "36 in", "a unit of another kind is passed over");
}

#[test]
fn digits() {
    let print = |value| Kind::Current.print(value, System::Si, None);
    assert_eq!(print(0.0), "0 A");
    assert_eq!(print(-0.0), "0 A");
    assert_eq!(print(9.99999), "10 A");
    assert_eq!(print(1234.56), "1,234.6 A");
    assert_eq!(print(12_345.6), "12,346 A");
    assert_eq!(print(131_072.6), "131,073 A");
    assert_eq!(print(0.000_123_456), "0.00012346 A");
    assert_eq!(print(1.5e20), "1.5000e20 A");
    assert_eq!(print(1e-12), "1.0000e-12 A");
    assert_eq!(print(f64::NAN), "not a number A");
}

#[test]
fn traces_of_subtraction_are_zero_where_sizes_may_be_negative() {
    assert_eq!(Kind::Position.print(-1e-17, System::UsCustomary, None), "0 ft");
}

#[test]
fn an_amount_just_short_of_its_limit_prints_apart_from_it() {
    let inch = |value: f64| value * 0.0254;
    let apart = |a, b| Kind::Length.print_apart(inch(a), inch(b), System::UsCustomary, None);
    assert_eq!(apart(35.9999, 36.0), ("35.9999 in".into(), "36 in".into()));
    assert_eq!(apart(30.0, 36.0), ("30 in".into(), "36 in".into()));
    assert_eq!(apart(36.0 * (1.0 + 1e-15), 36.0), ("36 in".into(), "36 in".into()));
    // One unit for both, though alone 130 s would be minutes.
    let times = Kind::Duration.print_apart(130.0, 60.0, System::UsCustomary, None);
    assert_eq!(times, ("130 s".into(), "60 s".into()));
}

#[test]
fn authors_words_come_first() {
    assert_eq!(Length::parse(" 6'-8\" ").unwrap().to_string(), "6'-8\"");
    assert_eq!(Length::from_si(0.9144).to_string(), "36 in");
    assert_eq!(format!("{:?}", Length::parse("1 m").unwrap()), "1 m (\"1 m\")");
}
