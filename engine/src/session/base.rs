//! What a review is compared with: a git revision, or the JSON report of an earlier review.

use super::error::SessionError;
use super::git;
use crate::document::{Limits, ProjectDocument, read_project_bytes};
use anyhow::{Context as _, anyhow};
use redtag_schema::review::{ReviewedFinding, Reviews, SCHEMA};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// What was there before.
#[derive(Debug)]
pub struct Base {
    name: String,
    before: Before,
}

#[derive(Debug)]
enum Before {
    /// The files' bytes at a revision.
    Texts(BTreeMap<PathBuf, Vec<u8>>),
    /// The findings of a report, by file.
    Findings(BTreeMap<PathBuf, Vec<ReviewedFinding>>),
}

/// What one project was before.
#[derive(Debug)]
pub(super) enum Earlier {
    /// It was not there, or could not be reviewed: all of its findings are new.
    Nothing,
    /// It has not changed by a byte.
    Same,
    /// It had another text.
    Project(Box<ProjectDocument>),
    /// It had these findings.
    Findings(Vec<ReviewedFinding>),
}

impl Base {
    /// A report where a file has the name, else a revision.
    ///
    /// # Errors
    /// When there is neither, or git cannot be asked.
    pub fn open(name: &str, files: &[PathBuf]) -> Result<Self, SessionError> {
        let before = match Path::new(name).is_file() {
            true => Before::Findings(findings(Path::new(name))?),
            false => Before::Texts(git::texts(name, files)?),
        };
        Ok(Self { name: name.to_owned(), before })
    }

    /// How it was named.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// What a project was before. A text that cannot be read was never reviewed.
    pub(super) fn earlier(&self, file: &Path, document: &ProjectDocument) -> Earlier {
        match &self.before {
            Before::Findings(all) => all.get(&absolute(file)).map_or(Earlier::Nothing, |found| Earlier::Findings(found.clone())),
            Before::Texts(all) => match all.get(file) {
                None => Earlier::Nothing,
                Some(bytes) if bytes == document.source.text().as_bytes() => Earlier::Same,
                Some(bytes) => self.read(file, bytes),
            },
        }
    }

    fn read(&self, file: &Path, bytes: &[u8]) -> Earlier {
        match read_project_bytes(&format!("{} at {}", file.display(), self.name), bytes, &Limits::default()) {
            Ok(document) => Earlier::Project(Box::new(document)),
            Err(complaints) => {
                let first = complaints.first().map(crate::diagnostic::Diagnostic::one_line).unwrap_or_default();
                tracing::warn!(base = self.name, "{}: all findings count as new: {first}", file.display());
                Earlier::Nothing
            }
        }
    }
}

fn findings(report: &Path) -> anyhow::Result<BTreeMap<PathBuf, Vec<ReviewedFinding>>> {
    let name = report.display();
    let text = std::fs::read_to_string(report).with_context(|| format!("{name} cannot be read"))?;
    let reviews: Reviews = serde_json::from_str(&text).map_err(|error| {
        anyhow!("{name} is no earlier report ({error}): make one with `redtag review --format json --output {name} FILE...`")
    })?;
    anyhow::ensure!(reviews.schema == SCHEMA, "{name} is a report of form {}; this redtag reads form {SCHEMA}", reviews.schema);
    Ok(reviews.reviews.into_iter().map(|review| (absolute(Path::new(&review.file)), review.findings)).collect())
}

/// The same file by the same name, whether or not it is written with `./`.
fn absolute(file: &Path) -> PathBuf {
    std::path::absolute(file).unwrap_or_else(|_| file.to_owned())
}
