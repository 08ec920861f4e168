//! Water against published figures and worked examples. Each names its source; what is worked out in our own notes says so.

use proptest::prelude::*;
use redtag_handbook::units::*;
use redtag_handbook::water::measure::*;
use redtag_handbook::water::*;
use uom::si::f64::{TemperatureInterval, Time};
use uom::si::{temperature_interval, time};

#[track_caller]
fn close(ours: f64, printed: f64, tolerance: f64) {
    assert!((ours - printed).abs() <= tolerance, "{ours} is not {printed} within {tolerance}");
}

fn rise(degrees: f64) -> TemperatureInterval {
    TemperatureInterval::new::<temperature_interval::kelvin>(degrees / 1.8)
}

// A trade example: two showers of 2.5 gpm, 70 F of rise, 90 percent: 175,000 Btu/h of output and 194,444 of input.
#[test]
fn tankless_duty_of_two_showers() {
    let output = heat_needed(gallons_per_minute(5.0), rise(70.0));
    close(in_btu_per_hour(output), 175_000.0, 1e-6);
    close(in_btu_per_hour(output) / 0.9, 194_444.0, 1.0);
}

// Our notes, example 11: 199,000 Btu/h at 95 percent against 5.40 gpm at 80 F and 5.227 gpm at 65 F of rise.
#[test]
fn tankless_in_a_cold_winter() {
    let output = btu_per_hour(199_000.0 * 0.95);
    let gives = |degrees: f64| in_gallons_per_minute(flow_at_rise(output, rise(degrees)).unwrap());
    close(gives(80.0), 4.73, 0.005);
    close(gives(65.0), 5.816, 0.005);
    for (degrees, gpm) in [(35.0, 10.80), (45.0, 8.40), (50.0, 7.56), (60.0, 6.30), (70.0, 5.40), (77.0, 4.91)] {
        close(gives(degrees), gpm, 0.006);
    }
    let share = hot_share(fahrenheit(105.0), fahrenheit(40.0), fahrenheit(120.0));
    close(share, 0.8125, 1e-12);
    close(4.0 * share + 2.15, 5.40, 1e-9);
    close(in_btu_per_hour(heat_needed(gallons_per_minute(5.4), rise(80.0))) / 0.95, 227_368.0, 1.0);
}

fn tank(precharge: f64, line: f64, greatest: f64) -> ExpansionTank {
    ExpansionTank { precharge: psi(precharge), line: psi(line), greatest: psi(greatest), atmosphere: psi(14.7) }
}

// R. Griffith, thermal expansion tanks part 2: 2 gallons at 80 psi under 135 psi need 5.44 gallons. A 40-gallon tank from 90 to
// 140 F grows by "almost half a gallon".
#[test]
fn expansion_tank_of_a_published_example() {
    close(in_gallons(expansion_tank_volume(gallons(2.0), tank(80.0, 80.0, 135.0)).unwrap()), 5.44, 0.005);
    close(in_gallons(expansion_volume(gallons(40.0), fahrenheit(90.0), fahrenheit(140.0))), 0.478, 0.003);
}

// A retailer's sizing table (freshwatersystems.com, expansion tank sizing guide) says 2.0 gallons for 50 gallons at 60 psi and 150 F.
// By the exact formula it is 2.51 with water that comes at 40 F, the factory's charge of 40 psi and relief itself, 150 psi, as the
// end: the table is smaller because it takes warmer water or a right charge; charged to 60 psi and from 50 F it is 1.84.
#[test]
fn a_published_table_is_less_cautious_than_the_formula() {
    let volume = |cold: f64, charge: f64| {
        let grown = expansion_volume(gallons(50.0), fahrenheit(cold), fahrenheit(150.0));
        in_gallons(expansion_tank_volume(grown, tank(charge, 60.0, 150.0)).unwrap())
    };
    close(volume(40.0, 40.0), 2.51, 0.02);
    assert!(volume(40.0, 40.0) > 2.0 && volume(50.0, 60.0) < 2.0, "{}", volume(50.0, 60.0));
}

// Our notes, example 12: 50 gallons from 50 to 140 F.
#[test]
fn expansion_tank_by_charge_and_end() {
    let grown = expansion_volume(gallons(50.0), fahrenheit(50.0), fahrenheit(140.0));
    close(in_gallons(grown), 0.839, 0.004);
    let volume = |charge: f64, end: f64| in_gallons(expansion_tank_volume(grown, tank(charge, 60.0, end)).unwrap());
    close(volume(60.0, 150.0), 1.54, 0.015);
    close(volume(60.0, 135.0), 1.68, 0.015);
    close(volume(40.0, 150.0), 2.10, 0.015);
}

