//! The number in the field `schema`: which generation of the format a document is written in.

use super::naming::found;
use super::{Format, Raw};
use crate::diagnostic::{Code, Diagnostic};
use serde_json::Value;

const FIELD: &str = "/schema";

/// Whether the document is of the generation this program reads. Another one stops the reading: what follows would only
/// be complaints about what has changed. A missing number is left to the schema.
pub(super) fn check(raw: &Raw, format: &Format) -> Result<(), Diagnostic> {
    let Some(number) = raw.value.pointer(FIELD) else { return Ok(()) };
    let (name, version) = (format.name, format.version);
    let complaint = |message: String| {
        Diagnostic::error(Code::UnknownSchema, message)
            .at(&raw.file, raw.spans.nearest(FIELD))
            .pointer(FIELD)
            .expected(format!("`\"schema\": {version}`"))
    };
    match number {
        Value::Number(number) if number.as_u64() == Some(version) => Ok(()),
        Value::Number(number) if number.as_f64().is_some_and(|number| number > version as f64) => {
            let message = format!("this {name} is written for schema {number}; this redtag reads schema {version}");
            Err(complaint(message).help("update redtag"))
        }
        Value::Number(number) => {
            let message = format!("there never was a schema {number} of a {name}");
            Err(complaint(message).help(format!("schema {version} is the first: write `\"schema\": {version}`")))
        }
        Value::String(words) if words.trim() == version.to_string() => {
            Err(complaint("the schema number stands in quotation marks".to_owned()).help("remove the quotation marks"))
        }
        other => Err(complaint(format!("`schema` cannot be {}", found(other)))),
    }
}
