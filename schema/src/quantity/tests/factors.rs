//! Conversions against a units library that knows nothing of ours: pint 0.25.3 for Python, default registry.

use crate::quantity::*;

/// Amount, its kind, the number pint gives in our SI base unit.
const PINT: &[(&str, Kind, f64)] = &[
    ("3 ft 4.5 in", Kind::Length, 1.0287),
    ("2 mi", Kind::Length, 3218.688),
    ("35 in²", Kind::Area, 0.0225806),
    ("200 sq ft", Kind::Area, 18.580607999999998),
    ("250 kcmil", Kind::Area, 0.0001266768697743744),
    ("7,000 ft³", Kind::Volume, 198.21792614399996),
    ("50 gal", Kind::Volume, 0.18927058919999995),
    ("1 yd³", Kind::Volume, 0.764554857984),
    ("1/2 hp", Kind::Power, 745.6998715822701 / 2.0),
    ("0.5 in wc", Kind::Pressure, 124.54445499999999),
    ("10 ft of head", Kind::Pressure, 29890.669199999993),
    ("60 psi", Kind::Pressure, 413685.4375901018),
    ("30 psf", Kind::Pressure, 1436.4077694100758),
    ("1 atm", Kind::Pressure, 101325.0),
    ("1 cfh", Kind::VolumeFlow, 7.865790719999999e-6),
    ("150 cfm", Kind::VolumeFlow, 0.07079211647999999),
    ("8 gpm", Kind::VolumeFlow, 0.0005047215711999999),
    ("120 °F", Kind::Temperature, 322.0388888888889),
    ("-40 °C", Kind::Temperature, 233.14999999999998),
    ("70 F°", Kind::TemperatureDifference, 38.88888888888889),
    ("14.2 kWh", Kind::Energy, 51120000.0),
    ("1/4 in/ft", Kind::Slope, 0.020833333333333332),
    ("0.35 ACH", Kind::AirChangeRate, 9.722222222222222e-5),
    ("100 Ah", Kind::Charge, 360000.0),
    ("250 lb", Kind::Mass, 113.39809250000002),
    ("5 lb 8 oz", Kind::Mass, 2.4947580350000003),
    ("45°", Kind::Angle, std::f64::consts::FRAC_PI_4),
    ("1 yr", Kind::Duration, 31536000.0),
    ("8 ft/s", Kind::Velocity, 2.4383999999999997),
    ("55 mph", Kind::Velocity, 24.5872),
    ("15 gpg", Kind::Concentration, 0.2567709156790643),
];

/// pint takes the Btu as 1055.056 J; the International Table's definition is 1055.05585262 J (NIST SP 811).
const PINT_BTU: &[(&str, Kind, f64)] = &[
    ("199,000 Btu/h", Kind::Power, 58321.15111111111),
    ("1 ton", Kind::Power, 3516.8533333333335),
    ("1 therm", Kind::Energy, 105505600.0),
    ("1,000 Btu/ft³", Kind::HeatingValue, 37258951.01250688),
    ("91,500 Btu/gal", Kind::HeatingValue, 25502542261.859253),
    ("R-13", Kind::ThermalResistance, 2.2894320680608424),
];

fn assert_near(text: &str, kind: Kind, expected: f64, tolerance: f64) {
    let si = kind.parse(text).unwrap_or_else(|e| panic!("{text}: {e}"));
    let off = (si - expected).abs() / expected.abs();
    assert!(off <= tolerance, "{text}: {si}, pint has {expected}");
}

#[test]
fn agrees_with_pint() {
    for &(text, kind, expected) in PINT {
        assert_near(text, kind, expected, 1e-14);
    }
    for &(text, kind, expected) in PINT_BTU {
        assert_near(text, kind, expected, 1.4e-7);
    }
    // pint's mercury is not that of the seven digits uom has.
    assert_near("1 in Hg", Kind::Pressure, 3386.3886403409997, 2e-7);
}

#[test]
fn a_psi_is_27_68_inches_of_water() {
    let psi = Pressure::parse("1 psi").unwrap();
    // 27.67990471020313 in pint; trade tables round it to 27.7.
    assert_eq!(psi.print_in("in wc"), "27.68 in wc");
}

#[test]
fn amounts_written_in_two_exactly_defined_units_are_the_same() {
    let pairs = [
        (Kind::Length, "3 ft", "36 in"),
        (Kind::Length, "30 in", "762 mm"),
        (Kind::Length, "1 mi", "5,280 ft"),
        (Kind::Area, "1 ft²", "144 in²"),
        (Kind::Volume, "1 ft³", "1,728 in³"),
        (Kind::Volume, "1 gal", "231 in³"),
        (Kind::Volume, "1 yd³", "27 ft³"),
        (Kind::Power, "120,000 Btu/h", "120 MBH"),
        (Kind::Power, "1 ton", "12,000 Btu/h"),
        (Kind::Pressure, "1 psi", "144 psf"),
        (Kind::Pressure, "1 ft wc", "12 in wc"),
        (Kind::VolumeFlow, "1 cfm", "60 cfh"),
        (Kind::VolumeFlow, "1 gpm", "1,440 gpd"),
        (Kind::Temperature, "32 °F", "0 °C"),
        (Kind::Temperature, "212 °F", "373.15 K"),
        (Kind::TemperatureDifference, "9 F°", "5 K"),
        (Kind::Energy, "1 therm", "100,000 Btu"),
        (Kind::Slope, "1/4 in/ft", "1:48"),
        (Kind::Slope, "2 %", "20 mm/m"),
        (Kind::Ratio, "25 %", "1:4"),
        (Kind::Mass, "1 lb", "7,000 gr"),
        (Kind::Duration, "1 wk", "168 h"),
        (Kind::HeatingValue, "3.6 MJ/m³", "1 kWh/m³"),
        (Kind::ThermalResistance, "R-13", "13 h·ft²·°F/Btu"),
    ];
    for (kind, left, right) in pairs {
        let (a, b) = (kind.parse(left).unwrap(), kind.parse(right).unwrap());
        assert!((a - b).abs() <= 1e-15 * a.abs() * 4.0, "{left} = {a}, {right} = {b}");
    }
}
