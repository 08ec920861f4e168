//! Standby arithmetic against published tables and sums worked by hand.

use super::*;
use crate::raceway::{Metal, TerminalRating, next_standard, table_ampacity};
use crate::units::{fraction, kilowatt_hours};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::f64::{ElectricPotential, Power, Time};
use uom::si::power::{kilowatt, watt};
use uom::si::time::hour;

fn volts(number: f64) -> ElectricPotential {
    ElectricPotential::new::<volt>(number)
}

fn watts(number: f64) -> Power {
    Power::new::<watt>(number)
}

/// NEC Table 430.248 as paigewire.com 430-148 prints it: horsepower, then amperes at 115, 200, 208 and 230 V.
const PRINTED: &str = "
1/6 4.4 2.5 2.4 2.2
1/4 5.8 3.3 3.2 2.9
1/3 7.2 4.1 4.0 3.6
1/2 9.8 5.6 5.4 4.9
3/4 13.8 7.9 7.6 6.9
1 16 9.2 8.8 8.0
3/2 20 11.5 11.0 10
2 24 13.8 13.2 12
3 34 19.6 18.7 17
5 56 32.2 30.8 28
15/2 80 46.0 44.0 40
10 100 57.5 55.0 50";

#[test]
fn full_load_currents_are_those_of_the_printed_table_row_by_row() {
    let mut cells = 0;
    for row in PRINTED.trim().lines() {
        let mut words = row.split(' ');
        let power = words.next().unwrap();
        let power = power.split_once('/').map_or_else(
            || power.parse::<f64>().unwrap(),
            |(over, under)| over.parse::<f64>().unwrap() / under.parse::<f64>().unwrap(),
        );
        for (printed, voltage) in words.zip([115.0, 200.0, 208.0, 230.0]) {
            let ours = full_load_current(horsepower(power), volts(voltage)).unwrap().get::<ampere>();
            assert_eq!(ours, printed.parse::<f64>().unwrap(), "{row} at {voltage} V");
            cells += 1;
        }
    }
    assert_eq!(cells, 48);
}

// NEC Table 430.251(A) says of every motor six times the current of Table 430.248, rounded: each table holds the other to account.
// At 115 and 230 V the rounding is nothing, at 208 V it is less than an ampere.
#[test]
fn locked_rotor_is_six_times_full_load_row_by_row() {
    let mut rows = 0;
    for power in [0.5, 0.75, 1.0, 1.5, 2.0, 3.0, 5.0, 7.5, 10.0] {
        for (voltage, slack) in [(115.0, 1e-9), (208.0, 2.1), (230.0, 1e-9)] {
            let running = full_load_current(horsepower(power), volts(voltage)).unwrap().get::<ampere>();
            let locked = locked_rotor_current(horsepower(power), volts(voltage)).unwrap().get::<ampere>();
            assert!((locked - 6.0 * running).abs() <= slack, "{power} hp at {voltage} V: {locked} for {running}");
            rows += 1;
        }
    }
    assert_eq!(rows, 27);
}

// NEC Table 430.248: 230 V currents are half of those at 115 V, 200 V ones 115 % of those at 230 V, 208 V ones 110 %, each to
// the rounding of the printed digit.
#[test]
fn full_load_currents_keep_the_ratios_of_their_voltages() {
    for power in [1.0 / 6.0, 0.25, 1.0 / 3.0, 0.5, 0.75, 1.0, 1.5, 2.0, 3.0, 5.0, 7.5, 10.0] {
        let at = |voltage| full_load_current(horsepower(power), volts(voltage)).unwrap().get::<ampere>();
        assert!((at(230.0) - at(115.0) / 2.0).abs() < 0.051, "{power}");
        assert!((at(200.0) - at(230.0) * 1.15).abs() < 0.06, "{power}");
        assert!((at(208.0) - at(230.0) * 1.10).abs() < 0.06, "{power}");
        assert_eq!((at(120.0), at(240.0)), (at(115.0), at(230.0)));
    }
    assert_eq!(full_load_current(horsepower(1.2), volts(230.0)), None);
    assert_eq!(full_load_current(horsepower(1.0), volts(277.0)), None);
}

#[test]
fn code_letters_follow_each_other_without_a_gap() {
    let letters = "ABCDEFGHJKLMNPRSTUV";
    let mut before: Option<f64> = None;
    for letter in letters.chars().map(String::from) {
        let range = code_letter(&letter).unwrap();
        if let Some(before) = before {
            assert!((range.least - before - 0.01).abs() < 1e-9, "{letter}");
        }
        before = range.most;
    }
    assert_eq!(before, None);
    assert!(code_letter("I").is_none() && code_letter("O").is_none() && code_letter("Q").is_none());
}

