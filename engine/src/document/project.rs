//! Projects: the one kind of document whose outlines and boxes are held against one another.

use super::{Checker, Document, Format, Limits, Raw, SpanIndex, check_contradictions, check_geometry, read_and_check, text};
use crate::diagnostic::{Diagnostic, SourceFile};
use redtag_schema::project::{self, Project};
use serde_json::Value;
use std::path::Path;
use std::sync::{Arc, LazyLock};

/// A project that fits its format.
#[derive(Debug)]
pub struct ProjectDocument {
    /// What it says, typed.
    pub project: Project,
    /// The same as JSON, the way rules get it: amounts as numbers in SI units.
    pub canonical: Value,
    /// Its text.
    pub source: Arc<SourceFile>,
    /// Where its values stand in the text.
    pub spans: SpanIndex,
    /// What is worth knowing about it all the same.
    pub notes: Vec<Diagnostic>,
}

static PROJECT: LazyLock<Result<Format, Diagnostic>> = LazyLock::new(|| {
    let schema = project::json_schema();
    Ok(Format { name: "project", version: u64::from(project::SCHEMA), checker: Checker::new(schema)? })
});

/// The format of projects.
///
/// # Errors
/// A complaint about the schema built into this program, which a test rules out.
pub fn project_format() -> Result<&'static Format, Diagnostic> {
    PROJECT.as_ref().map_err(Clone::clone)
}

/// Reads a project.
///
/// # Errors
/// Every complaint about it, in the order of their places; at least one of them is an error.
pub fn read_project(path: &Path, limits: &Limits) -> Result<ProjectDocument, Vec<Diagnostic>> {
    let bytes = text::read_bytes(path, limits).map_err(|error| vec![error])?;
    read_project_bytes(&path.display().to_string(), &bytes, limits)
}

/// Reads a project that is already in memory, under the name to show.
///
/// # Errors
/// As [`read_project`].
pub fn read_project_bytes(name: &str, bytes: &[u8], limits: &Limits) -> Result<ProjectDocument, Vec<Diagnostic>> {
    let format = project_format().map_err(|error| vec![error])?;
    let Document { content, canonical, source, spans, notes } = read_and_check(name, bytes, format, limits, Some(held_together))?;
    Ok(ProjectDocument { project: content, canonical, source, spans, notes })
}

/// What can only be told of a project as a whole.
fn held_together(raw: &Raw) -> Vec<Diagnostic> {
    let mut complaints = check_geometry::check(raw);
    complaints.extend(check_contradictions::check(raw));
    complaints
}
