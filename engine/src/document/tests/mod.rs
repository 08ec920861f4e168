//! Faults in documents of a small format of the tests' own, shaped the way schemas are generated from types.

pub(crate) mod amounts;
pub(crate) mod contradictions;
pub(crate) mod geometry;
pub(crate) mod names;
pub(crate) mod schema;
mod typos;

use super::*;
use serde_json::json;

/// A format with an amount, a choice, alternatives told apart by a tag, names and mentions.
fn shop() -> Format {
    let schema = json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "type": "object",
        "additionalProperties": false,
        "required": ["schema"],
        "properties": {
            "schema": { "type": "integer", "const": 1 },
            "width": length(json!("string")),
            "height": length(json!(["string", "null"])),
            "share": { "type": ["string", "null"], "x-dimension": "ratio" },
            "stories": { "type": ["integer", "null"], "minimum": 0 },
            "sealed": { "type": ["boolean", "null"] },
            "material": { "anyOf": [{ "$ref": "#/$defs/Material" }, { "type": "null" }] },
            "rooms": { "type": "array", "items": { "$ref": "#/$defs/Room" } },
            "devices": { "type": "array", "items": { "$ref": "#/$defs/Device" } },
            "about": { "type": "string", "x-refers-to": "any" },
            "tags": { "type": "array", "items": { "type": "string" }, "x-refers-to": ["room", "device"] },
        },
        "$defs": {
            "Material": {
                "oneOf": [
                    { "type": "string", "enum": ["black-steel", "copper"] },
                    { "type": "string", "const": "corrugated-stainless", "description": "Flexible." },
                ],
            },
            "Room": {
                "type": "object",
                "additionalProperties": false,
                "required": ["id"],
                "properties": {
                    "id": { "type": "string", "pattern": "^[a-z0-9-]+$", "x-identifies": "room" },
                    "floor_height": length(json!(["string", "null"])),
                },
            },
            "Device": {
                "type": "object",
                "required": ["id"],
                "properties": {
                    "id": { "type": "string", "x-identifies": "device" },
                    "room": { "type": ["string", "null"], "x-refers-to": "room" },
                },
                "oneOf": [
                    {
                        "type": "object",
                        "required": ["kind"],
                        "properties": { "kind": { "type": "string", "const": "tank" }, "volume": { "type": "string", "x-dimension": "volume" } },
                    },
                    {
                        "type": "object",
                        "required": ["kind"],
                        "properties": { "kind": { "type": "string", "const": "pump" }, "flow": { "type": "string", "x-dimension": "volume-flow" } },
                    },
                ],
                "unevaluatedProperties": false,
            },
        },
    });
    Format { name: "shop", version: 1, checker: Checker::new(schema).unwrap() }
}

fn length(types: Value) -> Value {
    json!({ "type": types, "x-dimension": "length", "pattern": "^\\s*[0-9].*[^0-9]" })
}

fn complaints(text: &str) -> Vec<Diagnostic> {
    read_bytes::<Value>("shop.json", text.as_bytes(), &shop(), &Limits::default()).err().unwrap_or_default()
}

/// The complaints about a document in one line each, with `expected` and `help` where there are.
fn said(text: &str) -> Vec<String> {
    complaints(text)
        .iter()
        .map(|one| {
            let expected = one.expected.as_deref().map_or_else(String::new, |words| format!(" | expected {words}"));
            let help = one.help.as_deref().map_or_else(String::new, |words| format!(" | {words}"));
            format!("{}{expected}{help}", one.one_line())
        })
        .collect()
}

#[test]
pub(crate) fn what_the_schema_accepts_and_the_type_refuses_is_our_fault() {
    #[derive(Debug, serde::Serialize, serde::Deserialize)]
    struct Shop {
        stories: Vec<u8>,
    }
    let format = Format { name: "shop", version: 1, checker: Checker::new(json!({ "type": "object" })).unwrap() };
    let read = |text: &str| read_bytes::<Shop>("shop.json", text.as_bytes(), &format, &Limits::default());
    assert_eq!(read("{\"stories\": [1, 2]}").unwrap().content.stories, [1, 2]);
    let complaints = read("{\"stories\": [1, 256]}").unwrap_err();
    assert_eq!(complaints.len(), 1);
    let said = complaints[0].one_line();
    assert!(said.starts_with("shop.json:1:17: error: the shop fits its schema but cannot be read: "), "{said}");
    assert!(said.ends_with("(/stories/1)"), "{said}");
}

#[test]
fn a_refused_document_is_never_silent() {
    // Nothing of ours puts `not` into words.
    let schema = json!({ "not": { "required": ["a"] }, "anyOf": [{ "minProperties": 1 }] });
    let format = Format { name: "shop", version: 1, checker: Checker::new(schema).unwrap() };
    for text in ["{\"a\": 1}", "{}"] {
        let complaints = read_bytes::<Value>("shop.json", text.as_bytes(), &format, &Limits::default()).unwrap_err();
        assert_eq!(complaints.len(), 1, "{complaints:?}");
    }
}

#[test]
pub(crate) fn a_schema_that_is_none_is_refused() {
    for schema in [json!({ "type": "stone" }), json!({ "x-dimension": "colour" })] {
        assert_eq!(Checker::new(schema).unwrap_err().code, Code::BadSchema);
    }
}

/// RFC 6901, section 5: the example document and what each pointer leads to.
#[test]
fn pointers_lead_where_the_standard_says() {
    let text =
        r#"{"foo": ["bar", "baz"], "": 0, "a/b": 1, "c%d": 2, "e^f": 3, "g|h": 4, "i\\j": 5, "k\"l": 6, " ": 7, "m~n": 8}"#;
    let file = Arc::new(SourceFile::new("x", text));
    let spans = syntax::parse(&file, 9).read.unwrap().1;
    let leads = [
        ("", text),
        ("/foo", r#"["bar", "baz"]"#),
        ("/foo/0", "\"bar\""),
        ("/", "0"),
        ("/a~1b", "1"),
        ("/c%d", "2"),
        ("/e^f", "3"),
        ("/g|h", "4"),
        ("/i\\j", "5"),
        ("/k\"l", "6"),
        ("/ ", "7"),
        ("/m~0n", "8"),
    ];
    for (pointer, wanted) in leads {
        assert_eq!(spans.value(pointer).map(|range| &text[range]), Some(wanted), "{pointer}");
    }
    assert_eq!(spans.value("/nought"), None);
    assert_eq!(spans.value("/foo/2"), None);
    assert_eq!(spans.key("/a~1b").map(|range| &text[range]), Some("\"a/b\""));
    assert_eq!(spans.nearest("/foo/7/x"), spans.head("/foo").unwrap());
}

#[test]
fn keys_are_compared_as_they_read() {
    let said = said("{\"schema\": 1, \"tags\": [], \"t\\u0061gs\": []}");
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].starts_with("shop.json:1:27: error: `tags` stands twice in the same object (/tags)"), "{said:?}");
}
