//! Reads a manifest: text, schema, typed, and the checks a schema cannot make.

use super::{check_manifest, hint};
use crate::diagnostic::{Code, Diagnostic, SourceFile, quoted};
use crate::document::{Checker, Document, Format, Limits, SpanIndex, join, read_bytes};
use redtag_schema::pack;
use serde_json::Value;
use std::sync::{Arc, LazyLock};

/// A manifest that can be used, with its text.
pub(super) struct Manifest {
    pub(super) content: pack::Manifest,
    pub(super) source: Arc<SourceFile>,
    pub(super) spans: SpanIndex,
    pub(super) notes: Vec<Diagnostic>,
}

static FORMAT: LazyLock<Result<Format, Diagnostic>> = LazyLock::new(|| {
    let schema = schemars::schema_for!(pack::Manifest).to_value();
    Ok(Format { name: "pack manifest", version: 1, checker: Checker::new(schema)? })
});

/// Reads a manifest under the name to show.
pub(super) fn read(name: &str, bytes: &[u8]) -> Result<Manifest, Vec<Diagnostic>> {
    let format = FORMAT.as_ref().map_err(|error| vec![error.clone()])?;
    let document: Result<Document<pack::Manifest>, _> = read_bytes(name, bytes, format, &Limits::default());
    let Document { content, source, spans, notes, .. } =
        document.map_err(|complaints| complaints.into_iter().map(in_our_words).collect::<Vec<_>>())?;
    let mut complaints = unknown_fields(&source);
    complaints.extend(check_manifest::check(&content));
    let placed = complaints.into_iter().map(|complaint| {
        let pointer = complaint.pointer.clone().unwrap_or_default();
        locate(&source, &spans, complaint, &pointer)
    });
    let mut complaints: Vec<Diagnostic> = placed.chain(notes).collect();
    Diagnostic::sort(&mut complaints);
    if complaints.iter().any(Diagnostic::is_error) {
        return Err(complaints);
    }
    Ok(Manifest { content, source, spans, notes: complaints })
}

/// Versions are text to the schema; that one cannot be read is the author's slip, not the program's.
fn in_our_words(complaint: Diagnostic) -> Diagnostic {
    let (code, message, expected) = match (complaint.code, complaint.pointer.as_deref()) {
        (Code::ReaderDisagrees, Some("/version")) => {
            (Code::BadVersion, "this is not a version", "three numbers (semantic versioning), such as \"1.2.0\"")
        }
        (Code::ReaderDisagrees, Some("/stands_on/version")) => {
            (Code::BadVersionRange, "this is not a range of versions", "such as \"^1.2\", \"=1.2.0\" or \">=1.2, <2\"")
        }
        _ => return complaint,
    };
    let mut ours = Diagnostic::error(code, message).expected(expected);
    ours.primary = complaint.primary;
    ours.pointer = complaint.pointer;
    ours
}

/// The fields an amendment may have. The schema cannot refuse others, because the change's own fields stand among them.
const COMMON: [&str; 5] = ["change", "ordinance", "in_force", "reason", "standing"];

fn unknown_fields(source: &SourceFile) -> Vec<Diagnostic> {
    let value: Value = serde_json::from_str(source.text()).unwrap_or_default();
    let amendments = value.get("amendments").and_then(Value::as_array).map_or(&[][..], Vec::as_slice);
    let mut out = Vec::new();
    for (index, amendment) in amendments.iter().enumerate() {
        let Some(fields) = amendment.as_object() else { continue };
        let change = amendment.get("change").and_then(Value::as_str).unwrap_or_default();
        let own: &[&str] = match change {
            "set" => &["rule", "parameter", "value"],
            "set-figure" => &["figure", "value"],
            "replace" => &["rule", "with"],
            "cite" => &["rule", "citations", "instead"],
            _ => &["rule"],
        };
        let known: Vec<&str> = own.iter().chain(&COMMON).copied().collect();
        for name in fields.keys().filter(|name| !known.contains(&name.as_str())) {
            let message = format!("an amendment that says `{change}` has no field {}", quoted(name));
            let complaint = Diagnostic::error(Code::UnknownField, message)
                .pointer(join(&format!("/amendments/{index}"), name))
                .expected(format!("one of {}", known.join(", ")));
            out.push(hint(complaint, name, &known));
        }
    }
    out
}

/// A complaint, put at a place in a manifest.
pub(super) fn locate(source: &Arc<SourceFile>, spans: &SpanIndex, complaint: Diagnostic, pointer: &str) -> Diagnostic {
    complaint.at(source, spans.nearest(pointer)).pointer(pointer)
}
