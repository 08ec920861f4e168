//! Reads JSON documents and finds everything wrong with them at once.
//!
//! A document passes through gates: bytes to text, text to values, values against the schema, names against one another,
//! amounts against what can be and, for a project, outlines and boxes against one another and facts that cannot both be true.
//! A text that is not JSON stops at the second gate; the later ones all run, each passing over what an earlier one has
//! complained about. Plain slips of the syntax are read past.

mod check_amounts;
mod check_contradictions;
mod check_geometry;
mod check_references;
mod check_schema;
mod check_version;
mod did_you_mean;
mod naming;
mod patch;
mod project;
mod repair;
mod schema_view;
mod spans;
mod syntax;
mod syntax_error;
mod text;

use crate::diagnostic::{Code, Diagnostic, SourceFile};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;
use std::path::Path;
use std::sync::Arc;

pub use check_references::is_day;
pub use check_schema::Checker;
pub use did_you_mean::did_you_mean;
pub use patch::patched;
pub use project::{
    Checked, ProjectDocument, check_project, check_project_bytes, project_format, read_project, read_project_bytes,
};
pub use schema_view::marked;
pub use spans::{SpanIndex, inside_string, join, tokens};
pub use text::{Limits, open_regular, read_bytes as read_limited};

/// A kind of document: what it must look like.
#[derive(Debug)]
pub struct Format {
    /// What its authors call it, without an article: `"project"`.
    pub name: &'static str,
    /// The number its field `schema` must have.
    pub version: u64,
    /// Its JSON Schema.
    pub checker: Checker,
}

/// A document that fits its format.
#[derive(Debug)]
pub struct Document<T> {
    /// What it says, typed.
    pub content: T,
    /// The same as JSON, the way it is handed on: amounts as numbers in SI units.
    pub canonical: Value,
    /// Its text.
    pub source: Arc<SourceFile>,
    /// Where its values stand in the text.
    pub spans: SpanIndex,
    /// What is worth knowing about it all the same.
    pub notes: Vec<Diagnostic>,
}

/// A document that is JSON, before anything else is known about it.
#[derive(Debug)]
struct Raw {
    file: Arc<SourceFile>,
    value: Value,
    spans: SpanIndex,
}

/// Further checks of one kind of document.
type ExtraCheck = fn(&Raw) -> Vec<Diagnostic>;

/// A document as far as it can be read, and everything that is wrong with it.
#[derive(Debug)]
struct Seen<T> {
    source: Arc<SourceFile>,
    spans: SpanIndex,
    /// What it says, where it is JSON; where slips of the syntax were read past, what is left of it.
    value: Option<Value>,
    complaints: Vec<Diagnostic>,
    /// The typed reading and its canonical form, where nothing but the drawing keeps the document from being used.
    content: Option<(T, Value)>,
}

/// Reads a document of any format.
///
/// # Errors
/// Every complaint about it, in the order of their places; at least one of them is an error.
pub fn read<T>(path: &Path, format: &Format, limits: &Limits) -> Result<Document<T>, Vec<Diagnostic>>
where
    T: Serialize + DeserializeOwned,
{
    let bytes = text::read_bytes(path, limits).map_err(|error| vec![error])?;
    read_bytes(&path.display().to_string(), &bytes, format, limits)
}

/// Reads a document of any format that is already in memory, under the name to show.
///
/// # Errors
/// As [`read`].
pub fn read_bytes<T>(name: &str, bytes: &[u8], format: &Format, limits: &Limits) -> Result<Document<T>, Vec<Diagnostic>>
where
    T: Serialize + DeserializeOwned,
{
    let Seen { source, spans, complaints, content, .. } = see(name, bytes, format, limits, None);
    match content {
        Some((content, canonical)) if !complaints.iter().any(Diagnostic::is_error) => {
            Ok(Document { content, canonical, source, spans, notes: complaints })
        }
        _ => Err(complaints),
    }
}