// The Driller (2006): 85 gallons between 30 and 50 psi charged to 28 give 25.1 gallons at the sea, and at 6,000 ft, 11.8 psi, more.
// The catalogues' 0.37, 0.31 and 0.27 are for a charge equal to cut-in.
#[test]
fn pressure_tank_drawdown() {
    let factor = |charge: f64, on: f64, off: f64, air: f64| drawdown_factor(psi(charge), psi(on), psi(off), psi(air));
    close(85.0 * factor(28.0, 30.0, 50.0, 14.7), 25.1, 0.05);
    close(85.0 * factor(28.0, 30.0, 50.0, 11.8), 26.19, 0.05);
    for (on, printed) in [(20.0, 0.37), (30.0, 0.31), (40.0, 0.27)] {
        close(factor(on, on, on + 20.0, 14.7), printed, 0.005);
    }
    for (on, ours) in [(20.0, 0.3446), (30.0, 0.2953), (40.0, 0.2579), (50.0, 0.2288)] {
        close(factor(on - 2.0, on, on + 20.0, 14.7), ours, 5e-5);
    }
    close(in_gallons(drawdown(gallons(44.0), psi(38.0), psi(40.0), psi(60.0), psi(14.7))), 11.35, 0.01);
    let minute = Time::new::<time::minute>(1.0);
    for (gpm, wanted) in [(8.0, 31.0), (10.0, 38.8), (12.0, 46.5)] {
        let volume = tank_volume_for(gallons_per_minute(gpm), minute, factor(38.0, 40.0, 60.0, 14.7)).unwrap();
        close(in_gallons(volume), wanted, 0.05);
    }
}

// Our notes, example 14; 3,000 grains for a pound of salt is the published 36,000 grains of 1-1/2 ft3 at 8 lb/ft3.
#[test]
fn softener_of_a_family() {
    let hard = compensated_hardness(18.0, 1.0, 4.0);
    let a_day = hardness_per_day(4.0, 75.0, hard);
    close(a_day, 6600.0, 1e-9);
    close(1.5 * exchange_capacity(8.0).unwrap(), 36_000.0, 1e-9);
    close(days_between(36_000.0, a_day).unwrap(), 5.45, 0.005);
}

fn total(outlets: &[(Outlet, f64)]) -> f64 {
    outlets.iter().map(|&(outlet, count)| count * supply_units(UnitTable::Residential, outlet).unwrap().total).sum()
}

// Our notes, example 15.
#[test]
fn supply_units_of_a_house() {
    let units = total(&[
        (Outlet::FullBath, 2.0),
        (Outlet::HalfBath, 1.0),
        (Outlet::Kitchen, 1.0),
        (Outlet::Laundry, 1.0),
        (Outlet::HoseBibb, 2.0),
    ]);
    close(units, 19.8, 1e-9);
    let flow = peak_demand(DemandCurve::Residential, units).unwrap();
    close(in_gallons_per_minute(flow), 19.52, 0.005);
    let row = |service: f64, main: f64| Row {
        service: nominal(inches(service)).unwrap(),
        distribution: nominal(inches(main)).unwrap(),
    };
    let most = |table, row| largest_units(table, PressureBand::High, row, feet(100.0));
    assert_eq!(most(MeterTable::Residential, row(0.75, 0.75)), Some(8.5));
    assert_eq!(most(MeterTable::Residential, row(0.75, 1.0)), Some(32.0));
    assert_eq!(most(MeterTable::Uniform, row(0.75, 0.75)), Some(17.0));
    assert_eq!(most(MeterTable::Uniform, row(0.75, 1.0)), Some(33.0));
    let speed = |kind, size: f64| velocity(flow, inside_diameter(kind, inches(size)).unwrap()).value / 0.3048;
    close(speed(TubeKind::CopperL, 1.0), 7.59, 0.01);
    close(speed(TubeKind::Pex, 1.0), 10.42, 0.01);
    close(speed(TubeKind::Pex, 1.25), 6.98, 0.01);
    close(speed(TubeKind::CopperL, 0.75), 12.9, 0.05);
}

// UPC table 610.4 as an engineering handbook prints it, cross-checked in a forum thread: 46 to 60 psi over 150 ft, 1 in with 1 in is
// 30, with 1-1/4 in 52.
#[test]
fn two_cells_that_two_sources_print() {
    let row = |main| Row { service: nominal(inches(1.0)).unwrap(), distribution: nominal(inches(main)).unwrap() };
    let most = |main| largest_units(MeterTable::Uniform, MeterTable::Uniform.band(psi(55.0)).unwrap(), row(main), feet(150.0));
    assert_eq!((most(1.0), most(1.25)), (Some(30.0), Some(52.0)));
}

// NSPC table B.5.4, flush tanks, is published; the residential curve is from memory. From 120 units on they are one curve within 2.5
// percent; below, the remembered one lies up to 2.1 times higher, since it lets single outlets draw their full flow.
#[test]
fn the_remembered_demand_curve_meets_the_published_one() {
    for units in [120.0, 140.0, 160.0, 180.0, 200.0] {
        let both = [DemandCurve::Residential, DemandCurve::Standard].map(|curve| peak_demand(curve, units).unwrap());
        close(in_fraction(both[0] / both[1]), 1.0, 0.025);
    }
    for units in 3..=14 {
        let both = [DemandCurve::Residential, DemandCurve::Standard].map(|curve| peak_demand(curve, f64::from(units)).unwrap());
        let ratio = in_fraction(both[0] / both[1]);
        assert!((1.5..=2.2).contains(&ratio), "{units} units: {ratio}");
    }
}

