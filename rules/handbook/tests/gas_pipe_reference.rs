//! The pipe equations and bores against reference/gas_pipe.json, which a general hydraulics library gave (see
//! reference/gas_pipe.py). Every check states the difference to be expected and why.

use redtag_handbook::fuel::FuelGas;
use redtag_handbook::piping::*;
use redtag_handbook::units::*;
use serde_json::Value;

fn figures(prefix: &str) -> Vec<(String, f64, Value)> {
    let all: Vec<Value> = serde_json::from_str(include_str!("../reference/gas_pipe.json")).unwrap();
    let read = |figure: Value| {
        (figure["name"].as_str().unwrap().to_owned(), figure["value"].as_f64().unwrap(), figure["inputs"].clone())
    };
    all.into_iter().map(read).filter(|(name, ..)| name.starts_with(prefix)).collect()
}

fn number(inputs: &Value, name: &str) -> f64 {
    inputs[name].as_f64().unwrap()
}

fn gas(inputs: &Value) -> PipedGas {
    PipedGas::of(if inputs["gas"] == "natural" { FuelGas::Natural } else { FuelGas::Propane })
}

// 0.3 percent: the library rounds to hundredths of a millimetre.
#[test]
fn schedule_10() {
    let all = figures("schedule_10_");
    for (name, value, _) in &all {
        let size = NominalSize::from_written(name.trim_start_matches("schedule_10_")).unwrap();
        let ours = in_inches(inside_diameter_schedule_10(size).unwrap());
        assert!((ours / value - 1.0).abs() < 0.003, "{name}: {ours} {value}");
    }
    assert_eq!((all.len(), inside_diameter_schedule_10(NominalSize::Three)), (6, None));
}

// Darcy with Colebrook's friction in new steel is physics. The drops of the worked manifold and of two published runs lie within
// 7 percent of it: the code's law is a power law fitted over the sizes, a little above physics in wide pipe, below in narrow.
#[test]
fn drops_by_darcy() {
    let all = figures("drop_");
    for (name, value, inputs) in &all {
        let flow = cubic_feet_per_hour(number(inputs, "flow_cfh"));
        let (bore, length) = (inches(number(inputs, "bore_in")), feet(number(inputs, "length_ft")));
        let ours = in_inches_of_water(drop_low(flow, bore, length, &gas(inputs)).unwrap());
        assert!((ours / value - 1.0).abs() < 0.07, "{name}: {ours} {value}");
    }
    assert_eq!(all.len(), 6);
}

// Smooth tube carries 8 to 12 percent more by physics than the code grants it: the code reckons every bore as steel.
#[test]
fn smooth_tube_by_darcy() {
    let all = figures("tube_");
    for (name, value, inputs) in &all {
        let (bore, length) = (inches(number(inputs, "bore_in")), feet(number(inputs, "length_ft")));
        let flow =
            flow_low(bore, length, inches_of_water(number(inputs, "drop_in_wc")), &PipedGas::of(FuelGas::Propane)).unwrap();
        let departure = in_cubic_feet_per_hour(flow) / value - 1.0;
        assert!((-0.125..-0.075).contains(&departure), "{name}: {departure}");
    }
    assert_eq!(all.len(), 4);
}

// Spitzglass took the friction to depend on the bore alone, by tests on mains: 1 + 3.6/D + 0.03 D. Narrow pipe is then far rougher
// than it is and the flow does not profit from its speed. So the code's law must lie above it, most in the narrowest pipe, more
// at pounds than at inches, and the two must meet at 2 in. Bands: -2 to +51 percent at inches, +16 to +79 at pounds.
#[test]
fn spitzglass_lies_below_and_meets_at_two_inches() {
    let (mut low, mut high) = (Vec::new(), Vec::new());
    for (name, value, inputs) in figures("spitzglass_") {
        let (bore, length) = (inches(number(&inputs, "bore_in")), feet(number(&inputs, "length_ft")));
        let flow = if name.contains("_low_") {
            flow_low(bore, length, inches_of_water(number(&inputs, "drop_in_wc")), &gas(&inputs))
        } else {
            flow_high(bore, length, &HighPressure::at_sea_level(psi(2.0), psi(1.0)), &gas(&inputs))
        };
        let departure = in_cubic_feet_per_hour(flow.unwrap()) / value - 1.0;
        let key = (inputs["gas"].to_string(), number(&inputs, "length_ft") as u32, in_inches(bore), departure);
        if name.contains("_low_") { low.push(key) } else { high.push(key) }
    }
    assert_eq!((low.len(), high.len()), (30, 30));
    assert!(low.iter().all(|key| (-0.02..0.515).contains(&key.3)) && high.iter().all(|key| (0.16..0.79).contains(&key.3)));
    assert!(low.iter().filter(|key| key.2 > 2.0).all(|key| key.3 < 0.13));
    for one in low.iter().zip(&high) {
        assert!(one.0.3 < one.1.3, "more at pounds than at inches: {one:?}");
    }
    for list in [&low, &high] {
        for one in list.iter() {
            let wider = list.iter().filter(|other| other.0 == one.0 && other.1 == one.1 && other.2 > one.2);
            assert!(wider.into_iter().all(|other| other.3 < one.3), "least in the widest pipe: {one:?}");
        }
    }
}
