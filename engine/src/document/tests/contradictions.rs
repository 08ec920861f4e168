//! Facts that cannot both be true: every pair of the tables fires, and no demo house fires one.

use crate::document::check_contradictions::{self, pairs};
use crate::document::{Limits, Raw, syntax, text};
use serde_json::{Value, json};
use std::path::Path;

fn raw(document: &Value) -> Raw {
    let text = serde_json::to_string_pretty(document).unwrap();
    let text = text::decode("house.json", text.as_bytes(), &Limits::default()).unwrap();
    let (value, spans) = syntax::parse(&text.file, 9).read.unwrap();
    Raw { file: text.file, value, spans }
}

fn said(document: &Value) -> Vec<String> {
    check_contradictions::check(&raw(document)).iter().map(|one| one.one_line()).collect()
}

/// A house in which everything contradicts something.
fn upside_down() -> Value {
    let square = |side: &str| json!([{"x": "0 ft", "y": "0 ft"}, {"x": side, "y": "0 ft"}, {"x": side, "y": side}, {"x": "0 ft", "y": side}]);
    let two_ways = json!({"facing": "north", "bearing": "90 deg", "width": "1 ft", "depth": "1 ft", "height": "1 ft"});
    json!({
        "schema": 1,
        "site": {"heating_design_temperature": "90 F", "cooling_design_temperature": "20 F"},
        "building": {
            "conditioned_floor_area": "100 ft²", "bedrooms": 0,
            "infiltration": {"natural": "9 ACH", "ach50": "3 ACH"},
            "alarms": [{"id": "alarm", "kind": "smoke", "placement": two_ways}]
        },
        "spaces": [
            {"id": "hall", "kind": "corridor", "conditioned": true, "vented_to_outdoors": true, "outline": square("20 ft"),
             "floor_area": "900 ft²", "volume": "90,000 ft³", "ceiling_height": "9 ft", "structural_ceiling_height": "8 ft",
             "minimum_clear_height": "10 ft", "lowest_temperature": "-10 F", "highest_temperature": "-20 F",
             "receptacles": [{"id": "receptacle", "placement": two_ways}]},
            {"id": "bed", "kind": "sleeping-room"}
        ],
        "openings": [{
            "id": "door", "kind": "door", "space": "hall", "beyond": {"kind": "outdoors", "space": "hall"},
            "width": "30 in", "height": "80 in", "gross_area": "5,000 in²", "free_area": "4,000 in²", "path": "vertical-duct",
            "duct": "duct", "screen": {"fitted": false, "mesh": "1/4 in"},
            "door": {"clear_width": "40 in", "clear_height": "90 in", "solid": true}
        }],
        "ducts": [{"id": "duct", "kind": "combustion-air", "orientation": "horizontal"}],
        "equipment": [{
            "id": "furnace", "kind": "oil-heater", "outdoors": true, "space": "hall", "placement": two_ways, "burns_fuel": false,
            "service": {"largest_part": {"width": "3 ft", "depth": "3 ft", "height": "3 ft"}},
            "pan": {"drained": false, "drains_to": "drain"}, "condensate": {"acid": false},
            "fuel_burning": {
                "burner": "draft-hood", "combustion_air": "direct-vent", "condensing": true,
                "running_inlet_pressure": "9 in wc", "static_inlet_pressure": "7 in wc",
                "plate": {"fuel": "natural-gas", "vent_category": "category-iv", "input": "1,000 Btu/h", "output": "2,000 Btu/h",
                    "input_minimum": "3,000 Btu/h", "inlet_pressure_minimum": "9 in wc", "inlet_pressure_maximum": "7 in wc"},
                "conversion": {"performed": false, "label": {"present": true}}
            },
            "electrical": {"minimum_circuit_ampacity": "30 A", "maximum_overcurrent": "20 A",
                "motor": {"full_load_current": "20 A", "locked_rotor_current": "10 A"}},
            "water_heating": {"set_temperature": "180 F", "limit_temperature": "120 F"},
            "treatment": {"minimum_pressure": "80 psi", "maximum_pressure": "20 psi"},
            "tank": {"precharge": "80 psi", "maximum_pressure": "20 psi"},
            "pump": {"pressure": "80 psi", "shutoff_pressure": "20 psi"}
        }],
        "gas": {
            "supply": {"kind": "second-stage-regulator", "fuel": "natural-gas", "pressure_minimum": "9 in wc", "pressure": "8 in wc",
                "pressure_maximum": "7 in wc"},
            "containers": [{"id": "tank", "kind": "tank"}],
            "regulators": [{"id": "regulator", "kind": "line", "outdoors": true, "space": "hall", "outlet_pressure": "2 psi", "inlet_pressure": "1 psi"}],
            "bonding": {"present": false, "conductor_size": "6 AWG"}
        },
        "electrical": {
            "storage": [{"id": "store", "temperature_minimum": "50 C", "temperature_maximum": "0 C",
                "units": [{"id": "unit", "energy": "9 kWh", "usable_energy": "10 kWh"}]}],
            "inverters": [{"id": "inverter", "dc_voltage_minimum": "60 V", "dc_voltage_maximum": "40 V", "output": "5 kVA",
                "output_when_hot": "6 kVA", "surge": "4 kVA"}],
            "generators": [{"id": "generator", "kind": "standby", "starts_at_charge": "90 %", "stops_at_charge": "20 %"}],
            "panels": [{"id": "panel", "spaces": 4, "circuits": [{"id": "circuit", "slots": [9]}]}],
            "loads": [{"id": "load", "motor": {"full_load_current": "20 A", "locked_rotor_current": "10 A"}}]
        },
        "water": {
            "pipes": [{"id": "pipe", "kind": "cold", "can_freeze": false, "spaces": ["hall"]}],
            "sources": [{"id": "well", "kind": "drilled-well", "pump_on": "60 psi", "pump_off": "40 psi", "residual_pressure": "60 psi",
                "static_pressure": "40 psi"}],
            "fixtures": [{"id": "shower", "kind": "shower", "count": 1, "simultaneous": 2}]
        },
        "drainage": {
            "drains": [{"id": "drain", "kind": "floor-drain", "rim": "2 in"}],
            "pipes": [{"id": "drain-pipe", "kind": "branch", "slope": "1 in/ft", "upper_invert": "0 ft", "lower_invert": "1 ft", "length": "10 ft"}]
        }
    })
}

