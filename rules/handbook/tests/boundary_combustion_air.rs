//! Combustion air at the edge of each limit: exactly enough passes, the least bit less does not. All computed in our notes
//! from the model code's figures.

use redtag_handbook::combustion_air::*;
use redtag_handbook::units::*;
use redtag_schema::quantity::at_least;
use uom::si::f64::{Area, Power, Volume};

fn kbtu(number: f64) -> Power {
    btu_per_hour(number * 1000.0)
}

fn standard_suffices(volume: f64, total: Power) -> bool {
    at_least(cubic_feet(volume), standard_volume(total, &StandardMethod::default()))
}

fn infiltration(other: f64, fan: f64, rate: f64) -> Volume {
    let input = CountedInput { other: kbtu(other), fan_assisted: kbtu(fan) };
    known_infiltration_volume(&input, air_changes_per_hour(rate), &KnownInfiltration::default()).unwrap().total
}

fn opening(free: f64, end: End) -> Opening {
    let (below_ceiling, above_floor) = match end {
        End::Top => (inches(12.0), inches(80.0)),
        End::Bottom => (inches(80.0), inches(12.0)),
    };
    Opening { free_area: square_inches(free), least_dimension: inches(6.0), below_ceiling, above_floor }
}

fn outdoor(free: f64, end: End, path: Path) -> OutdoorOpening {
    OutdoorOpening { opening: opening(free, end), path, duct: None }
}

fn joins(upper: Opening, lower: Opening, total: f64) -> bool {
    same_story(&[upper, lower], kbtu(total), &JoiningLimits::default()).unwrap().complies()
}

fn two_suffice(free: f64, path: Path, share: f64) -> bool {
    let openings = [outdoor(free, End::Top, path), outdoor(free, End::Bottom, path)];
    two_openings(&openings, kbtu(140.0), fraction(share), &TwoOpenings::default()).unwrap().complies()
}

#[test]
fn vectors_1_and_2_standard_volume() {
    assert!(standard_suffices(7000.0, kbtu(140.0)));
    assert!(!standard_suffices(6999.0, kbtu(140.0)));
}

#[test]
fn vectors_3_and_4_a_known_rate() {
    assert!(!standard_method_permitted(Some(air_changes_per_hour(0.39)), &StandardMethod::default()));
    assert!(at_least(cubic_feet(7000.0), infiltration(40.0, 100.0, 0.39)));
    assert!((in_cubic_feet(infiltration(40.0, 100.0, 0.39)) - 6000.0).abs() < 0.05);
    assert!((in_cubic_feet(infiltration(40.0, 100.0, 0.20)) - 11_700.0).abs() < 1e-6);
    assert!(!at_least(cubic_feet(7000.0), infiltration(40.0, 100.0, 0.20)));
}

#[test]
fn vector_5_direct_vent_is_not_counted() {
    let appliance = |burner, air, vent| ApplianceFacts {
        energy: Some(EnergySource::FuelGas),
        burner: Some(burner),
        air: Some(air),
        vent: Some(vent),
        ..Default::default()
    };
    let appliances = [
        (appliance(Burner::FanAssisted, AirSource::DirectVent, VentCategory::Four), 199.0),
        (appliance(Burner::NaturalDraft, AirSource::Room, VentCategory::One), 40.0),
    ];
    let counted: CountedInput = appliances
        .iter()
        .filter_map(|(facts, input)| match treatment(facts, &CountingPolicy::default()) {
            Treatment::Counts { class, .. } => Some(CountedInput::of(class, kbtu(*input))),
            _ => None,
        })
        .sum();
    assert!(standard_suffices(2000.0, counted.total()));
    assert!(!standard_suffices(1999.0, counted.total()));
}

