//! Which parts of a JSON Schema speak about a place of a document: references followed, alternatives that cannot be meant
//! left out.

use serde_json::{Map, Value};

/// A JSON Schema to walk beside a document.
#[derive(Debug, Clone, Copy)]
pub(super) struct SchemaView<'s> {
    root: &'s Value,
}

/// The keywords of a schema object.
pub(super) type Keywords<'s> = &'s Map<String, Value>;

impl<'s> SchemaView<'s> {
    pub(super) fn new(root: &'s Value) -> Self {
        Self { root }
    }

    /// Every schema object that speaks about the whole document.
    pub(super) fn document(&self, value: &Value) -> Vec<Keywords<'s>> {
        self.expand(&[self.root], value)
    }

    /// Every schema object that speaks about the value a pointer leads to; none when there is no such value.
    pub(super) fn at(&self, document: &Value, pointer: &str) -> Vec<Keywords<'s>> {
        let mut value = document;
        let mut schemas = self.document(value);
        for token in super::spans::tokens(pointer) {
            let inner = match value {
                Value::Object(fields) => fields.get(&token),
                Value::Array(items) => token.parse::<usize>().ok().and_then(|at| items.get(at)),
                _ => None,
            };
            let Some(inner) = inner else { return Vec::new() };
            schemas = match value {
                Value::Array(_) => self.item(&schemas, token.parse().unwrap_or_default(), inner),
                _ => self.field(&schemas, &token, inner),
            };
            value = inner;
        }
        schemas
    }

    /// The schemas of a field of an object.
    pub(super) fn field(&self, schemas: &[Keywords<'s>], name: &str, value: &Value) -> Vec<Keywords<'s>> {
        let found: Vec<_> = schemas
            .iter()
            .filter_map(|schema| {
                let named = schema.get("properties").and_then(|properties| properties.get(name));
                named.or_else(|| schema.get("additionalProperties"))
            })
            .collect();
        self.expand(&found, value)
    }

    /// The schemas of an item of a list.
    pub(super) fn item(&self, schemas: &[Keywords<'s>], at: usize, value: &Value) -> Vec<Keywords<'s>> {
        let found: Vec<_> = schemas
            .iter()
            .filter_map(|schema| {
                let placed = schema.get("prefixItems").and_then(|items| items.get(at));
                placed.or_else(|| schema.get("items"))
            })
            .collect();
        self.expand(&found, value)
    }

    /// The schemas themselves and every part of them that must hold for the value, or may.
    fn expand(&self, schemas: &[&'s Value], value: &Value) -> Vec<Keywords<'s>> {
        let mut out = Vec::new();
        for schema in schemas {
            self.collect(schema, value, &mut out);
        }
        out
    }

    fn collect(&self, schema: &'s Value, value: &Value, out: &mut Vec<Keywords<'s>>) {
        let Some(keywords) = schema.as_object() else { return };
        if out.iter().any(|seen| std::ptr::eq(*seen, keywords)) {
            return;
        }
        out.push(keywords);
        if let Some(target) = self.target(keywords) {
            self.collect(target, value, out);
        }
        for part in list(keywords, "allOf") {
            self.collect(part, value, out);
        }
        for keyword in ["anyOf", "oneOf"] {
            let branches = list(keywords, keyword);
            let fitting: Vec<_> = branches.iter().filter(|branch| self.may_mean(branch, value, 0)).collect();
            // When nothing fits, the author meant one of them all the same.
            let meant = if fitting.is_empty() { branches.iter().collect() } else { fitting };
            meant.into_iter().for_each(|branch| self.collect(branch, value, out));
        }
        for keyword in ["then", "else"] {
            if let Some(part) = keywords.get(keyword) {
                self.collect(part, value, out);
            }
        }
    }

    /// Whether the value's type, and what tells alternatives apart, leave a branch possible.
    fn may_mean(&self, branch: &'s Value, value: &Value, depth: usize) -> bool {
        const DEEPEST: usize = 16;
        let Some(keywords) = branch.as_object() else { return branch != &Value::Bool(false) };
        if depth > DEEPEST {
            return true;
        }
        let type_fits = keywords.get("type").is_none_or(|types| allows_type(types, value));
        let tag_fits = value
            .as_object()
            .is_none_or(|fields| fields.iter().all(|(name, found)| tag(keywords, name).is_none_or(|wanted| wanted == found)));
        let target_fits = self.target(keywords).is_none_or(|target| self.may_mean(target, value, depth + 1));
        type_fits && tag_fits && target_fits && keywords.get("const").is_none_or(|wanted| wanted == value)
    }

    /// What a local `$ref` leads to.
    fn target(&self, keywords: Keywords<'s>) -> Option<&'s Value> {
        let pointer = keywords.get("$ref")?.as_str()?.strip_prefix('#')?;
        self.root.pointer(pointer)
    }
}

/// The uppermost values of a document that the schema gives a mark, such as `"x-descriptive": true`.
pub fn marked(document: &Value, schema: &Value, mark: &str) -> Vec<String> {
    let view = SchemaView::new(schema);
    let mut found = Vec::new();
    collect_marked(view, &view.document(document), document, String::new(), mark, &mut found);
    found
}

fn collect_marked(
    view: SchemaView<'_>,
    schemas: &[Keywords<'_>],
    value: &Value,
    pointer: String,
    mark: &str,
    found: &mut Vec<String>,
) {
    if annotation(schemas, mark).is_some_and(|set| set == true) {
        return found.push(pointer);
    }
    match value {
        Value::Object(fields) => {
            for (name, inner) in fields {
                let pointer = super::spans::join(&pointer, name);
                collect_marked(view, &view.field(schemas, name, inner), inner, pointer, mark, found);
            }
        }
        Value::Array(items) => {
            for (at, inner) in items.iter().enumerate() {
                let pointer = super::spans::join(&pointer, &at.to_string());
                collect_marked(view, &view.item(schemas, at, inner), inner, pointer, mark, found);
            }
        }
        _ => {}
    }
}

/// The names of the fields that schemas of an object know, in their order, each once.
pub(super) fn known_fields<'s>(schemas: &[Keywords<'s>]) -> Vec<&'s str> {
    let mut names: Vec<&str> = Vec::new();
    for name in schemas.iter().filter_map(|schema| schema.get("properties")?.as_object()).flat_map(Map::keys) {
        if !names.contains(&name.as_str()) {
            names.push(name);
        }
    }
    names
}

/// The values that schemas of a field list, each once: what a choice can be.
pub(super) fn options<'s>(schemas: &[Keywords<'s>]) -> Vec<&'s Value> {
    let mut options: Vec<&Value> = Vec::new();
    for schema in schemas {
        for option in schema.get("const").into_iter().chain(list(schema, "enum")) {
            if !option.is_null() && !options.contains(&option) {
                options.push(option);
            }
        }
    }
    options
}

/// The value of an annotation such as `x-dimension`, from the first schema that has it.
pub(super) fn annotation<'s>(schemas: &[Keywords<'s>], name: &str) -> Option<&'s Value> {
    schemas.iter().find_map(|schema| schema.get(name))
}