#[test]
pub(crate) fn every_pair_fires_where_both_are_said() {
    let document = upside_down();
    let raw = raw(&document);
    for pair in pairs() {
        let fired = check_contradictions::of_pair(&raw, pair);
        assert!(!fired.is_empty(), "{} {} {}", pair.list, pair.first, pair.second);
    }
    assert!(pairs().count() >= 50, "{} pairs", pairs().count());
}

#[test]
fn either_fact_alone_is_no_contradiction() {
    // What stands at `first` or at `second` taken away: the pair is silent.
    let document = upside_down();
    for pair in pairs() {
        for step in [pair.first, pair.second].into_iter().filter(|step| !step.is_empty() && !step.ends_with("/kind")) {
            let mut without = document.clone();
            remove(&mut without, pair.list, step);
            let fired = check_contradictions::of_pair(&raw(&without), pair);
            assert!(
                fired.is_empty(),
                "{} without {step}: {:?}",
                pair.list,
                fired.iter().map(|one| one.one_line()).collect::<Vec<_>>()
            );
        }
    }
}

fn remove(value: &mut Value, list: &str, step: &str) {
    match list.strip_prefix('/').map(|rest| rest.split_once('/').unwrap_or((rest, ""))) {
        Some(("*", rest)) => {
            let rest = if rest.is_empty() { String::new() } else { format!("/{rest}") };
            value.as_array_mut().into_iter().flatten().for_each(|item| remove(item, &rest, step));
        }
        Some((name, rest)) => {
            let rest = if rest.is_empty() { String::new() } else { format!("/{rest}") };
            value.get_mut(name).into_iter().for_each(|inner| remove(inner, &rest, step));
        }
        None => {
            let (parent, name) = step.rsplit_once('/').unwrap();
            if let Some(Value::Object(fields)) = value.pointer_mut(parent) {
                fields.remove(name);
            }
        }
    }
}

#[test]
fn odd_houses_are_houses() {
    let house = |space: Value| said(&json!({"schema": 1, "spaces": [space]}));
    // A room under a slope, and an attic that is said to be tight.
    assert_eq!(
        house(json!({"id": "loft", "kind": "attic", "floor_area": "100 ft²", "ceiling_height": "8 ft", "volume": "1,000 ft³"})),
        [""; 0]
    );
    let word = |facing: &str, bearing: &str| {
        said(&json!({"equipment": [{"id": "x", "placement": {"facing": facing, "bearing": bearing}}]})).len()
    };
    assert_eq!(
        (word("north", "0.4 deg"), word("north", "359.6 deg"), word("northwest", "-45 deg"), word("north", "0.6 deg")),
        (0, 0, 0, 1)
    );
}

#[test]
fn no_demo_house_contradicts_itself() {
    let houses = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/houses");
    let mut count = 0;
    for entry in std::fs::read_dir(houses).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|end| end == "json") {
            let document: Value = serde_json::from_slice(&std::fs::read(&path).unwrap()).unwrap();
            assert_eq!(said(&document), [""; 0], "{}", path.display());
            count += 1;
        }
    }
    assert!(count >= 5, "{count} houses");
}
