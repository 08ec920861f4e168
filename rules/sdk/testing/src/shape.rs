//! The published JSON Schema of a project, walked beside a project: what may be left out, and what could stand there instead.

use redtag_rule::schema::quantity::Kind;
use serde_json::{Map, Value, json};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

static SCHEMA: LazyLock<Value> = LazyLock::new(|| {
    serde_json::from_str(redtag_rule::schema::project::JSON_SCHEMA)
        .unwrap_or_else(|error| panic!("the project's schema: {error}"))
});

/// Parts of a project that no module is given.
const NOT_FOR_RULES: [&str; 8] = ["$schema", "schema", "name", "stage", "application_date", "packs", "variances", "notes"];

/// What a fact is to the thing it belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Role {
    /// A field that may be left out.
    Field,
    /// One of a list, which may be shorter.
    Element,
}

/// Something a project says and could leave unsaid.
#[derive(Debug, Clone)]
pub(crate) struct Fact {
    /// Where it stands.
    pub(crate) pointer: String,
    /// The same with `*` for every place in a list.
    pub(crate) pattern: String,
    pub(crate) role: Role,
    node: &'static Map<String, Value>,
    /// Whether the list it is may hold more than the project says: see `may_hold_more`.
    open: bool,
    /// Whether the project says that the list it is holds everything.
    whole: bool,
    /// The record of the schema it is a field of; for an element, the one it is.
    record: &'static str,
    /// The record it is itself, where it is one.
    is: &'static str,
}

/// A field of the schema: the record it belongs to, and its name.
pub type Field = (String, String);

impl Fact {
    /// The field it is, where it is one.
    pub(crate) fn field(&self) -> Option<Field> {
        let name = self.pointer.rsplit('/').next()?;
        (self.role == Role::Field).then(|| (self.record.to_owned(), name.to_owned()))
    }

    /// The whole project.
    fn root() -> Self {
        Self {
            pointer: String::new(),
            pattern: String::new(),
            role: Role::Field,
            node: resolved(&SCHEMA),
            open: false,
            whole: false,
            record: "",
            is: "Project",
        }
    }
}

/// Everything a project says and could leave unsaid, from the outside in.
pub(crate) fn facts(project: &Value) -> Vec<Fact> {
    let mut facts = Vec::new();
    walk(project, &Fact::root(), &mut |fact, _| facts.push(fact.clone()));
    facts
}

fn walk(value: &Value, at: &Fact, see: &mut impl FnMut(&Fact, &Value)) {
    match value {
        Value::Object(fields) => {
            let required = at.node.get("required").and_then(Value::as_array);
            for (name, inner) in fields {
                let Some(node) = at.node.get("properties").and_then(|all| all.get(name)) else { continue };
                if name == "note" || (at.pointer.is_empty() && NOT_FOR_RULES.contains(&name.as_str())) {
                    continue;
                }
                let below = Fact {
                    pointer: format!("{}/{name}", at.pointer),
                    pattern: format!("{}/{name}", at.pattern),
                    role: Role::Field,
                    node: resolved(node),
                    open: may_hold_more(at.node, fields, name),
                    whole: fields.get(&format!("{name}_complete")) == Some(&Value::Bool(true)),
                    record: at.is,
                    is: record_of(node),
                };
                if !required.is_some_and(|names| names.iter().any(|one| one == name)) {
                    see(&below, inner);
                }
                walk(inner, &below, see);
            }
        }
        Value::Array(items) => {
            let Some(node) = at.node.get("items") else { return };
            // The corners of an outline are one fact together: with a corner less it is another outline.
            let corners = node.get("$ref").is_some_and(|name| name == "#/$defs/Point");
            for (index, inner) in items.iter().enumerate().filter(|_| !corners) {
                let (pointer, pattern) = (format!("{}/{index}", at.pointer), format!("{}/*", at.pattern));
                let below = Fact {
                    pointer,
                    pattern,
                    role: Role::Element,
                    node: resolved(node),
                    open: false,
                    whole: false,
                    record: at.is,
                    is: record_of(node),
                };
                if at.open || (!inner.is_object() && !at.whole) {
                    see(&below, inner);
                }
                walk(inner, &below, see);
            }
        }
        _ => {}
    }
}