// Our notes, example 16, by Hazen-Williams: 60 psi, 18 ft, 15 and 5 psi in devices, 120 ft at 19.52 gpm.
#[test]
fn pressure_left_at_the_last_shower() {
    let left = |kind, size: f64| {
        let inside = inside_diameter(kind, inches(size)).unwrap();
        let lost = friction_loss(Friction::HazenWilliams, kind, inside, gallons_per_minute(19.52), feet(120.0));
        60.0 - in_psi(elevation_loss(feet(18.0), psi(0.433))) - 20.0 - in_psi(lost)
    };
    close(left(TubeKind::Pex, 1.25), 23.2, 0.05);
    close(left(TubeKind::Pex, 1.0), 8.4, 0.05);
    close(left(TubeKind::CopperL, 1.0), 19.7, 0.05);
    close(left(TubeKind::CopperL, 0.75), -13.7, 0.15);
}

// Manifold capacities of IRC P2903.8.1, from memory, follow from 12 ft/s in plastic and 8 ft/s in metal within 9 percent of an
// inside diameter equal to the nominal size.
#[test]
fn manifold_capacities_follow_from_speed() {
    for (kind, limit) in [(TubeKind::Pex, 12.0), (TubeKind::CopperL, 8.0)] {
        for size in [0.75, 1.0, 1.25, 1.5] {
            let listed = in_gallons_per_minute(manifold_capacity(kind, inches(size)).unwrap());
            let by_speed = limit * size * size / 0.4085;
            close(listed / by_speed, 1.0, 0.09);
        }
    }
}

// Framing: 2x4 that bears: hole 1.40, notch 0.875; 2x6 that does not: hole 3.30; 2x10: hole 3.08, notch 1.54 by 3.08, at its end 2.31.
// jlconline.com prints 2-3/8 in as a third of a 7-1/4 in joist.
#[test]
fn holes_and_notches() {
    close(in_inches(greatest_stud_hole(inches(3.5), MemberUse::Bearing)), 1.40, 1e-9);
    close(in_inches(greatest_stud_notch(inches(3.5), MemberUse::Bearing)), 0.875, 1e-9);
    close(in_inches(greatest_stud_hole(inches(5.5), MemberUse::NonBearing)), 3.30, 1e-9);
    close(in_inches(greatest_joist_hole(inches(9.25))), 3.08, 0.005);
    let (deep, long) = greatest_joist_notch(inches(9.25), false);
    close(in_inches(deep), 1.54, 0.005);
    close(in_inches(long), 3.08, 0.005);
    close(in_inches(greatest_joist_notch(inches(9.25), true).0), 2.31, 0.005);
    close(in_inches(greatest_joist_hole(inches(7.25))), 2.375, 0.05);
}

proptest! {
    #[test]
    fn more_flow_longer_runs_and_narrower_pipes_lose_more(
        gpm in 0.01_f64..60.0, more in 1.001_f64..4.0, inside in 0.3_f64..2.5, along in 0.1_f64..500.0,
    ) {
        for by in [Friction::HazenWilliams, Friction::Darcy] {
            for kind in [TubeKind::CopperL, TubeKind::Pex, TubeKind::Schedule40] {
                let lost = |gpm: f64, inside: f64, along: f64| {
                    in_psi(friction_loss(by, kind, inches(inside), gallons_per_minute(gpm), feet(along)))
                };
                let base = lost(gpm, inside, along);
                prop_assert!(base.is_finite() && base > 0.0);
                prop_assert!(lost(gpm, inside, along * more) > base);
                prop_assert!(lost(gpm, inside * more, along) < base);
                // At the step from laminar to turbulent flow the formula is not continuous, but it steps up.
                prop_assert!(lost(gpm * more, inside, along) > base);
            }
        }
    }

    #[test]
    fn a_drawdown_is_a_part_of_its_tank(charge in 0.0_f64..150.0, on in 0.0_f64..150.0, off in 0.0_f64..150.0, air in 8.0_f64..15.0) {
        let part = drawdown_factor(psi(charge), psi(on), psi(off), psi(air));
        prop_assert!((0.0..1.0).contains(&part));
    }

    #[test]
    fn hotter_water_never_takes_less_room(cold in 40.0_f64..120.0, lift in 0.0_f64..90.0, more in 0.0_f64..20.0) {
        let grown = |hot: f64| in_gallons(expansion_volume(gallons(50.0), fahrenheit(cold), fahrenheit(hot)));
        prop_assert!(grown(cold + lift) >= 0.0 && grown(cold + lift + more) >= grown(cold + lift));
    }
}
