//! Fields nobody knows and fields that are not there, in words.

use super::fold::meant_field;
use super::words::about;
use crate::diagnostic::{Code, Diagnostic, quoted};
use crate::document::Raw;
use crate::document::naming::{called, listed, option_words};
use crate::document::schema_view::{SchemaView, known_fields, options};
use crate::document::spans::join;
use serde_json::Value;

/// The complaint about a field the object at a pointer cannot have.
pub(super) fn unknown_field(name: &str, pointer: &str, view: SchemaView<'_>, raw: &Raw) -> Diagnostic {
    let field = join(pointer, name);
    let message = format!("{} has no field {}", called(pointer, &raw.value), quoted(name));
    let diagnostic = Diagnostic::error(Code::UnknownField, message)
        .at(&raw.file, raw.spans.key(&field).unwrap_or_else(|| raw.spans.nearest(pointer)))
        .pointer(field);
    if let Some(place) = belongs(name, pointer, view, raw) {
        return diagnostic.help(place);
    }
    if let Some(meant) = meant_field(name, pointer, view, &raw.value) {
        return diagnostic.help(format!("did you mean `{meant}`?"));
    }
    let known = known_fields(&view.at(&raw.value, pointer));
    let diagnostic = diagnostic.help("remove it, or check where it belongs");
    if known.is_empty() { diagnostic } else { diagnostic.expected(listed(known.into_iter().map(quoted))) }
}

/// Where a field of this very name would be right: inside a field of the object, or one level up.
fn belongs(name: &str, pointer: &str, view: SchemaView<'_>, raw: &Raw) -> Option<String> {
    let schemas = view.at(&raw.value, pointer);
    for known in known_fields(&schemas) {
        let inner = view.field(&schemas, known, &Value::Null);
        if known_fields(&inner).contains(&name) {
            return Some(format!("it belongs inside `{known}`"));
        }
        if known_fields(&view.item(&inner, 0, &Value::Null)).contains(&name) {
            return Some(format!("it belongs in an item of the list `{known}`"));
        }
    }
    let (outer, _) = pointer.rsplit_once('/')?;
    let fits = known_fields(&view.at(&raw.value, outer)).contains(&name);
    fits.then(|| format!("it belongs one level up, in {}", called(outer, &raw.value)))
}

/// The complaint about a field the object at a pointer must have.
pub(super) fn missing_field(name: &str, pointer: &str, view: SchemaView<'_>, raw: &Raw) -> Diagnostic {
    let message = format!("{} lacks the field {}", called(pointer, &raw.value), quoted(name));
    let diagnostic = about(Diagnostic::error(Code::MissingField, message), pointer, raw);
    let field = view.field(&view.at(&raw.value, pointer), name, &Value::Null);
    let allowed = options(&field);
    if allowed.is_empty() { diagnostic } else { diagnostic.expected(listed(allowed.into_iter().map(option_words))) }
}
