//! What must never turn around: more input never needs less air, more air never hurts.

use proptest::prelude::*;
use redtag_handbook::combustion_air::*;
use redtag_handbook::fuel::*;
use redtag_handbook::units::*;
use uom::si::f64::{Area, Volume};

fn counted() -> impl Strategy<Value = CountedInput> {
    (0.0..500_000.0, 0.0..500_000.0)
        .prop_map(|(other, fan)| CountedInput { other: btu_per_hour(other), fan_assisted: btu_per_hour(fan) })
}

fn infiltration(input: &CountedInput, rate: f64) -> Volume {
    known_infiltration_volume(input, air_changes_per_hour(rate), &KnownInfiltration::default()).unwrap().total
}

fn opening() -> impl Strategy<Value = Opening> {
    (0.0..400.0, 1.0..20.0, 0.0..96.0, 0.0..96.0).prop_map(|(free, least, below, above)| Opening {
        free_area: square_inches(free),
        least_dimension: inches(least),
        below_ceiling: inches(below),
        above_floor: inches(above),
    })
}

fn joins(openings: &[Opening], input: f64) -> bool {
    same_story(openings, btu_per_hour(input), &JoiningLimits::default()).is_some_and(|pair| pair.complies())
}

fn outdoors(openings: &[Opening], path: Path, input: f64, share: f64) -> bool {
    let openings: Vec<_> = openings.iter().map(|opening| OutdoorOpening { opening: *opening, path, duct: None }).collect();
    two_openings(&openings, btu_per_hour(input), fraction(share), &TwoOpenings::default()).is_some_and(|pair| pair.complies())
}

fn derating() -> impl Strategy<Value = Derating> {
    (0..4, 0.01..0.06, 0.0..6000.0).prop_map(|(kind, percent, above)| {
        let (per_thousand_feet, above) = (fraction(percent), feet(above));
        match kind {
            0 => Derating::FromSeaLevel { per_thousand_feet, above },
            1 => Derating::SteppedFromSeaLevel { per_thousand_feet, above },
            2 => Derating::FromThreshold { per_thousand_feet, above },
            _ => Derating::NoneUpTo { altitude: above },
        }
    })
}

proptest! {
    #[test]
    fn more_input_never_needs_less_volume(less in counted(), more in counted(), rate in 0.01..2.0) {
        let sum = less + more;
        prop_assert!(infiltration(&sum, rate) >= infiltration(&less, rate));
        let method = StandardMethod::default();
        prop_assert!(standard_volume(sum.total(), &method) >= standard_volume(less.total(), &method));
        prop_assert!(
            mechanical_supply(sum.total(), Default::default(), &Mechanical::default()).total
                >= mechanical_supply(less.total(), Default::default(), &Mechanical::default()).total
        );
    }

    #[test]
    fn a_leakier_house_never_needs_more_volume(input in counted(), rate in 0.01..2.0, more in 0.0..2.0) {
        prop_assert!(infiltration(&input, rate + more) <= infiltration(&input, rate));
    }

    #[test]
    fn fan_assisted_input_never_needs_more_volume_than_other(input in 1.0..500_000.0, rate in 0.01..2.0) {
        let power = btu_per_hour(input);
        let fan = infiltration(&CountedInput::of(BurnerClass::FanAssisted, power), rate);
        prop_assert!(fan <= infiltration(&CountedInput::of(BurnerClass::Other, power), rate));
    }

    #[test]
    fn more_input_never_opens_a_wall(
        openings in prop::collection::vec(opening(), 0..5), input in 0.0..400_000.0, more in 0.0..400_000.0,
    ) {
        prop_assert!(joins(&openings, input) || !joins(&openings, input + more));
        prop_assert!(
            outdoors(&openings, Path::Direct, input, 1.0) || !outdoors(&openings, Path::Direct, input + more, 1.0)
        );
    }

    #[test]
    fn another_opening_never_closes_a_wall(
        openings in prop::collection::vec(opening(), 0..5), another in opening(), input in 0.0..400_000.0,
    ) {
        let mut with = openings.clone();
        with.push(another);
        prop_assert!(joins(&with, input) || !joins(&openings, input));
        prop_assert!(outdoors(&with, Path::Vertical, input, 1.0) || !outdoors(&openings, Path::Vertical, input, 1.0));
    }

    #[test]
    fn a_reduction_never_asks_for_more(
        openings in prop::collection::vec(opening(), 0..5), input in 0.0..400_000.0, share in 0.0..1.0,
    ) {
        prop_assert!(outdoors(&openings, Path::Direct, input, share) || !outdoors(&openings, Path::Direct, input, 1.0));
    }

    #[test]
    fn the_order_of_openings_never_matters(openings in prop::collection::vec(opening(), 0..5), input in 0.0..400_000.0) {
        let mut turned = openings.clone();
        turned.reverse();
        prop_assert_eq!(joins(&openings, input), joins(&turned, input));
    }

    #[test]
    fn a_horizontal_duct_never_needs_less_than_a_vertical_one(input in 0.0..400_000.0) {
        let area = |path| outdoor_opening_area(btu_per_hour(input), path, &TwoOpenings::default());
        prop_assert!(area(Path::Horizontal) >= area(Path::Vertical));
        prop_assert_eq!(area(Path::Vertical), area(Path::Direct));
    }

    #[test]
    fn more_indoor_volume_never_needs_more_outdoor_opening(
        available in 0.0..20_000.0, more in 0.0..20_000.0, required in 1.0..20_000.0,
    ) {
        let reduction = |volume| combination(cubic_feet(volume), cubic_feet(required)).reduction;
        prop_assert!(reduction(available + more) <= reduction(available));
        prop_assert!((0.0..=1.0).contains(&in_fraction(reduction(available))));
    }

    #[test]
    fn connectors_never_shrink_the_opening(input in 0.0..400_000.0, diameter in 0.0..12.0, share in 0.0..1.0) {
        let area = |connectors| one_opening_area(btu_per_hour(input), connectors, &OneOpening::default());
        let with = area(round_area(inches(diameter)));
        prop_assert!(with.required() >= area(Area::default()).required());
        prop_assert!(with.reduced(fraction(share), true).required() >= with.reduced(fraction(share), false).required());
    }

    #[test]
    fn higher_sites_never_get_more_input(rule in derating(), altitude in -500.0..15_000.0, more in 0.0..5000.0) {
        let share = |altitude| rule.share(feet(altitude));
        if let (Some(low), Some(high)) = (share(altitude), share(altitude + more)) {
            prop_assert!(high <= low);
        } else {
            prop_assert!(share(altitude + more).is_none());
        }
    }

    #[test]
    fn more_pressure_and_larger_holes_never_pass_less(
        area in 1e-5..0.1, pressure in 0.1..30.0, more in 0.0..10.0, gravity in 0.5..2.0,
    ) {
        let flow = |area, pressure| orifice_flow(
            square_inches(area), inches_of_water(pressure), fraction(gravity), DischargeCoefficient::default(),
        );
        prop_assert!(flow(area, pressure + more) >= flow(area, pressure));
        prop_assert!(flow(area * (1.0 + more), pressure) >= flow(area, pressure));
    }

    #[test]
    fn the_drills_around_an_area_enclose_it(area in 1e-5..0.02) {
        let area = square_inches(area);
        let (below, above) = drills_around(area);
        if let Some(below) = below {
            prop_assert!(redtag_schema::quantity::at_most(below.area(), area));
        }
        if let Some(above) = above {
            prop_assert!(above.area() > area);
        }
    }
}
