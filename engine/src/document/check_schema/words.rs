//! Mistakes in words, at their places.

use super::fields::{missing_field, unknown_field};
use super::mistake::{Mistake, Slip};
use crate::diagnostic::{Code, Diagnostic};
use crate::document::Raw;
use crate::document::did_you_mean::did_you_mean;
use crate::document::naming::{called, found, listed, option_words};
use crate::document::schema_view::SchemaView;
use crate::document::spans::inside_string;
use jsonschema::JsonType;
use redtag_schema::quantity::{Kind, QuantityError};
use serde_json::Value;

/// The complaint about a mistake.
pub(super) fn explain(mistake: &Mistake, view: SchemaView<'_>, raw: &Raw) -> Diagnostic {
    let pointer = mistake.pointer.as_str();
    match &mistake.slip {
        Slip::UnknownField(name) | Slip::LeftOverField(name) => unknown_field(name, pointer, view, raw),
        Slip::MissingField(name) => missing_field(name, pointer, view, raw),
        Slip::Choice { options, .. } => choice(options, pointer, raw),
        Slip::Type(types) => wrong_type(types, pointer, raw),
        Slip::Amount(kind) => amount(*kind, pointer, raw),
        Slip::Bound { wrong, expected } => {
            let message = format!("{} {wrong}", called(pointer, &raw.value));
            about(Diagnostic::error(Code::OutOfBounds, message), pointer, raw).expected(expected)
        }
    }
}

pub(super) fn about(diagnostic: Diagnostic, pointer: &str, raw: &Raw) -> Diagnostic {
    diagnostic.at(&raw.file, raw.spans.nearest(pointer)).pointer(pointer)
}

fn value<'a>(pointer: &str, raw: &'a Raw) -> &'a Value {
    raw.value.pointer(pointer).unwrap_or(&Value::Null)
}

fn choice(options: &[Value], pointer: &str, raw: &Raw) -> Diagnostic {
    let value = value(pointer, raw);
    let message = format!("{} cannot be {}", called(pointer, &raw.value), found(value));
    let shown: Vec<_> = options.iter().filter(|option| !option.is_null()).map(option_words).collect();
    let diagnostic = about(Diagnostic::error(Code::UnknownChoice, message), pointer, raw).expected(listed(shown));
    let meant = value.as_str().and_then(|word| did_you_mean(word, options.iter().filter_map(Value::as_str)));
    match meant {
        Some(meant) => diagnostic.help(format!("did you mean `{meant}`?")),
        None => diagnostic,
    }
}

fn wrong_type(types: &[JsonType], pointer: &str, raw: &Raw) -> Diagnostic {
    let value = value(pointer, raw);
    let message = format!("{} cannot be {}", called(pointer, &raw.value), found(value));
    // That a field may be null is no advice: leaving it out says the same.
    let wanted = types.iter().filter(|one| **one != JsonType::Null || types.len() == 1).map(|one| type_words(*one));
    let diagnostic = about(Diagnostic::error(Code::WrongType, message), pointer, raw).expected(listed(wanted));
    match value {
        Value::Null => diagnostic.help("leave the field out when it is not known"),
        Value::String(words) if types.contains(&JsonType::Boolean) && matches!(words.as_str(), "true" | "false") => {
            diagnostic.help("remove the quotation marks")
        }
        Value::String(words) if is_number_type(types) && words.trim().parse::<f64>().is_ok() => {
            diagnostic.help("remove the quotation marks")
        }
        Value::Number(_) | Value::Bool(_) if types.contains(&JsonType::String) => {
            diagnostic.help("put it in double quotation marks")
        }
        _ => diagnostic,
    }
}

fn is_number_type(types: &[JsonType]) -> bool {
    types.contains(&JsonType::Number) || types.contains(&JsonType::Integer)
}

fn type_words(one: JsonType) -> String {
    match one {
        JsonType::Array => "a list: `[ ... ]`",
        JsonType::Boolean => "`true` or `false`",
        JsonType::Integer => "a whole number",
        JsonType::Null => "`null`",
        JsonType::Number => "a number",
        JsonType::Object => "an object: `{ ... }`",
        JsonType::String => "a text in double quotation marks",
    }
    .to_owned()
}

fn amount(kind: Kind, pointer: &str, raw: &Raw) -> Diagnostic {
    let name = called(pointer, &raw.value);
    match value(pointer, raw) {
        Value::String(words) => {
            let Err(error) = kind.parse(words) else {
                return about(Diagnostic::error(Code::BadAmount, format!("{name} is not {}", kind.phrase())), pointer, raw);
            };
            let literal = raw.spans.nearest(pointer);
            let inside = inside_string(raw.file.text(), &literal, &error.range());
            // Nothing to underline inside `""`: the quotation marks are better than nothing.
            let place = if inside.is_empty() { literal } else { inside };
            Diagnostic::error(Code::BadAmount, format!("{name}: {error}")).at(&raw.file, place).pointer(pointer)
        }
        Value::Number(number) => bare_number(kind, &number.to_string(), pointer, raw),
        other => {
            let message = format!("{name} cannot be {}", found(other));
            let examples = listed(kind.examples().iter().take(3).map(|example| format!("`\"{example}\"`")));
            let diagnostic = about(Diagnostic::error(Code::WrongType, message), pointer, raw)
                .expected(format!("{} in double quotation marks, such as {examples}", kind.phrase()));
            if other.is_null() { diagnostic.help("leave the field out when it is not known") } else { diagnostic }
        }
    }
}

fn bare_number(kind: Kind, number: &str, pointer: &str, raw: &Raw) -> Diagnostic {
    let message = format!("{} is the bare number {number}", called(pointer, &raw.value));
    let diagnostic = about(Diagnostic::error(Code::BareNumber, message), pointer, raw)
        .expected(format!("{} as a text in double quotation marks, with its unit", kind.phrase()));
    match kind.parse(number) {
        // A ratio needs no unit.
        Ok(_) => diagnostic.expected(format!("{} as a text", kind.phrase())).help(format!("write \"{number}\"")),
        Err(QuantityError::NoUnit { choices, .. }) => diagnostic.help(format!("write {choices}")),
        Err(error) => diagnostic.help(error.to_string()),
    }
}
