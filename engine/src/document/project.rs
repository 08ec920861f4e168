//! Projects: the one kind of document whose outlines and boxes are held against one another.

use super::{Checker, Format, Limits, Raw, Seen, SpanIndex, check_contradictions, check_geometry, see, text, unread};
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

/// A project as far as it can be read: for whoever shows it while it is being written.
#[derive(Debug)]
pub struct Checked {
    /// Its text; empty where not even that could be had.
    pub source: Arc<SourceFile>,
    /// Where its values stand in the text.
    pub spans: SpanIndex,
    /// What it says, where it is JSON. Where slips of the syntax were read past, what is left of it.
    pub value: Option<Value>,
    /// Everything wrong with it, in the order of the places, and what is worth knowing about it.
    pub complaints: Vec<Diagnostic>,
    /// The project, where nothing is wrong with it but what is about the drawing: rooms and bodies that do not fit one another
    /// yet. It can be reviewed; it cannot be submitted.
    pub project: Option<ProjectDocument>,
}

impl Checked {
    /// Whether something keeps it from being submitted.
    pub fn is_refused(&self) -> bool {
        self.project.is_none() || self.complaints.iter().any(Diagnostic::is_error)
    }

    /// The project, if nothing keeps it from being submitted.
    ///
    /// # Errors
    /// Every complaint about it, in the order of their places; at least one of them is an error.
    pub fn sound(self) -> Result<ProjectDocument, Vec<Diagnostic>> {
        if self.is_refused() {
            return Err(self.complaints);
        }
        self.project.ok_or(self.complaints)
    }
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

/// Reads a project as far as it can be read.
pub fn check_project(path: &Path, limits: &Limits) -> Checked {
    let name = path.display().to_string();
    match text::read_bytes(path, limits) {
        Ok(bytes) => check_project_bytes(&name, &bytes, limits),
        Err(error) => Checked::from(unread(&name, error)),
    }
}

/// Reads a project that is already in memory as far as it can be read, under the name to show.
pub fn check_project_bytes(name: &str, bytes: &[u8], limits: &Limits) -> Checked {
    match project_format() {
        Ok(format) => Checked::from(see(name, bytes, format, limits, Some(held_together))),
        Err(error) => Checked::from(unread(name, error)),
    }
}

/// What can only be told of a project as a whole.
fn held_together(raw: &Raw) -> Vec<Diagnostic> {
    let mut complaints = check_geometry::check(raw);
    complaints.extend(check_contradictions::check(raw));
    complaints
}

impl From<Seen<Project>> for Checked {
    fn from(seen: Seen<Project>) -> Self {
        let Seen { source, spans, value, complaints, content } = seen;
        let project = content.map(|(project, canonical)| ProjectDocument {
            project,
            canonical,
            source: Arc::clone(&source),
            spans: spans.clone(),
            notes: complaints.iter().filter(|one| !one.is_error()).cloned().collect(),
        });
        Self { source, spans, value, complaints, project }
    }
}

/// Reads a project.
///
/// # Errors
/// Every complaint about it, in the order of their places; at least one of them is an error.
pub fn read_project(path: &Path, limits: &Limits) -> Result<ProjectDocument, Vec<Diagnostic>> {
    check_project(path, limits).sound()
}

/// Reads a project that is already in memory, under the name to show.
///
/// # Errors
/// As [`read_project`].
pub fn read_project_bytes(name: &str, bytes: &[u8], limits: &Limits) -> Result<ProjectDocument, Vec<Diagnostic>> {
    check_project_bytes(name, bytes, limits).sound()
}
