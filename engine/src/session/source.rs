//! Projects on their way into a session.

use crate::diagnostic::{Code, Diagnostic};
use crate::document::{Checked, Limits, check_project, check_project_bytes, patched};
use serde_json::Value;
use std::path::{Path, PathBuf};

/// Where a project is to be read from.
#[derive(Debug, Clone)]
pub struct Source {
    name: String,
    text: Text,
    /// What lies here and above governs the project: its packs, its lock file.
    beside: Option<PathBuf>,
}

#[derive(Debug, Clone)]
enum Text {
    File(PathBuf),
    Bytes(Vec<u8>),
}

impl Source {
    /// A file. The folder `packs` beside it and the lock file beside or above it govern its review.
    pub fn file(path: impl Into<PathBuf>) -> Self {
        let path = path.into();
        Self { name: path.display().to_string(), beside: Some(path.clone()), text: Text::File(path) }
    }

    /// Bytes, under the name to show. No file governs them but those the session's settings name.
    pub fn bytes(name: impl Into<String>, bytes: impl Into<Vec<u8>>) -> Self {
        Self { name: name.into(), text: Text::Bytes(bytes.into()), beside: None }
    }

    /// The same, governed as if it were a file in this folder.
    #[must_use]
    pub fn governed_by(self, folder: &Path) -> Self {
        Self { beside: Some(folder.join(&self.name)), ..self }
    }

    /// The name to show.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// How large it is, as far as can be told without reading it.
    pub(super) fn size(&self) -> u64 {
        match &self.text {
            Text::File(path) => path.metadata().map_or(0, |about| about.len()),
            Text::Bytes(bytes) => bytes.len() as u64,
        }
    }

    /// The file it stands for or is governed like.
    pub(super) fn beside(&self) -> Option<&Path> {
        self.beside.as_deref()
    }

    /// Reads what can be read.
    pub(super) fn read(self, limits: &Limits) -> Draft {
        let checked = match &self.text {
            Text::File(path) => check_project(path, limits),
            Text::Bytes(bytes) => check_project_bytes(&self.name, bytes, limits),
        };
        Draft { name: self.name, beside: self.beside, checked }
    }

    /// Its bytes, as far as they can be had.
    pub(super) fn peek(&self, limits: &Limits) -> Option<Vec<u8>> {
        match &self.text {
            Text::File(path) => crate::document::read_limited(path, limits).ok(),
            Text::Bytes(bytes) => Some(bytes.clone()),
        }
    }
}

/// Reads a project as far as it can be read, where no session is needed.
pub fn read_draft(source: Source, limits: &Limits) -> Draft {
    source.read(limits)
}

/// A project as far as it can be read: what is said about it, and what can be reviewed.
#[derive(Debug)]
pub struct Draft {
    pub(super) name: String,
    pub(super) beside: Option<PathBuf>,
    checked: Checked,
}

impl Draft {
    /// What reading it came to.
    pub fn checked(&self) -> &Checked {
        &self.checked
    }

    /// Everything wrong with it, in the order of the places.
    pub fn complaints(&self) -> &[Diagnostic] {
        &self.checked.complaints
    }

    /// The same project with a change, a JSON Patch (RFC 6902); it is to be read anew.
    ///
    /// # Errors
    /// The project is not JSON, or the change cannot be made.
    pub fn changed(&self, patch: &Value) -> Result<Source, Diagnostic> {
        let no_json = || Diagnostic::error(Code::InvalidJson, "a text that is not JSON cannot be changed by a JSON Patch");
        let mut value = self.checked.value.clone().ok_or_else(no_json)?;
        let wrong = |why: String| Diagnostic::error(Code::BadChange, format!("this is not a JSON Patch: {why}"));
        let patch: json_patch::Patch = serde_json::from_value(patch.clone()).map_err(|error| wrong(error.to_string()))?;
        patched(&mut value, &patch.0).map_err(|(at, why)| {
            Diagnostic::error(Code::ChangeDoesNotFit, format!("this change cannot be made: {why} (operation {at})"))
        })?;
        let text = serde_json::to_vec_pretty(&value).map_err(|error| wrong(error.to_string()))?;
        Ok(Source { name: self.name.clone(), text: Text::Bytes(text), beside: self.beside.clone() })
    }
}
