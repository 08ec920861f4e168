//! The demo houses are valid projects, read as such, and say every amount in a way that can be read.

use redtag_schema::project::{Project, json_schema};
use serde_json::Value;
use std::collections::BTreeSet;
use std::path::PathBuf;

const HOUSES: &[&str] = &["boatyard.json", "boatyard-corrected.json", "town-duplex.json"];

fn house(name: &str) -> Value {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../examples/houses").join(name);
    let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    serde_json::from_str(&text).unwrap_or_else(|error| panic!("{name}: {error}"))
}

#[test]
fn every_house_fits_the_schema() {
    let validator = jsonschema::draft202012::new(&json_schema()).expect("the schema compiles");
    for name in HOUSES {
        let house = house(name);
        let complaints: Vec<_> =
            validator.iter_errors(&house).map(|error| format!("{}: {error}", error.instance_path())).collect();
        assert!(complaints.is_empty(), "{name}:\n{}", complaints.join("\n"));
    }
}

#[test]
fn every_house_reads_as_a_project_and_its_canonical_form_reads_back() {
    for name in HOUSES {
        let project: Project = serde_json::from_value(house(name)).unwrap_or_else(|error| panic!("{name}: {error}"));
        let canonical = serde_json::to_value(&project).expect("a project can be written");
        let again: Project = serde_json::from_value(canonical.clone()).unwrap_or_else(|error| panic!("{name}: {error}"));
        assert!(again == project, "{name} changes on its way through the canonical form");
        assert!(!canonical.to_string().contains("unrecognised"), "{name} uses a word that the schema does not know");
    }
}

/// Every place of a house, without the numbers of list items: `/spaces/outline/x`.
fn places(value: &Value, at: &str, into: &mut BTreeSet<String>) {
    match value {
        Value::Object(fields) => fields.iter().for_each(|(name, inner)| places(inner, &format!("{at}/{name}"), into)),
        Value::Array(items) => items.iter().for_each(|inner| places(inner, at, into)),
        _ => drop(into.insert(at.to_owned())),
    }
}

#[test]
fn between_them_the_houses_touch_every_part_of_a_project() {
    let mut found = BTreeSet::new();
    HOUSES.iter().for_each(|name| places(&house(name), "", &mut found));
    for part in json_schema()["properties"].as_object().expect("a project has fields").keys() {
        let empty_on_purpose = ["packs", "variances"].contains(&part.as_str());
        let below = format!("/{part}/");
        let touched = found.iter().any(|place| place.starts_with(&below) || *place == below[..below.len() - 1]);
        assert!(touched || empty_on_purpose, "no house says anything about {part}");
    }
    assert!(found.len() > 500, "the houses say only {} different things", found.len());
}

#[test]
fn the_corrected_house_differs_in_few_places() {
    let (wrong, right) = (house("boatyard.json"), house("boatyard-corrected.json"));
    let lines = |value: &Value| {
        let text = serde_json::to_string_pretty(value).expect("a house can be written");
        text.lines().map(|line| line.trim().to_owned()).collect::<Vec<_>>()
    };
    let (wrong, right) = (lines(&wrong), lines(&right));
    let shared = wrong.iter().filter(|line| right.contains(line)).count();
    assert!(shared * 100 / wrong.len() > 97, "{shared} of {} lines are shared", wrong.len());
}
