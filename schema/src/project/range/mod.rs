//! What an amount can be: what is impossible and refused, and what nobody builds and is advised about.
//!
//! The limits are the outermost of what is built, not what a code allows: a real house is never refused, and a slip of the
//! unit or of a zero is told before a rule believes it. Every amount and every whole number of a project has a range; a field
//! that stands in no class has the range of its dimension. The classes are common practice, set wide on purpose.

mod areas;
mod lengths;
mod others;
mod powers;

use crate::quantity::Kind;
use serde_json::{Map, Value, json};

/// The keyword of the JSON Schema that carries a range.
const KEYWORD: &str = "x-range";

/// A class of amounts that share a range.
#[derive(Debug)]
pub struct Range {
    /// What such an amount is, for the sentence "... is usual for ...".
    pub of: &'static str,
    /// The least and the greatest that can be at all; beyond it is refused.
    pub possible: (&'static str, &'static str),
    /// What is usual; beyond it is advised about.
    pub usual: (&'static str, &'static str),
    /// Whether nought is an answer of its own: there is none of it, or it touches.
    pub none: bool,
    /// The fields, as `Record.field`.
    pub fields: &'static [&'static str],
}

/// The class of a field that has one of its own.
fn class(field: &str) -> Option<&'static Range> {
    let tables = [lengths::RANGES, areas::RANGES, powers::RANGES, others::RANGES];
    tables.into_iter().flatten().find(|range| range.fields.contains(&field))
}

/// Adds `x-range` to every amount and whole number of a project's schema.
pub(super) fn add(document: &mut Map<String, Value>) {
    if let Some(Value::Object(records)) = document.get_mut("$defs") {
        for (name, record) in records.iter_mut() {
            fields(name, record.get_mut("properties"));
        }
    }
    fields("Project", document.get_mut("properties"));
}

fn fields(record: &str, properties: Option<&mut Value>) {
    for (name, field) in properties.and_then(Value::as_object_mut).into_iter().flatten() {
        field_of(&format!("{record}.{name}"), field);
    }
}

fn field_of(name: &str, field: &mut Value) {
    let Some(object) = field.as_object_mut() else { return };
    if object.contains_key("const") || object.contains_key("$ref") {
        return;
    }
    if let Some(items) = object.get_mut("items") {
        return field_of(name, items);
    }
    if let Some(kind) = object.get("x-dimension").and_then(Value::as_str) {
        let own = class(name).or_else(|| Kind::ALL.iter().find(|one| one.name() == kind).map(|kind| others::of_kind(*kind)));
        let Some(range) = own else { return };
        object.insert(KEYWORD.to_owned(), written(range, |limit| json!(limit)));
    } else if matches!(object.get("type").and_then(Value::as_str), Some("integer" | "number")) {
        let whole = object["type"] == "integer";
        let range = class(name).unwrap_or(&others::COUNT);
        let number = |limit: &str| number(limit, whole);
        object.insert("minimum".to_owned(), number(range.possible.0));
        object.insert("maximum".to_owned(), number(range.possible.1));
        object.insert(KEYWORD.to_owned(), written(range, number));
    }
}

/// A limit that is a plain number.
fn number(limit: &str, whole: bool) -> Value {
    let number: f64 = limit.parse().unwrap_or_default();
    if whole { json!(number as i64) } else { json!(number) }
}

fn written(range: &Range, limit: impl Fn(&str) -> Value) -> Value {
    json!({
        "of": range.of,
        "possible": [limit(range.possible.0), limit(range.possible.1)],
        "usual": [limit(range.usual.0), limit(range.usual.1)],
        "none": range.none,
    })
}

/// The fields that classes name, each once: for the test that none is stale.
#[cfg(test)]
pub(super) fn named() -> Vec<&'static str> {
    let tables = [lengths::RANGES, areas::RANGES, powers::RANGES, others::RANGES];
    tables.into_iter().flatten().flat_map(|range| range.fields.iter().copied()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn schema() -> Value {
        crate::project::json_schema()
    }

    /// Every field of every record, as `Record.field`.
    fn all(schema: &Value) -> Vec<(String, Value)> {
        let records = schema["$defs"].as_object().into_iter().flatten();
        let records = records.map(|(name, record)| (name.as_str(), record)).chain([("Project", schema)]);
        let mut out = Vec::new();
        for (record, schema) in records {
            for (name, field) in schema["properties"].as_object().into_iter().flatten() {
                out.push((format!("{record}.{name}"), field.clone()));
            }
        }
        out
    }

    #[test]
    fn every_class_names_fields_that_are_there_and_each_once() {
        let fields = all(&schema());
        let mut seen = std::collections::BTreeSet::new();
        for name in named() {
            assert!(fields.iter().any(|(field, _)| field == name), "{name} is no field");
            assert!(seen.insert(name), "{name} stands in two classes");
        }
        assert!(seen.len() > 400, "{} fields have a class", seen.len());
    }

    #[test]
    fn every_range_reads_in_its_dimension_and_is_one() {
        let mut count = 0;
        for (name, field) in all(&schema()) {
            let field = field.get("items").cloned().unwrap_or(field);
            let number = |limit: &Value| match field.get("x-dimension").and_then(Value::as_str) {
                Some(dimension) => {
                    let kind = Kind::ALL.iter().find(|kind| kind.name() == dimension).expect("a kind");
                    let words = limit.as_str().unwrap_or_default();
                    kind.parse(words).unwrap_or_else(|error| panic!("{name}: {words}: {error}"))
                }
                None => limit.as_f64().expect("a number"),
            };
            let counted = field.get("x-dimension").is_some()
                || matches!(field.get("type").and_then(Value::as_str), Some("integer" | "number"))
                    && field.get("const").is_none();
            let Some(range) = field.get(KEYWORD) else {
                assert!(!counted, "{name} has no range");
                continue;
            };
            let at = |which: &str, end: usize| number(&range[which][end]);
            let (least, from, to, most) = (at("possible", 0), at("usual", 0), at("usual", 1), at("possible", 1));
            assert!(least <= from && from < to && to <= most, "{name}: {least} {from} {to} {most}");
            count += 1;
        }
        assert!(count > 550, "{count} ranges");
    }
}