/// Reads what can be read of a document.
fn see<T>(name: &str, bytes: &[u8], format: &Format, limits: &Limits, extra: Option<ExtraCheck>) -> Seen<T>
where
    T: Serialize + DeserializeOwned,
{
    let text = match text::decode(name, bytes, limits) {
        Ok(text) => text,
        Err(error) => return unread(name, error),
    };
    let mut complaints = text.notes;
    // One more than is reported tells that there are more.
    let most = limits.complaints.saturating_add(1);
    let parsed = syntax::parse(&text.file, most);
    let sound = parsed.slips.is_empty();
    complaints.extend(parsed.slips);
    let Some((value, spans)) = parsed.read else {
        let complaints = settled(complaints, [], limits);
        return Seen { source: text.file, spans: SpanIndex::default(), value: None, complaints, content: None };
    };
    complaints.extend(parsed.duplicate_keys);
    let raw = Raw { file: text.file, value, spans };
    complaints.extend(gates(&raw, format, extra, most));
    let stops = |one: &Diagnostic| one.is_error() && !one.code.is_about_the_drawing() && !one.code.is_about_the_facts();
    let mut content = None;
    if sound && !complaints.iter().any(stops) {
        match typed::<T>(&raw, format) {
            Ok(read) => content = Some(read),
            Err(error) => complaints.push(*error),
        }
    }
    let complaints = settled(complaints, [], limits);
    Seen { source: raw.file, spans: raw.spans, value: Some(raw.value), complaints, content }
}

/// A document of which not even the text can be had.
fn unread<T>(name: &str, error: Diagnostic) -> Seen<T> {
    let source = error.primary.as_ref().map_or_else(|| Arc::new(SourceFile::new(name, "")), |span| Arc::clone(&span.file));
    Seen { source, spans: SpanIndex::default(), value: None, complaints: vec![error], content: None }
}

/// The most things and places of a project: everything that is written in braces.
const THINGS: usize = 8_000;

fn things(value: &Value) -> usize {
    match value {
        Value::Object(fields) => 1 + fields.values().map(things).sum::<usize>(),
        Value::Array(items) => items.iter().map(things).sum(),
        _ => 0,
    }
}

/// What the gates behind the syntax say.
fn gates(raw: &Raw, format: &Format, extra: Option<ExtraCheck>, most: usize) -> Vec<Diagnostic> {
    if let Err(error) = check_version::check(raw, format) {
        return vec![error];
    }
    // A house has some hundred things; thousands of faults in a row cost more to explain than anybody reads.
    let count = if extra.is_some() { things(&raw.value) } else { 0 };
    if count > THINGS {
        let message = format!("this {} holds {count} things and places, which is more than a building has", format.name);
        let complaint = Diagnostic::error(Code::TooMany, message).at(&raw.file, 0..1).pointer("");
        return vec![complaint.expected(format!("{THINGS} at the most, corners of outlines among them"))];
    }
    let mut complaints = format.checker.check(raw, most);
    complaints.extend(check_references::check(raw, format.checker.schema(), most));
    complaints.extend(check_amounts::check(raw, format.checker.schema(), most));
    complaints.extend(extra.into_iter().flat_map(|check| check(raw)));
    complaints
}

/// All complaints in the order of their places, cut to what a person can read.
fn settled(mut complaints: Vec<Diagnostic>, more: impl IntoIterator<Item = Diagnostic>, limits: &Limits) -> Vec<Diagnostic> {
    complaints.extend(more);
    Diagnostic::sort(&mut complaints);
    let most = limits.complaints.max(1);
    if complaints.len() > most {
        // Notes go first: an error must be left to say that the document cannot be used.
        complaints.sort_by_key(|complaint| complaint.severity);
        complaints.truncate(most);
        Diagnostic::sort(&mut complaints);
        let message = format!("there are more complaints; {most} are shown");
        complaints.push(Diagnostic::note(Code::MoreComplaints, message).help("mend these first"));
    }
    complaints
}

/// The typed reading. The schema has been met, so a refusal here is a gap between schema and type: ours, not the author's.
fn typed<T>(raw: &Raw, format: &Format) -> Result<(T, Value), Box<Diagnostic>>
where
    T: Serialize + DeserializeOwned,
{
    let ours = |message: String, pointer: &str| {
        let name = format.name;
        Box::new(
            Diagnostic::error(Code::ReaderDisagrees, format!("the {name} fits its schema but cannot be read: {message}"))
                .at(&raw.file, raw.spans.nearest(pointer))
                .pointer(pointer)
                .help("this is a fault of redtag: please report it with this message"),
        )
    };
    let content: T = serde_path_to_error::deserialize(&raw.value)
        .map_err(|error| ours(error.inner().to_string(), &pointer_of(error.path())))?;
    let canonical = serde_json::to_value(&content).map_err(|error| ours(error.to_string(), ""))?;
    Ok((content, canonical))
}

fn pointer_of(path: &serde_path_to_error::Path) -> String {
    use serde_path_to_error::Segment;
    path.iter().fold(String::new(), |pointer, segment| match segment {
        Segment::Seq { index } => join(&pointer, &index.to_string()),
        Segment::Map { key } => join(&pointer, key),
        Segment::Enum { .. } | Segment::Unknown => pointer,
    })
}

#[cfg(test)]
pub(crate) mod tests;
