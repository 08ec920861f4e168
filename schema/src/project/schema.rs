//! The JSON Schema of a project document, draft 2020-12.
//!
//! Beside the standard keywords it says `x-identifies` (this text is the id of a thing of that class), `x-refers-to` (this
//! text is the id of a thing of that class, or of one of those classes, or of `any`), `x-dimension` (this text is an amount of
//! that kind), `x-range` (what such an amount or number can be, and what is usual) and `x-descriptive` (no rule reads this, by
//! intent). A text whose description asks for `YYYY-MM-DD` has the standard's `format: date`. The engine checks references,
//! amounts and days by these words alone.

use super::Project;
use schemars::transform::{Transform, transform_subschemas};
use schemars::{Schema, generate::SchemaSettings};
use serde_json::{Map, Value};

/// Where the schema says it lives.
const ADDRESS: &str = "https://redtag.example/schema/project-1.json";

/// The JSON Schema of the project as its author writes it.
pub fn json_schema() -> Value {
    let settings = SchemaSettings::draft2020_12().with_transform(AsWritten);
    let schema = settings.into_generator().into_root_schema_for::<Project>();
    let mut document = Map::new();
    document.insert("$schema".to_owned(), schema.get("$schema").cloned().unwrap_or_default());
    document.insert("$id".to_owned(), ADDRESS.into());
    if let Value::Object(rest) = schema.to_value() {
        document.extend(rest.into_iter().filter(|(key, _)| key != "$schema"));
    }
    super::range::add(&mut document);
    Value::Object(document)
}

/// Makes the schema say what an author may write: nothing is `null`, since what is not known is left out; a reference in a
/// list is said of each item; integers carry their bounds instead of machine formats.
#[derive(Debug, Clone)]
struct AsWritten;

impl Transform for AsWritten {
    fn transform(&mut self, schema: &mut Schema) {
        let Some(object) = schema.as_object_mut() else { return };
        drop_null(object);
        refer_from_items(object);
        bound_integers(object);
        bound_texts(object);
        mark_days(object);
        transform_subschemas(self, schema);
    }
}

fn drop_null(object: &mut Map<String, Value>) {
    if let Some(Value::Array(types)) = object.get_mut("type") {
        types.retain(|name| name != "null");
        if let [only] = types.as_slice() {
            let only = only.clone();
            object.insert("type".to_owned(), only);
        }
    }
    let is_null = |form: &Value| form.get("type").is_some_and(|name| name == "null");
    let Some(Value::Array(forms)) = object.get_mut("anyOf") else { return };
    forms.retain(|form| !is_null(form));
    if let [Value::Object(only)] = forms.as_slice() {
        let only = only.clone();
        object.remove("anyOf");
        for (key, value) in only {
            object.entry(key).or_insert(value);
        }
    }
}

/// A number past the machine's is no number to the reader, so it must be none to the schema.
fn bound_integers(object: &mut Map<String, Value>) {
    match object.remove("format").as_ref().and_then(Value::as_str) {
        Some("uint32") => {
            object.insert("maximum".to_owned(), u32::MAX.into());
        }
        Some("int32") => {
            object.insert("minimum".to_owned(), i32::MIN.into());
            object.insert("maximum".to_owned(), i32::MAX.into());
        }
        _ => {}
    }
}

/// The longest name, reference or amount, in characters.
const LONGEST_NAME: u32 = 200;
/// The longest other text.
const LONGEST_TEXT: u32 = 4_000;

/// No text is endless: a label of ten megabytes passed the document once and made every rule answer too much.
fn bound_texts(object: &mut Map<String, Value>) {
    let text =
        object.get("type").is_some_and(|name| name == "string") && !object.contains_key("enum") && !object.contains_key("const");
    if !text || object.contains_key("maxLength") {
        return;
    }
    let name = ["x-identifies", "x-refers-to", "x-dimension"].iter().any(|word| object.contains_key(*word));
    object.insert("maxLength".to_owned(), if name { LONGEST_NAME } else { LONGEST_TEXT }.into());
}

/// A description that asks for a day of the calendar binds: the law of the day and the end of a variance hang on it.
fn mark_days(object: &mut Map<String, Value>) {
    let text = object.get("type").is_some_and(|name| name == "string");
    let asks = object.get("description").and_then(Value::as_str).is_some_and(|words| words.contains("`YYYY-MM-DD`"));
    if text && asks {
        object.insert("format".to_owned(), "date".into());
    }
}

fn refer_from_items(object: &mut Map<String, Value>) {
    if object.get("type").is_none_or(|name| name != "array") {
        return;
    }
    let Some(class) = object.remove("x-refers-to") else { return };
    if let Some(Value::Object(items)) = object.get_mut("items") {
        items.insert("x-refers-to".to_owned(), class);
    }
}