// franklinaid.com 2012/07/06: a 1 1/2 hp 230 V two-wire well pump has 66.2 A with its rotor locked. 66.2 x 240 is 15.9 kVA;
// 66.2 x 230 / 1000 / 1.5 is 10.15, letter M; the table of motors alone says 60 A, 9 % less.
#[test]
fn a_published_well_pump() {
    let letter = code_letter("M").unwrap();
    let each = 66.2 * 230.0 / 1000.0 / 1.5;
    assert!(letter.least <= each && each <= letter.most.unwrap());
    assert!((locked_rotor_power("M", horsepower(1.5)).unwrap().get::<kilowatt>() - 16.785).abs() < 1e-9);
    assert_eq!(locked_rotor_current(horsepower(1.5), volts(230.0)).unwrap().get::<ampere>(), 60.0);
    let pump = Start { running: watts(1_500.0), starting: watts(66.2 * 240.0) };
    let needed = surge(&[pump], 0, watts(2_000.0), Order::Staggered).unwrap().needed.get::<kilowatt>();
    assert!((needed - 17.888).abs() < 1e-9);
    let soft = Start { starting: pump.starting * 0.5, ..pump };
    let needed = surge(&[soft], 0, watts(2_000.0), Order::Staggered).unwrap().needed.get::<kilowatt>();
    assert!(needed <= 10.0 && needed > 9.9);
}

#[test]
fn motors_that_start_together_ask_for_more() {
    let motor = |running: f64, starting: f64| Start { running: watts(running), starting: watts(starting) };
    let motors = [motor(1_000.0, 6_000.0), motor(200.0, 1_200.0)];
    let needed = |which, order| surge(&motors, which, watts(500.0), order).unwrap().needed.get::<watt>();
    assert_eq!((needed(0, Order::Staggered), needed(1, Order::Staggered)), (6_700.0, 2_700.0));
    assert_eq!((needed(0, Order::Simultaneous), needed(1, Order::Simultaneous)), (7_700.0, 7_700.0));
    assert!(surge(&motors, 2, watts(0.0), Order::Staggered).is_none());
}

// Worked by hand: 8 kW at 94 % and 44 V are 193.4 A, 241.8 A with 25 %: a 250 A device; 4/0 copper carries 230 A at 75 C.
#[test]
fn dc_conductors_of_an_eight_kilowatt_inverter() {
    let current = dc_current(Power::new::<kilowatt>(8.0), fraction(0.94), volts(44.0), 1.25).unwrap();
    assert!((current.input.get::<ampere>() - 193.424).abs() < 1e-3 && (current.raised.get::<ampere>() - 241.780).abs() < 1e-3);
    assert_eq!(next_standard(current.raised).unwrap().get::<ampere>(), 250.0);
    let copper = |size| table_ampacity(size, Metal::Copper, TerminalRating::SeventyFive);
    assert!(copper("4/0 AWG").unwrap() < current.raised && copper("250 kcmil").unwrap() > current.raised);
    assert!(copper("251 kcmil").is_none());
    assert!(dc_current(watts(1.0), fraction(0.0), volts(44.0), 1.25).is_none());
}

fn even(number: f64) -> [Power; DAY] {
    [watts(number); DAY]
}

fn battery(kilowatts: f64) -> Battery {
    Battery {
        capacity: kilowatt_hours(kilowatts),
        reserve: kilowatt_hours(0.0),
        charge_limit: None,
        charge_efficiency: fraction(1.0),
        charges: true,
    }
}

fn lasts(run: &Run) -> f64 {
    run.lasts.unwrap().get::<hour>()
}

