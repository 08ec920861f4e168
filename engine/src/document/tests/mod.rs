//! Faults in documents of a small format of the tests' own, shaped the way schemas are generated from types.

mod geometry;
mod names;
mod schema;
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
