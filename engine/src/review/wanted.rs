//! What belongs at a place of the project that is empty: the words and the example of the project's schema.

use serde_json::Value;

/// The schema of project documents, to be asked about places.
#[derive(Debug, Clone, Copy)]
pub struct ProjectSchema<'s>(&'s Value);

/// What the schema says of a place.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Wanted {
    /// Its description.
    pub what: Option<String>,
    /// A blank to be filled in: shaped like what belongs there, and never a value that would read.
    pub example: Option<String>,
}

impl<'s> ProjectSchema<'s> {
    /// A schema as a JSON document.
    pub fn new(schema: &'s Value) -> Self {
        Self(schema)
    }

    /// Whether a list belongs at a place in a project.
    pub fn is_list(&self, pointer: &str, project: &Value) -> bool {
        self.nodes(pointer, project).iter().any(|node| node.get("type").is_some_and(|name| name == "array"))
    }

    /// What the schema says of a place in a project. Where the schema knows several forms of a thing, the project decides
    /// which of them is meant.
    pub fn wanted(&self, pointer: &str, project: &Value) -> Wanted {
        let nodes = self.nodes(pointer, project);
        let first = |key: &str| nodes.iter().find_map(|node| node.get(key));
        let what = first("description").and_then(Value::as_str).map(str::to_owned);
        Wanted { what, example: blank(&nodes) }
    }

    /// Every part of the schema that speaks of a place.
    fn nodes(&self, pointer: &str, project: &Value) -> Vec<&'s Value> {
        let mut nodes = self.forms(self.0, Some(project));
        let mut here = Some(project);
        for step in pointer.split('/').skip(1) {
            let step = step.replace("~1", "/").replace("~0", "~");
            here = here.and_then(|value| child(value, &step));
            let below: Vec<&'s Value> = nodes.iter().filter_map(|node| below(node, &step)).collect();
            nodes = below.into_iter().flat_map(|node| self.forms(node, here)).collect();
        }
        nodes
    }

    /// A node and everything it stands for: what it refers to, and the alternatives that fit what is there.
    fn forms(&self, node: &'s Value, here: Option<&Value>) -> Vec<&'s Value> {
        const DEEPEST: usize = 32;
        let mut found = Vec::new();
        self.collect(node, here, DEEPEST, &mut found);
        found
    }

    fn collect(&self, node: &'s Value, here: Option<&Value>, depth: usize, found: &mut Vec<&'s Value>) {
        if depth == 0 || !fits(node, here) {
            return;
        }
        found.push(node);
        let target = node.get("$ref").and_then(Value::as_str).and_then(|target| self.0.pointer(target.strip_prefix('#')?));
        if let Some(target) = target {
            self.collect(target, here, depth - 1, found);
        }
        for key in ["allOf", "anyOf", "oneOf"] {
            for form in node.get(key).and_then(Value::as_array).into_iter().flatten() {
                self.collect(form, here, depth - 1, found);
            }
        }
    }
}

fn child<'a>(value: &'a Value, step: &str) -> Option<&'a Value> {
    match value {
        Value::Object(fields) => fields.get(step),
        Value::Array(items) => items.get(step.parse::<usize>().ok()?),
        _ => None,
    }
}

fn below<'a>(node: &'a Value, step: &str) -> Option<&'a Value> {
    let field = node.get("properties").and_then(|fields| fields.get(step));
    let item = || step.parse::<usize>().ok().or((step == "-").then_some(0)).and_then(|_| node.get("items"));
    field.or_else(item).or_else(|| node.get("additionalProperties").filter(|schema| schema.is_object()))
}

/// Whether a form can be what is there: no constant it asks of a field contradicts the field.
fn fits(node: &Value, here: Option<&Value>) -> bool {
    let fields = node.get("properties").and_then(Value::as_object);
    fields.into_iter().flatten().all(|(name, schema)| match (schema.get("const"), here.and_then(|here| here.get(name))) {
        (Some(wanted), Some(there)) => wanted == there,
        _ => true,
    })
}

/// What has to be replaced by a value.
const TO_FILL: &str = "___";