#[test]
fn vectors_6_to_9_joining_openings() {
    assert!(!joins(opening(99.0, End::Top), opening(99.0, End::Bottom), 60.0));
    assert!(joins(opening(100.0, End::Top), opening(100.0, End::Bottom), 60.0));
    let high = Opening { above_floor: inches(13.0), ..opening(140.0, End::Bottom) };
    assert!(!joins(opening(140.0, End::Top), high, 140.0));
    assert!(joins(opening(140.0, End::Top), opening(140.0, End::Bottom), 140.0));
    let grille = |long: f64| {
        let free = free_area(inches(4.0) * inches(long), None, Cover::Metal, &FreeFractions::default());
        let size = |end| Opening { free_area: free, least_dimension: inches(4.0), ..opening(0.0, end) };
        joins(size(End::Top), size(End::Bottom), 80.0)
    };
    assert!(!grille(30.0));
    assert!(grille(34.0));
    let slot = Opening { least_dimension: inches(2.9), ..opening(1000.0, End::Top) };
    assert!(!joins(slot, opening(1000.0, End::Bottom), 60.0));
}

#[test]
fn vector_10_outdoor_ducts() {
    assert!(!two_suffice(35.0, Path::Horizontal, 1.0));
    assert!(two_suffice(35.0, Path::Vertical, 1.0));
    assert!(two_suffice(70.0, Path::Horizontal, 1.0));
    assert!(!two_suffice(34.99, Path::Direct, 1.0));
}

#[test]
fn vectors_11_and_12_one_opening() {
    let method = OneOpening::default();
    let suffices = |free: f64, diameters: &[f64]| {
        let connectors = diameters.iter().fold(Area::default(), |sum, each| sum + round_area(inches(*each)));
        let required = one_opening_area(kbtu(140.0), connectors, &method).required();
        one_opening(&[outdoor(free, End::Top, Path::Direct)], required, &method).unwrap().complies()
    };
    assert!(suffices(46.7, &[3.0, 4.0]));
    assert!(!suffices(46.6, &[3.0, 4.0]));
    assert!(!suffices(46.7, &[8.0]));
    assert!(suffices(50.27, &[8.0]));
    let clear = |front| ApplianceClearances { sides: inches(1.0), back: inches(1.0), front: inches(front) };
    assert_eq!(clearance_shortfalls(&clear(5.0), &method).len(), 1);
    assert_eq!(clearance_shortfalls(&clear(6.0), &method), []);
}

#[test]
fn vector_13_combination() {
    let combined = combination(cubic_feet(3600.0), cubic_feet(7000.0));
    let share = in_fraction(combined.reduction);
    assert!(two_suffice(17.0, Path::Direct, share));
    assert!(!two_suffice(16.9, Path::Direct, share));
}

#[test]
fn vector_14_wood_louvers() {
    let free = |gross| free_area(square_inches(gross), None, Cover::Wood, &FreeFractions::default());
    assert!(!at_least(free(139.0), square_inches(35.0)));
    assert!(at_least(free(140.0), square_inches(35.0)));
}

#[test]
fn vector_15_mechanical_supply() {
    let needed = mechanical_supply(kbtu(140.0), Default::default(), &Mechanical::default()).total;
    assert!(!at_least(cubic_feet_per_minute(48.9), needed));
    assert!(at_least(cubic_feet_per_minute(49.0), needed));
}

#[test]
fn vectors_16_to_18_ducts() {
    let duct = |serves, source, screened| CombustionAirDuct {
        serves,
        source,
        screened: Some(screened),
        slopes_down_to_source: Some(false),
        damper: Some(false),
        least_dimension: Some(inches(7.0)),
        intake_above_grade: None,
        enclosures: Some(1),
    };
    let faults = |duct| duct_faults(&duct, &DuctLimits::default());
    let attic = |ventilated| DuctSource::Attic { ventilated, power_ventilator: false };
    assert_eq!(faults(duct(Serves::Both, DuctSource::Outdoors, false)), [DuctFault::ServesBoth]);
    assert_eq!(faults(duct(Serves::Upper, attic(true), true)), [DuctFault::ScreenedInAttic]);
    assert_eq!(faults(duct(Serves::Upper, attic(false), false)), [DuctFault::UnventilatedAttic]);
    let shared = Some(ServingDuct { identity: 1, area: square_inches(70.0) });
    let openings = [End::Top, End::Bottom].map(|end| OutdoorOpening { duct: shared, ..outdoor(70.0, end, Path::Horizontal) });
    let pair = two_openings(&openings, kbtu(140.0), fraction(1.0), &TwoOpenings::default()).unwrap();
    assert!(!pair.complies());
}
