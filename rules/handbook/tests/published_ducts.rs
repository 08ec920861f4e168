//! Figures of ducts against published tables and worked examples.

use redtag_handbook::ducts::*;
use redtag_handbook::units::{
    cubic_feet_per_minute, feet, in_cubic_feet_per_minute, in_inches_of_water, inches, inches_of_water,
};
use redtag_schema::quantity::ThermalInsulance;
use uom::si::f64::Ratio;
use uom::si::ratio::percent;
use uom::si::velocity::foot_per_minute;

fn square_feet(number: f64) -> uom::si::f64::Area {
    feet(number) * feet(1.0)
}

/// Worked example: 1,200 cfm through a filter of 20 in by 25 in is 345.6 ft/min; through two 172.8.
#[test]
fn filter_velocity() {
    let flow = cubic_feet_per_minute(1200.0);
    let of = |filters| face_velocity(flow, inches(20.0), inches(25.0), filters).expect("a face").get::<foot_per_minute>();
    assert!((of(1) - 345.6).abs() < 1e-3 && (of(2) - 172.8).abs() < 1e-3);
    assert_eq!(face_velocity(flow, inches(20.0), inches(25.0), 0), None);
}

/// IRC R408.3: 1 cfm for each 50 ft2. Worked example 1,400 ft2, 28 cfm; published 2,300 ft2, 46 cfm.
#[test]
fn conditioned_crawl_space() {
    let per = square_feet(50.0);
    for (floor, flow) in [(1400.0, 28.0), (2300.0, 46.0)] {
        assert!((in_cubic_feet_per_minute(crawl_space_air(square_feet(floor), per)) - flow).abs() < 1e-9);
    }
    // 98 pints a day are 12.25 gallons, 0.5104 in an hour.
    let taken = dehumidification(square_feet(1400.0), 70.0, square_feet(1000.0));
    // A US gallon is 231 in³, exactly 0.003785411784 m³.
    let gallons_per_hour = taken.get::<uom::si::volume_rate::cubic_meter_per_second>() / 0.003_785_411_784 * 3600.0;
    assert!((gallons_per_hour - 12.25 / 24.0).abs() < 1e-4);
}

/// Worked example: 0.5 in wc less coil 0.25, filter 0.10 and devices 0.03 leave 0.12; over 240 ft that is 0.05 in wc per 100 ft.
#[test]
fn friction() {
    let left = inches_of_water(0.5 - 0.25 - 0.10 - 0.03);
    let rate = friction_rate(left, feet(240.0)).expect("a length");
    assert!((in_inches_of_water(rate) - 0.05).abs() < 1e-12);
    assert_eq!(friction_rate(left, feet(0.0)), None);
}

/// 4 cfm for each 100 ft2, as plan sheets of Everett print it.
#[test]
fn leakage() {
    let limit = leakage_limit(square_feet(2000.0), cubic_feet_per_minute(4.0));
    assert!((in_cubic_feet_per_minute(limit) - 80.0).abs() < 1e-9);
}

/// IECC 2018 R403.3.1 as read in Pennsylvania, and 2021 from memory.
#[test]
fn insulation_by_edition() {
    let r = |number: f64| ThermalInsulance { value: number * 0.176_110_183_7, ..ThermalInsulance::default() };
    let limit = inches(3.0);
    let old = InsulationTable::ByPlace {
        attic_supply: r(8.0),
        attic_return: r(6.0),
        elsewhere: r(6.0),
        elsewhere_small: r(4.2),
        limit,
    };
    let new = InsulationTable::BySize { large: r(8.0), small: r(6.0), limit };
    let attic = |run, size: f64, table| insulation_needed(DuctPlace::Attic, run, inches(size), table);
    assert_eq!((attic(Run::Supply, 8.0, &old), attic(Run::Return, 8.0, &old)), (Some(r(8.0)), Some(r(6.0))));
    assert_eq!(insulation_needed(DuctPlace::Elsewhere, Run::Supply, inches(2.9), &old), Some(r(4.2)));
    assert_eq!((attic(Run::Return, 3.0, &new), attic(Run::Return, 2.9, &new)), (Some(r(8.0)), Some(r(6.0))));
    assert_eq!(insulation_needed(DuctPlace::Conditioned, Run::Supply, inches(8.0), &new), None);
}

/// Worked example: a hood of 600 cfm wants about 600 cfm.
#[test]
fn make_up() {
    let share = Ratio::new::<percent>(90.0);
    let of = |flow| make_up_share(cubic_feet_per_minute(flow), cubic_feet_per_minute(600.0), share);
    assert!(of(600.0) && of(540.0) && !of(539.0));
}
