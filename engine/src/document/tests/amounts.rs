//! Amounts that cannot be are refused, those nobody builds are advised about: every amount of the schema, by machine.

use crate::document::{Limits, Raw, check_amounts, syntax, text};
use redtag_schema::project;
use redtag_schema::quantity::Kind;
use serde_json::{Value, json};
use std::path::Path;

fn raw(document: &Value) -> Raw {
    let text = serde_json::to_string_pretty(document).unwrap();
    let text = text::decode("house.json", text.as_bytes(), &Limits::default()).unwrap();
    let (value, spans) = syntax::parse(&text.file, 9).read.unwrap();
    Raw { file: text.file, value, spans }
}

fn said(document: &Value, schema: &Value) -> Vec<String> {
    check_amounts::check(&raw(document), schema, 1000).iter().map(|one| one.one_line()).collect()
}

/// Every field with a range: its record, its name, its schema.
fn ranged(schema: &Value) -> Vec<(String, String, Value)> {
    let mut out = Vec::new();
    for (record, one) in schema["$defs"].as_object().unwrap() {
        for (name, field) in one["properties"].as_object().into_iter().flatten() {
            let field = field.get("items").unwrap_or(field);
            if field.get("x-range").is_some() {
                out.push((record.clone(), name.clone(), field.clone()));
            }
        }
    }
    out
}

#[test]
fn no_amount_is_taken_at_nought_at_a_trillion_at_next_to_nothing_or_below_zero() {
    let schema = project::json_schema();
    let (mut tried, mut silent) = (0, Vec::new());
    for (record, name, field) in ranged(&schema) {
        let Some(kind) = field["x-dimension"].as_str().and_then(|name| Kind::ALL.iter().find(|kind| kind.name() == name)) else {
            continue;
        };
        // The record alone, as a document of its own.
        let own = json!({"$ref": format!("#/$defs/{record}"), "$defs": schema["$defs"]});
        let list = schema["$defs"][&record]["properties"][&name]["type"] == "array";
        let unit = kind.units()[0].symbol();
        let none = field["x-range"]["none"] == true;
        for number in ["0", "1000000000000", "0.000000000001", "-1000000000000"] {
            let written = if *kind == Kind::ThermalResistance { format!("R-{number}") } else { format!("{number} {unit}") };
            // Below nothing does not read; nought may be an answer, and where below nought is one, so is next to nothing.
            let signed = kind.may_be_negative();
            let meant = (none && number == "0") || (signed && matches!(number, "0" | "0.000000000001"));
            if meant || kind.parse(&written).is_err() {
                continue;
            }
            let value = if list { json!([written]) } else { json!(written) };
            tried += 1;
            if said(&json!({ name.as_str(): value }), &own).is_empty() {
                silent.push(format!("{record}.{name}: {written}"));
            }
        }
    }
    assert!(tried > 1000, "{tried} tried");
    assert!(silent.is_empty(), "{} of {tried} taken in silence: {silent:#?}", silent.len());
}

#[test]
pub(crate) fn what_is_impossible_is_an_error_and_what_is_unusual_a_warning() {
    let schema = project::json_schema();
    let of = |amount: &str| {
        let document = json!({"equipment": [{"id": "f", "kind": "furnace", "fuel_burning": {"plate": {"input": amount}}}]});
        said(&document, &schema)
    };
    assert_eq!(of("100,000 Btu/h"), [""; 0]);
    assert_eq!(of("0 Btu/h"), ["house.json:8:20: error: `input` of 0 Btu/h cannot be (/equipment/0/fuel_burning/plate/input)"]);
    assert_eq!(
        of("3 MMBtu/h"),
        ["house.json:8:20: warning: `input` of 3 MMBtu/h is unusual (/equipment/0/fuel_burning/plate/input)"]
    );
    // The limits themselves, in another unit.
    assert_eq!(of("2,000 MBH"), [""; 0]);
    // An amount in a list, and a plain number.
    let of = |document: Value| said(&document, &schema).len();
    assert_eq!(of(json!({"raceways": [{"id": "r", "runs": [{"bends": [{"angle": "-90 deg", "count": 1}]}]}]})), 1);
    assert_eq!(of(json!({"raceways": [{"id": "r", "runs": [{"bends": [{"angle": "90 deg", "count": 500}]}]}]})), 1);
}

#[test]
fn every_amount_of_the_demo_houses_is_usual() {
    let schema = project::json_schema();
    let houses = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/houses");
    let mut count = 0;
    for entry in std::fs::read_dir(houses).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|end| end == "json") {
            let document: Value = serde_json::from_slice(&std::fs::read(&path).unwrap()).unwrap();
            assert_eq!(said(&document, &schema), [""; 0], "{}", path.display());
            count += 1;
        }
    }
    assert!(count >= 5, "{count} houses");
}