/// The one value a field must have in this branch: what tells it from its siblings.
fn tag<'s>(keywords: Keywords<'s>, name: &str) -> Option<&'s Value> {
    let field = keywords.get("properties")?.get(name)?;
    let single = || field.get("enum")?.as_array().filter(|options| options.len() == 1)?.first();
    field.get("const").or_else(single)
}

fn list<'s>(keywords: Keywords<'s>, name: &str) -> &'s [Value] {
    keywords.get(name).and_then(Value::as_array).map_or(&[], Vec::as_slice)
}

fn allows_type(types: &Value, value: &Value) -> bool {
    let allows = |name: &Value| match name.as_str() {
        Some("null") => value.is_null(),
        Some("boolean") => value.is_boolean(),
        Some("number" | "integer") => value.is_number(),
        Some("string") => value.is_string(),
        Some("array") => value.is_array(),
        Some("object") => value.is_object(),
        _ => true,
    };
    types.as_array().map_or_else(|| allows(types), |types| types.iter().any(allows))
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn alternatives_are_told_apart_by_their_tag() {
        let schema = json!({
            "oneOf": [
                { "properties": { "kind": { "const": "tank" }, "volume": {} } },
                { "properties": { "kind": { "const": "pump" }, "flow": {} } },
            ],
        });
        let view = SchemaView::new(&schema);
        let fields = |value| known_fields(&view.document(&value));
        assert_eq!(fields(json!({"kind": "pump"})), ["kind", "flow"]);
        assert_eq!(fields(json!({"kind": "pum"})), ["kind", "volume", "flow"]);
        assert_eq!(fields(json!({})), ["kind", "volume", "flow"]);
    }

    #[test]
    fn references_and_optional_parts_are_followed() {
        let schema = json!({
            "properties": { "site": { "anyOf": [{ "$ref": "#/$defs/Site" }, { "type": "null" }] } },
            "$defs": { "Site": { "type": "object", "properties": { "inside": { "$ref": "#/$defs/Site" }, "snow": {} } } },
        });
        let view = SchemaView::new(&schema);
        let document = json!({"site": {"inside": {"inside": {}}}});
        assert_eq!(known_fields(&view.at(&document, "/site/inside/inside")), ["inside", "snow"]);
        assert!(view.at(&document, "/site/outside").is_empty());
    }

    #[test]
    fn a_schema_that_refers_to_itself_ends() {
        let schema = json!({ "$ref": "#" });
        assert_eq!(SchemaView::new(&schema).document(&json!({})).len(), 1);
    }
}
