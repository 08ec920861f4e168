//! The JSON Schemas under `schema/json/` are what the types say, and are schemas.
//!
//! After a change to a type: `REDTAG_BLESS=1 cargo test -p redtag-schema --test schemas_are_current`.

use redtag_schema::published::{ALL, Published};
use serde_json::Value;
use std::path::PathBuf;

fn path(file: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("json").join(file)
}

fn text(schema: &Value) -> String {
    let mut text = serde_json::to_string_pretty(schema).expect("a schema can be written");
    text.push('\n');
    text
}

#[test]
fn the_checked_in_schemas_are_current() {
    let bless = std::env::var_os("REDTAG_BLESS").is_some_and(|value| value == "1");
    for Published { file, make, .. } in ALL {
        let (path, wanted) = (path(file), text(&make()));
        if bless {
            let beside = path.with_extension("new");
            std::fs::write(&beside, &wanted).and_then(|()| std::fs::rename(&beside, &path)).expect("the schema can be replaced");
        }
        let found = std::fs::read_to_string(&path).unwrap_or_default();
        assert!(found == wanted, "schema/json/{file} is not what the types say; run this test with REDTAG_BLESS=1");
    }
}

#[test]
fn every_schema_is_a_schema() {
    for Published { file, make, .. } in ALL {
        let schema = make();
        assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema", "{file}");
        let outcome = jsonschema::draft202012::meta::validate(&schema);
        assert!(outcome.is_ok(), "{file}: {}", outcome.unwrap_err());
    }
}

/// Every schema object in a schema, with its pointer.
fn walk<'a>(schema: &'a Value, pointer: String, visit: &mut dyn FnMut(&str, &'a Value)) {
    visit(&pointer, schema);
    match schema {
        Value::Object(fields) => fields.iter().for_each(|(key, inner)| walk(inner, format!("{pointer}/{key}"), visit)),
        Value::Array(items) => items.iter().enumerate().for_each(|(at, inner)| walk(inner, format!("{pointer}/{at}"), visit)),
        _ => {}
    }
}

#[test]
fn every_reference_of_a_project_leads_to_a_class_that_something_identifies() {
    let schema = redtag_schema::project::json_schema();
    let (mut identified, mut referred) = (Vec::new(), Vec::new());
    walk(&schema, String::new(), &mut |pointer, node| {
        identified.extend(node.get("x-identifies").and_then(Value::as_str).map(str::to_owned));
        match node.get("x-refers-to") {
            Some(Value::String(class)) => referred.push((pointer.to_owned(), class.clone())),
            Some(Value::Array(classes)) => {
                referred.extend(classes.iter().filter_map(Value::as_str).map(|class| (pointer.to_owned(), class.to_owned())));
            }
            _ => {}
        }
    });
    assert!(referred.len() > 100, "only {} references found", referred.len());
    for (pointer, class) in referred {
        assert!(class == "any" || identified.contains(&class), "{pointer} refers to a {class}, which nothing is");
    }
}

#[test]
fn every_field_of_a_project_is_described_and_nothing_may_be_null() {
    let schema = redtag_schema::project::json_schema();
    walk(&schema, String::new(), &mut |pointer, node| {
        assert_ne!(node.get("type"), Some(&Value::from("null")), "{pointer} may be null");
        let is_field = pointer.rsplit('/').nth(1) == Some("properties");
        assert!(!is_field || node.get("description").is_some(), "{pointer} is not described");
        let is_record = node.get("type") == Some(&Value::from("object"));
        assert!(!is_record || node["additionalProperties"] == false, "{pointer} lets misspelt fields pass");
    });
}

#[test]
fn every_example_of_an_amount_is_one() {
    let schema = redtag_schema::project::json_schema();
    let mut count = 0;
    walk(&schema, String::new(), &mut |pointer, node| {
        let Some(dimension) = node.get("x-dimension") else { return };
        let kind: redtag_schema::quantity::Kind = serde_json::from_value(dimension.clone()).expect("a known dimension");
        for example in node["examples"].as_array().into_iter().flatten() {
            let read = kind.parse(example.as_str().unwrap_or_default());
            assert!(read.is_ok(), "{pointer}: {example}: {}", read.unwrap_err());
            count += 1;
        }
    });
    assert!(count > 500, "only {count} examples found");
}