// Worked by hand: two batteries of 10 kWh, 90 % deep, 94 % efficient, are 16.92 kWh; loads by their duty are 572.9 W, 60 W more
// while the inverter idles. 26.7 h, 29.5 h without what it idles.
#[test]
fn a_list_of_loads_lasts_as_long_as_its_mean() {
    let loads = [
        150.0 * 0.4,
        100.0 * 0.4,
        400.0 * 0.5,
        80.0 * 0.08,
        1_500.0 * 0.05,
        150.0 * 0.25,
        20.0,
        800.0 * 0.1,
        10.0,
        1_200.0 * 0.02,
        100.0 * 0.2,
    ];
    let mean: f64 = loads.iter().sum();
    assert!((mean - 572.9).abs() < 1e-9);
    let store = battery(2.0 * 10.0 * 0.90 * 0.94);
    let with_idle = run(&store, &even(mean + 60.0), &even(0.0), None, 7, 100);
    assert!((lasts(&with_idle) - 16_920.0 / 632.9).abs() < 1e-9);
    assert!((lasts(&with_idle) - 26.7).abs() < 0.05);
    assert!((lasts(&run(&store, &even(mean), &even(0.0), None, 7, 100)) - 29.5).abs() < 0.05);
    assert!(run(&store, &even(mean + 60.0), &even(0.0), None, 7, 24).lasts.is_none());
    // 48 h want less: the furnace alone, the largest, is not enough; each step says how long the rest lasts.
    let each: Vec<[Power; DAY]> = loads.iter().map(|load| even(*load)).collect();
    let steps = shed(&store, &even(60.0), &each, &[true; 11], &even(0.0), None, 7, Time::new::<hour>(48.0));
    assert_eq!(steps[0].0, 2);
    assert!((steps[0].1.unwrap().get::<hour>() - 16_920.0 / 432.9).abs() < 1e-9);
    // Then the sump pump: 16,920 / 352.9 is 47.9 h, a hair short; the smallest load closes it.
    assert!((steps[1].1.unwrap().get::<hour>() - 16_920.0 / 352.9).abs() < 1e-9);
    assert_eq!(steps.iter().map(|(index, _)| *index).collect::<Vec<_>>(), [2, 7, 3]);
    assert!(steps[2].1.is_none());
    // 28 h: of those that are enough by themselves the smallest goes: the lights, 37.5 W.
    let steps = shed(&store, &even(60.0), &each, &[true; 11], &even(0.0), None, 7, Time::new::<hour>(28.0));
    assert_eq!(steps.iter().map(|(index, _)| *index).collect::<Vec<_>>(), [5]);
    // What must not go does not.
    let mut may = [true; 11];
    may[5] = false;
    let steps = shed(&store, &even(60.0), &each, &may, &even(0.0), None, 7, Time::new::<hour>(28.0));
    assert_eq!(steps[0].0, 1);
}

#[test]
fn the_reserve_stays_and_the_sun_puts_back() {
    let mut store = battery(10.0);
    store.reserve = kilowatt_hours(2.0);
    assert!((lasts(&run(&store, &even(1_000.0), &even(0.0), None, 0, 100)) - 8.0).abs() < 1e-9);
    let mut sun = even(0.0);
    sun[..4].fill(watts(1_500.0));
    // Full at first: the surplus of four hours is lost, eight hours follow.
    assert!((lasts(&run(&store, &even(1_000.0), &sun, None, 0, 100)) - 12.0).abs() < 1e-9);
    // From noon: twelve hours are wanted, eight are there.
    assert!((lasts(&run(&store, &even(1_000.0), &sun, None, 12, 100)) - 8.0).abs() < 1e-9);
    store.charges = false;
    // A battery that must not be charged still lets the sun carry the load.
    assert!((lasts(&run(&store, &even(1_000.0), &sun, None, 0, 100)) - 12.0).abs() < 1e-9);
}

#[test]
fn a_generator_carries_on_until_its_fuel_ends() {
    let recharge = Recharge {
        power: watts(2_000.0),
        start: fraction(0.2),
        stop: fraction(0.8),
        hours: [true; DAY],
        fuel: Some(Time::new::<hour>(6.0)),
    };
    let result = run(&battery(10.0), &even(1_000.0), &even(0.0), Some(&recharge), 0, 100);
    // 8 h down to 2 kWh, 3 h up to 8, 6 h down, 3 h up, 8 h down to nothing.
    assert!((lasts(&result) - 28.0).abs() < 1e-9, "{}", lasts(&result));
    assert!((result.generator.get::<hour>() - 6.0).abs() < 1e-9);
    let endless = Recharge { fuel: None, ..recharge };
    assert!(run(&battery(10.0), &even(1_000.0), &even(0.0), Some(&endless), 0, 500).lasts.is_none());
    let nights = Recharge { hours: [false; DAY], ..recharge };
    assert!((lasts(&run(&battery(10.0), &even(1_000.0), &even(0.0), Some(&nights), 0, 100)) - 10.0).abs() < 1e-9);
}

#[test]
fn nothing_stored_and_nothing_asked_are_told_apart() {
    assert_eq!(lasts(&run(&battery(0.0), &even(1.0), &even(0.0), None, 0, 10)), 0.0);
    assert!(run(&battery(0.0), &even(0.0), &even(0.0), None, 0, 10).lasts.is_none());
}
