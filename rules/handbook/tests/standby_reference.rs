//! Battery run times against an independent simulation: `reference/standby.py` integrates the stored energy with scipy and finds
//! its events numerically, where the handbook goes from event to event exactly.

use redtag_handbook::standby::{Battery, DAY, Recharge, run};
use redtag_handbook::units::{fraction, in_kilowatt_hours, kilowatt_hours};
use serde_json::Value;
use uom::si::f64::{Power, Time};
use uom::si::power::kilowatt;
use uom::si::time::hour;

fn powers(value: &Value) -> [Power; DAY] {
    std::array::from_fn(|index| Power::new::<kilowatt>(value[index].as_f64().unwrap()))
}

fn recharge(value: &Value) -> Option<Recharge> {
    let number = |name: &str| value[name].as_f64();
    Some(Recharge {
        power: Power::new::<kilowatt>(number("power")?),
        start: fraction(number("start")?),
        stop: fraction(number("stop")?),
        hours: std::array::from_fn(|index| value["hours"][index].as_bool().unwrap()),
        fuel: number("fuel").map(Time::new::<hour>),
    })
}

#[test]
fn run_times_agree_with_an_integrated_differential_equation() {
    let all: Value = serde_json::from_str(include_str!("../reference/standby.json")).unwrap();
    let cases = all["cases"].as_array().unwrap();
    let (mut ended, mut recharged) = (0, 0);
    for (index, case) in cases.iter().enumerate() {
        let number = |name: &str| case[name].as_f64().unwrap();
        let battery = Battery {
            capacity: kilowatt_hours(number("capacity")),
            reserve: kilowatt_hours(number("reserve")),
            charge_limit: case["limit"].as_f64().map(Power::new::<kilowatt>),
            charge_efficiency: fraction(number("efficiency")),
            charges: case["charges"].as_bool().unwrap(),
        };
        let generator = recharge(&case["generator"]);
        let begins = case["begins"].as_u64().unwrap() as usize;
        let (load, solar) = (powers(&case["load"]), powers(&case["solar"]));
        let ours = run(&battery, &load, &solar, generator.as_ref(), begins, case["hours"].as_u64().unwrap() as usize);
        let theirs = &case["answer"];
        let lasts = ours.lasts.map(|time| time.get::<hour>());
        match (lasts, theirs["lasts"].as_f64()) {
            (Some(ours), Some(theirs)) => assert!((ours - theirs).abs() < 1e-6, "case {index}: {ours} for {theirs}"),
            (ours, theirs) => assert_eq!(ours, theirs, "case {index}"),
        }
        let ran = ours.generator.get::<hour>();
        assert!((ran - theirs["generator"].as_f64().unwrap()).abs() < 1e-5, "case {index}: generator {ran} for {theirs}");
        let stored = in_kilowatt_hours(ours.hours.last().unwrap().stored);
        assert!((stored - theirs["stored"].as_f64().unwrap()).abs() < 1e-5, "case {index}: stored {stored} for {theirs}");
        ended += usize::from(lasts.is_some());
        recharged += usize::from(ran > 0.0);
    }
    // All kinds are among them.
    assert!(cases.len() >= 100 && ended >= 60 && cases.len() - ended >= 5 && recharged >= 20, "{ended} {recharged}");
}