/// The name of the record a place of the schema refers to.
fn record_of(node: &'static Value) -> &'static str {
    let target = node.get("$ref").or_else(|| node.get("items")?.get("$ref")).and_then(Value::as_str);
    target.and_then(|target| target.rsplit('/').next()).unwrap_or_default()
}

/// Every field of the schema that may be left out and is given to rules: those that count, and those marked as there for people.
pub(crate) fn all_fields() -> (BTreeSet<Field>, BTreeSet<Field>) {
    let (mut counting, mut descriptive) = (BTreeSet::new(), BTreeSet::new());
    let records = SCHEMA.get("$defs").and_then(Value::as_object).into_iter().flatten().map(|(name, node)| (name.as_str(), node));
    for (record, node) in records.chain([("Project", &*SCHEMA)]) {
        let required = node.get("required").and_then(Value::as_array);
        for (name, field) in node.get("properties").and_then(Value::as_object).into_iter().flatten() {
            let must = required.is_some_and(|names| names.iter().any(|one| one == name));
            if must || name == "note" || (record == "Project" && NOT_FOR_RULES.contains(&name.as_str())) {
                continue;
            }
            let for_people = field.get("x-descriptive") == Some(&Value::Bool(true));
            let into = if for_people { &mut descriptive } else { &mut counting };
            into.insert((record.to_owned(), name.clone()));
        }
    }
    (counting, descriptive)
}

/// Whether a list of things may be shorter than the truth: where the file can say that it is whole, and does not. Of any other
/// list of things the file holds what there is to review; a thing that is not in it is no part of the house.
fn may_hold_more(node: &Map<String, Value>, fields: &Map<String, Value>, name: &str) -> bool {
    let mark = format!("{name}_complete");
    let can_say = node.get("properties").is_some_and(|all| all.get(&mark).is_some());
    can_say && fields.get(&mark) != Some(&Value::Bool(true))
}

fn resolved(node: &'static Value) -> &'static Map<String, Value> {
    static NONE: LazyLock<Map<String, Value>> = LazyLock::new(Map::new);
    let target = match node.get("$ref").and_then(Value::as_str) {
        // What stands beside a reference are words for people, but for the marks of lists and ids, which stand on no reference.
        Some(reference) => SCHEMA.pointer(&reference[1..]).unwrap_or(&Value::Null),
        None => node,
    };
    target.as_object().unwrap_or(&NONE)
}

/// The ids of a project by class.
pub(crate) fn ids(project: &Value) -> BTreeMap<String, Vec<String>> {
    let mut ids: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let mut note = |fact: &Fact, value: &Value| {
        let class = fact.node.get("properties").and_then(|all| all.get("id")).and_then(|id| id.get("x-identifies"));
        if let (Some(Value::String(class)), Some(Value::String(id))) = (class, value.get("id")) {
            ids.entry(class.clone()).or_default().push(id.clone());
        }
    };
    walk(project, &Fact::root(), &mut note);
    ids
}

/// What could stand where a fact is left out: every word of a closed set, yes and no, a tenth and ten times an amount, other
/// things a reference could mean, no list and a longer one. What it was comes first.
pub(crate) fn values(fact: &Fact, was: &Value, ids: &BTreeMap<String, Vec<String>>) -> Vec<Value> {
    let mut values = vec![was.clone()];
    if let Some(words) = fact.node.get("oneOf").and_then(Value::as_array) {
        values.extend(words.iter().filter_map(|word| word.get("const")).cloned());
    } else if let Some(kind) = fact.node.get("x-dimension") {
        values.extend(amounts(kind, was));
    } else if let Some(class) = fact.node.get("x-refers-to") {
        values.extend(ids_of(class, ids));
    } else {
        values.extend(plain(fact, was));
    }
    let mut seen: Vec<Value> = Vec::new();
    values.retain(|value| {
        !seen.contains(value) && {
            seen.push(value.clone());
            true
        }
    });
    values
}

fn plain(fact: &Fact, was: &Value) -> Vec<Value> {
    match was {
        Value::Bool(_) => vec![json!(true), json!(false)],
        Value::Number(number) if fact.node.get("type").is_some_and(|name| name == "integer") => {
            let number = number.as_i64().unwrap_or_default();
            vec![json!(number / 10), json!(number * 10)]
        }
        Value::Number(number) => number.as_f64().map_or_else(Vec::new, |number| vec![json!(number * 0.1), json!(number * 10.0)]),
        Value::Array(items) => longer(items),
        _ => Vec::new(),
    }
}

fn amounts(kind: &Value, was: &Value) -> Vec<Value> {
    let Ok(kind) = serde_json::from_value::<Kind>(kind.clone()) else { return Vec::new() };
    let si = was.as_str().and_then(|text| kind.parse(text).ok()).or_else(|| was.get("si").and_then(Value::as_f64));
    let Some(si) = si else { return Vec::new() };
    [0.1, 10.0].map(|times| json!({ "si": si * times, "unit": kind.si_unit() })).to_vec()
}

fn ids_of(class: &Value, ids: &BTreeMap<String, Vec<String>>) -> Vec<Value> {
    let classes: Vec<&str> =
        class.as_str().into_iter().chain(class.as_array().into_iter().flatten().filter_map(Value::as_str)).collect();
    let of_class = ids.iter().filter(|(name, _)| classes.contains(&name.as_str()) || classes == ["any"]);
    of_class.flat_map(|(_, ids)| ids).map(|id| json!(id)).collect()
}

/// No list, and one with one more: like the last, and the last with its id and kind alone.
fn longer(items: &[Value]) -> Vec<Value> {
    let mut lists = vec![json!([])];
    if let Some(last @ Value::Object(fields)) = items.last() {
        let bare: Map<String, Value> = fields
            .iter()
            .filter(|(name, _)| ["id", "kind"].contains(&name.as_str()))
            .map(|(name, value)| (name.clone(), value.clone()))
            .collect();
        for mut one in [last.clone(), Value::Object(bare)] {
            rename(&mut one);
            lists.push(Value::Array(items.iter().cloned().chain([one]).collect()));
        }
    }
    lists
}

/// Gives a copy and everything in it ids of its own.
fn rename(value: &mut Value) {
    match value {
        Value::Object(fields) => fields.iter_mut().for_each(|(name, inner)| match inner {
            Value::String(id) if name == "id" => id.push_str("-more"),
            inner => rename(inner),
        }),
        Value::Array(items) => items.iter_mut().for_each(rename),
        _ => {}
    }
}

/// The project without a fact.
pub(crate) fn without(project: &Value, fact: &Fact) -> Value {
    let mut project = project.clone();
    take_out(&mut project, fact);
    project
}

/// The project with something else where a fact stands.
pub(crate) fn with(project: &Value, fact: &Fact, value: Value) -> Value {
    let mut project = project.clone();
    put_in(&mut project, fact, value);
    project
}

/// Takes a fact out.
pub(crate) fn take_out(project: &mut Value, fact: &Fact) {
    let Some((parent, last)) = fact.pointer.rsplit_once('/') else { return };
    match project.pointer_mut(parent) {
        Some(Value::Object(fields)) => drop(fields.shift_remove(last)),
        Some(Value::Array(items)) => {
            if let Ok(index) = last.parse::<usize>() {
                items.remove(index);
            }
        }
        _ => {}
    }
}

/// Puts something else where a fact stands.
pub(crate) fn put_in(project: &mut Value, fact: &Fact, value: Value) {
    if let Some(place) = project.pointer_mut(&fact.pointer) {
        *place = value;
    }
}

/// The parts of a project that rules are given.
#[cfg(test)]
pub(crate) fn parts() -> Vec<String> {
    let names = SCHEMA.get("properties").and_then(Value::as_object).into_iter().flatten().map(|(name, _)| name.clone());
    names.filter(|name| !NOT_FOR_RULES.contains(&name.as_str())).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn project() -> Value {
        json!({"schema": 1, "name": "x", "spaces": [{"id": "hall", "kind": "corridor", "ceiling_height": "8 ft",
            "outline": [{"x": "0 ft", "y": "0 ft"}, {"x": "1 ft", "y": "0 ft"}, {"x": "1 ft", "y": "1 ft"}]}],
            "openings": [{"id": "d", "kind": "door", "space": "hall"}]})
    }

    #[test]
    fn what_must_be_there_and_what_rules_do_not_get_are_no_facts() {
        let patterns: Vec<String> = facts(&project()).into_iter().map(|fact| fact.pattern).collect();
        let expected = ["/spaces", "/spaces/*/ceiling_height", "/spaces/*/outline", "/openings", "/openings/*/space"];
        assert_eq!(patterns, expected);
    }

    #[test]
    fn every_sort_of_fact_has_other_values() {
        let (project, ids) = (project(), ids(&project()));
        let tried = |pointer: &str| {
            let fact = facts(&project).into_iter().find(|fact| fact.pointer == pointer).unwrap();
            values(&fact, project.pointer(pointer).unwrap(), &ids)
        };
        assert_eq!(tried("/openings/0/space"), [json!("hall")]);
        let heights = tried("/spaces/0/ceiling_height");
        assert!((heights.len(), heights[2]["si"].as_f64().unwrap().round()) == (3, 24.0), "{heights:?}");
        assert_eq!(tried("/openings").iter().map(|list| list.as_array().unwrap().len()).collect::<Vec<_>>(), [1, 0, 2, 2]);
    }

    #[test]
    fn one_of_a_list_that_can_be_said_whole_and_is_not_may_be_missing() {
        let patterns = |circuits: Value| {
            let panel = json!({"id": "main", "circuits": [{"id": "one"}], "circuits_complete": circuits});
            let project = json!({"schema": 1, "electrical": {"panels": [panel]}});
            facts(&project).into_iter().filter(|fact| fact.role == Role::Element).map(|fact| fact.pattern).collect::<Vec<_>>()
        };
        assert_eq!(patterns(json!(false)), ["/electrical/panels/*/circuits/*"]);
        assert_eq!(patterns(json!(true)), Vec::<String>::new());
        let project = json!({"schema": 1, "electrical": {"panels": [{"id": "main", "circuits": [{"id": "one"}]}]}});
        let fact = facts(&project).into_iter().find(|fact| fact.role == Role::Element).unwrap();
        assert_eq!(without(&project, &fact)["electrical"]["panels"][0]["circuits"], json!([]));
    }
}
