//! What people write, and that all ways to write one amount give one amount.

use crate::quantity::Kind;

/// A kind, one amount as the shortest text, other texts for it.
const SAME: &[(Kind, &str, &[&str])] = &[
    (
        Kind::Length,
        "80 in",
        &[
            "6 ft 8 in",
            "6'8\"",
            "6'-8\"",
            "6' 8\"",
            "6' - 8\"",
            "6 ft, 8 in.",
            "6ft8in",
            "6 ft-8 in",
            "6′8″",
            "6’8”",
            "6\u{a0}ft\u{202f}8\u{a0}in",
            "6 feet 8 inches",
            "80\"",
            "80''",
            "80 IN",
            "6 FT 8 IN",
            "6 2/3 ft",
            "6⅔ ft",
            "  80 in  ",
            "+80 in",
            "80 inches",
            "80. in",
            "2,032 mm",
            "203.2 cm",
            "2.032 m",
            "2.032 metres",
            "2032 MM",
        ],
    ),
    (
        Kind::Length,
        "102.5 in",
        &["8'-6 1/2\"", "8' 6-1/2\"", "8 ft 6½ in", "8 ft 6 ½ in", "8 ft 6.5 in", "102 1/2 in", "102-1/2\"", "102 1⁄2 in"],
    ),
    (Kind::Length, "0.625 in", &["5/8 in", "5/8\"", "⅝ in", "10/16 in", ".625 in", "5/8-in"]),
    (Kind::Position, "-18 in", &["-1 ft 6 in", "−1'-6\"", "- 18 in", "–18 in", "-1 1/2 ft", "-1.5 feet"]),
    (Kind::Area, "35 in²", &["35 in2", "35 in^2", "35 sq in", "35 sq. in.", "35 square inches", "35 SQ IN", "35 square inch"]),
    (Kind::Area, "200 ft²", &["200 sf", "200 SF", "200 square feet", "200 ft2", "200 sq. ft."]),
    (Kind::Volume, "7,000 ft³", &["7000 ft3", "7,000 ft^3", "7,000 cu ft", "7,000 cu. ft.", "7,000.0 cubic feet", "7,000 CF"]),
    (Kind::Volume, "50 gal", &["50 gallons", "50 GAL", "50 gal."]),
    (Kind::Volume, "200 L", &["200 l", "200 liters", "200 litres", "0.2 m3", "0.2 m³", "200,000 mL"]),
    (
        Kind::Power,
        "120,000 Btu/h",
        &[
            "120000 Btu/h",
            "120,000 BTU/hr",
            "120,000 Btuh",
            "120,000 BTUH",
            "120k Btu/h",
            "120 k Btu/h",
            "120K Btu/h",
            "120 kBtu/h",
            "120 kBtuh",
            "120 MBH",
            "120 mbh",
            "120,000 Btu per hour",
            "120,000 btu / hr",
            "0.12 MMBtu/h",
            "120kBTU/h",
            "10 tons",
        ],
    ),
    (Kind::Power, "9.6 kW", &["9,600 W", "9.6 KW", "9.6 kilowatts", "9.6k W", "9600 watts"]),
    (Kind::Power, "1/2 hp", &["0.5 HP", "½ hp", "0.5 horsepower"]),
    (Kind::ApparentPower, "1,500 VA", &["1.5 kVA", "1.5 KVA", "1500 volt-amps", "1500 V·A"]),
    (
        Kind::Pressure,
        "7 in wc",
        &[
            "7 in w.c.",
            "7 inwc",
            "7 inH2O",
            "7 in H2O",
            "7 in. H₂O",
            "7 in. w.c.",
            "7\" w.c.",
            "7\" WC",
            "7 inches of water",
            "7 inches water column",
            "7 in wg",
            "7 IN. W.C.",
            "7 inches of water column",
            "7\"wc",
        ],
    ),
    (Kind::Pressure, "60 psi", &["60 PSI", "60 psig", "60 lb/in²", "60 lbs per sq in", "60 pounds per square inch"]),
    (Kind::Pressure, "30 psf", &["30 lb/ft2", "30 PSF", "30 lb per sq ft"]),
    (Kind::Pressure, "10 ft wc", &["10 ft of head", "10 feet of head", "10 ft head", "10 ft of water", "120 in wc"]),
    (Kind::VolumeFlow, "150 cfm", &["150 CFM", "150 ft3/min", "150 ft³/min", "150 cubic feet per minute", "9,000 cfh"]),
    (Kind::VolumeFlow, "100 cfh", &["100 ft³/h", "100 ft3/hr", "100 CFH", "100 cu ft/h"]),
    (Kind::VolumeFlow, "8 gpm", &["8 GPM", "8 gal/min", "8 gallons per minute", "480 gph", "11,520 gpd"]),
    (Kind::VolumeFlow, "30 L/s", &["1,800 L/min", "108 m3/h", "0.03 m³/s", "30 litres per second", "1800 lpm"]),
    (Kind::Temperature, "-5 °F", &["-5 F", "-5°F", "-5 degF", "-5 deg F", "-5 degrees Fahrenheit", "−5℉", "-5 ºF"]),
    (Kind::Temperature, "49 °C", &["49 C", "49°C", "49 celsius", "322.15 K", "49 degC"]),
    (Kind::TemperatureDifference, "72 F°", &["72 °F", "72 F", "40 K", "40 °C", "40 C°", "72 deg F"]),
    (Kind::Energy, "14.2 kWh", &["14.2 KWH", "14.2 kW·h", "14.2 kW-h", "14,200 Wh", "51.12 MJ", "14.2 kilowatt-hours"]),
    (
        Kind::Slope,
        "1/4 in/ft",
        &["1/4 in per ft", "1/4\" per ft", "1/4\"/ft", "¼ in/ft", "0.25 inch per foot", "1:48", "1/4:12", "1 : 48"],
    ),
    (Kind::Slope, "-2 %", &["-20 mm/m", "-2 cm/m", "-2 percent", "-1:50", "-2%"]),
    (Kind::Ratio, "25 %", &["25%", "0.25", ".25", "1:4", "1/4", "¼", "25 percent", "25 per cent", "25 pct"]),
    (Kind::Ratio, "152 %", &["1.52", "1.52:1"]),
    (Kind::AirChangeRate, "0.35 ACH", &["0.35 ach", "0.35 /h", "0.35/h", "0.35 air changes per hour", "0.35 per hour"]),
    (Kind::Current, "20 A", &["20 amps", "20 Amp", "20 amperes", "20,000 mA", "20A", "0.02 kA"]),
    (Kind::Voltage, "240 V", &["240 volts", "240 v", "0.24 kV", "240 VAC", "240 V ac"]),
    (Kind::Charge, "100 Ah", &["100 A·h", "100 amp-hours", "100 amp hours", "100,000 mAh", "100 AH"]),
    (Kind::Mass, "5.5 lb", &["5 lb 8 oz", "5 1/2 pounds", "5.5 lbs", "88 oz"]),
    (Kind::Angle, "22.5°", &["22 1/2°", "22.5 deg", "22.5 degrees", "22½ °"]),
    (Kind::Duration, "90 min", &["1 h 30 min", "1.5 h", "1 1/2 hours", "5,400 s", "1 hr, 30 minutes"]),
    (Kind::Duration, "30 d", &["30 days", "720 h"]),
    (Kind::HeatingValue, "1,000 Btu/ft³", &["1,000 Btu/ft3", "1000 BTU per cubic foot", "1,000 Btu/cu ft", "1,000 Btu/cf"]),
    (Kind::Velocity, "8 ft/s", &["8 fps", "480 fpm", "480 ft/min", "8 feet per second"]),
    (
        Kind::ThermalResistance,
        "R-13",
        &["R13", "R 13", "r-13", "13 ft2 F h/Btu", "13 ft²·h·°F/Btu", "13 h ft² °F / Btu", "13 R", "13 hr·ft2·F/Btu"],
    ),
    (Kind::Resistance, "25 ohm", &["25 ohms", "25 Ω", "25 \u{2126}", "0.025 kΩ", "25,000 mohm", "0.000025 MOHM"]),
    (Kind::Frequency, "60 Hz", &["60 hz", "60 hertz", "0.06 kHz"]),
    (Kind::Concentration, "15 gpg", &["15 grains per gallon", "15 gr/gal", "15 GPG"]),
    (Kind::Concentration, "250 mg/L", &["250 ppm", "250 mg/l", "0.25 g/L", "0.25 kg/m3"]),
];

#[test]
fn ways_to_write_one_amount_agree() {
    for (kind, first, others) in SAME {
        let expected = kind.parse(first).unwrap_or_else(|e| panic!("{first}: {e}"));
        for text in *others {
            let si = kind.parse(text).unwrap_or_else(|e| panic!("{text}: {e}"));
            assert!((si - expected).abs() <= 1e-14 * expected.abs(), "{text} = {si}, {first} = {expected}");
        }
    }
}

#[test]
fn examples_are_read() {
    for kind in Kind::ALL {
        for text in kind.examples() {
            kind.parse(text).unwrap_or_else(|e| panic!("{text}: {e}"));
        }
    }
}

#[test]
fn every_unit_is_read_by_its_symbol() {
    for kind in Kind::ALL {
        for unit in kind.units() {
            let si = kind.parse(&format!("300 {}", unit.symbol())).unwrap();
            assert_eq!(si, unit.to_si(300.0), "{kind} in {}", unit.symbol());
        }
    }
}

#[test]
fn minus_zero_is_zero() {
    let si = Kind::Length.parse("-0 in").unwrap();
    assert!(si == 0.0 && si.is_sign_positive());
}