/// A blank for a place: the unit of an amount, the words to choose from. Whoever copies it unread writes no value: a report that
/// prints one that passes answers its own question.
fn blank(nodes: &[&Value]) -> Option<String> {
    let first = |key: &str| nodes.iter().find_map(|node| node.get(key));
    if let Some(words) = choices(nodes) {
        return Some(words);
    }
    if first("type").is_some_and(|name| name == "boolean") {
        return Some("true or false".to_owned());
    }
    let example = first("examples").and_then(|examples| examples.get(0))?;
    match example {
        Value::String(amount) if first("x-dimension").is_some() => {
            let unit = amount.trim_start_matches(|sign: char| !sign.is_alphabetic() && !"°%".contains(sign));
            // Some units come before their number, as R-8 does.
            let before = amount.starts_with(char::is_alphabetic);
            let unit = if before { amount.trim_end_matches(|sign: char| !sign.is_alphabetic() && sign != '-') } else { unit };
            Some(if before { format!("\"{unit}{TO_FILL}\"") } else { format!("\"{TO_FILL} {unit}\"") })
        }
        Value::Array(_) => Some(format!("[{TO_FILL}]")),
        _ => Some(TO_FILL.to_owned()),
    }
}

/// The words that may stand there, where the schema lists them.
fn choices(nodes: &[&Value]) -> Option<String> {
    const MOST: usize = 6;
    let listed = nodes.iter().filter_map(|node| node.get("enum")?.as_array()).flatten();
    let single = nodes.iter().filter_map(|node| node.get("const"));
    let words: Vec<String> = listed.chain(single).filter(|word| !word.is_null()).map(Value::to_string).collect();
    match words.len() {
        0 => None,
        1 => Some(TO_FILL.to_owned()),
        count if count <= MOST + 1 => Some(words.join(" or ")),
        count => Some(format!("{} or one of {} others", words[..MOST].join(" or "), count - MOST)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn schema() -> Value {
        json!({
            "properties": {
                "stage": {"description": "The stage.", "anyOf": [{"$ref": "#/$defs/Stage"}, {"type": "null"}]},
                "equipment": {"items": {"$ref": "#/$defs/Equipment"}},
            },
            "$defs": {
                "Stage": {"oneOf": [{"const": "permit"}, {"const": "final"}]},
                "Equipment": {"oneOf": [
                    {"properties": {"kind": {"const": "boiler"}, "input": {"$ref": "#/$defs/Power", "description": "Boiler input."}}},
                    {"properties": {"kind": {"const": "heater"}, "input": {"$ref": "#/$defs/Power", "description": "Heater input."}}},
                ]},
                "Power": {"description": "A power.", "x-dimension": "power", "examples": ["40,000 Btu/h"]},
            },
        })
    }

    fn wanted(pointer: &str, project: &Value) -> Wanted {
        ProjectSchema::new(&schema()).wanted(pointer, project)
    }

    #[test]
    fn the_form_that_is_there_is_the_one_described() {
        let project = json!({"equipment": [{"kind": "boiler"}, {"kind": "heater"}]});
        let heater = wanted("/equipment/1/input", &project);
        assert_eq!(heater.what.as_deref(), Some("Heater input."));
        assert_eq!(heater.example.as_deref(), Some("\"___ Btu/h\""));
        assert_eq!(wanted("/equipment/0/input", &project).what.as_deref(), Some("Boiler input."));
    }

    #[test]
    fn words_to_choose_from_are_an_example_too() {
        let stage = wanted("/stage", &json!({}));
        assert_eq!(stage, Wanted { what: Some("The stage.".into()), example: Some("\"permit\" or \"final\"".into()) });
    }

    /// Copied as it is printed, no blank is a value: it is no JSON, or no amount.
    #[test]
    fn every_printed_example_is_a_blank() {
        let schema: Value = serde_json::from_str(redtag_schema::project::JSON_SCHEMA).expect("the published schema");
        let of = ProjectSchema::new(&schema);
        let mut tried = 0;
        for (record, node) in schema["$defs"].as_object().expect("records") {
            for (name, field) in node.get("properties").and_then(Value::as_object).into_iter().flatten() {
                let nodes = of.forms(field, None);
                let Some(printed) = blank(&nodes) else { continue };
                tried += 1;
                let Ok(copied) = serde_json::from_str::<Value>(&printed) else { continue };
                let kind = nodes.iter().find_map(|node| node.get("x-dimension")).cloned().unwrap_or_default();
                let kind: redtag_schema::quantity::Kind = serde_json::from_value(kind).expect("only amounts are quoted");
                let amount = copied.as_str().expect("an amount is text");
                assert!(kind.parse(amount).is_err(), "{record}/{name}: {printed} reads");
            }
        }
        assert!(tried > 500, "only {tried} fields print something");
    }

    #[test]
    fn an_unknown_place_wants_nothing_known() {
        for pointer in ["/nowhere/at/all", "/equipment/x", ""] {
            assert_eq!(wanted(pointer, &json!({})), Wanted::default(), "{pointer}");
        }
    }
}
