//! What a review is compared with: a git revision, or the JSON report of an earlier review.

use super::error::SessionError;
use super::git::{Held, Old};
use super::settings::Settings;
use super::shelf::Shelf;
use crate::document::{Limits, ProjectDocument, read_project_bytes};
use anyhow::anyhow;
use redtag_schema::review::{Review, Reviews, SCHEMA};
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
    /// The files at a revision, and the packs that were at hand then.
    State(Box<State>),
    /// The reviews of a report, by file.
    Reviews(BTreeMap<PathBuf, Review>),
}

#[derive(Debug)]
struct State {
    files: BTreeMap<PathBuf, Old>,
    shelf: Shelf,
}

/// What one project was before.
pub(super) enum Was<'b> {
    /// It was not there, or could not be read: all of its findings are new.
    Nothing,
    /// It had this text.
    Project(Box<OldProject<'b>>),
    /// It had this review.
    Review(&'b Review),
}

/// A project as it was, and the packs that were at hand.
pub(super) struct OldProject<'b> {
    pub(super) document: ProjectDocument,
    /// Where it lay.
    pub(super) path: PathBuf,
    /// Its name then, where it was another.
    pub(super) renamed: Option<String>,
    /// Whether it has not changed by a byte.
    pub(super) same: bool,
    pub(super) shelf: &'b Shelf,
}

impl Base {
    /// A report where a file has the name, else a revision. The packs of the revision are those that lay beside the projects
    /// then, and those the settings name as they were where they lie in the repository.
    ///
    /// # Errors
    /// When there is neither, or git cannot be asked.
    pub fn open(name: &str, files: &[PathBuf], settings: &Settings) -> Result<Self, SessionError> {
        let before = match Path::new(name).is_file() {
            true => Before::Reviews(reviews(Path::new(name))?),
            false => {
                let held = Held::open(name, files)?;
                let shelf = Shelf::of_revision(&held, settings)?;
                Before::State(Box::new(State { files: held.files, shelf }))
            }
        };
        Ok(Self { name: name.to_owned(), before })
    }

    /// How it was named.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// What a project was before. A text that cannot be read was never reviewed.
    pub(super) fn was(&self, file: &Path, document: &ProjectDocument) -> Was<'_> {
        let state = match &self.before {
            Before::Reviews(all) => return all.get(&absolute(file)).map_or(Was::Nothing, Was::Review),
            Before::State(state) => state,
        };
        let Some(old) = state.files.get(file) else { return Was::Nothing };
        let name = format!("{} at {}", old.path.display(), self.name);
        match read_project_bytes(&name, &old.bytes, &Limits::default()) {
            Ok(earlier) => Was::Project(Box::new(OldProject {
                same: old.bytes == document.source.text().as_bytes(),
                document: earlier,
                path: old.path.clone(),
                renamed: old.renamed.then(|| short(&old.path)),
                shelf: &state.shelf,
            })),
            Err(complaints) => {
                let first = complaints.first().map(crate::diagnostic::Diagnostic::one_line).unwrap_or_default();
                tracing::warn!(base = self.name, "{}: all findings count as new: {first}", file.display());
                Was::Nothing
            }
        }
    }
}

fn reviews(report: &Path) -> anyhow::Result<BTreeMap<PathBuf, Review>> {
    let name = report.display();
    let bytes = crate::document::read_limited(report, &Limits { bytes: LARGEST_REPORT, ..Limits::default() })
        .map_err(|complaint| anyhow!("{}", complaint.one_line()))?;
    let reviews: Reviews = serde_json::from_slice(&bytes).map_err(|error| {
        anyhow!("{name} is no earlier report ({error}): make one with `redtag review --format json --output {name} FILE...`")
    })?;
    anyhow::ensure!(reviews.schema == SCHEMA, "{name} is a report of form {}; this redtag reads form {SCHEMA}", reviews.schema);
    Ok(reviews.reviews.into_iter().map(|review| (absolute(Path::new(&review.file)), review)).collect())
}

/// The largest earlier report that is read, in bytes.
const LARGEST_REPORT: u64 = 512 << 20;

/// The same file by the same name, whether or not it is written with `./`.
fn absolute(file: &Path) -> PathBuf {
    std::path::absolute(file).unwrap_or_else(|_| file.to_owned())
}

/// A path as the user sees it.
fn short(path: &Path) -> String {
    let here = std::env::current_dir().and_then(|here| here.canonicalize()).ok();
    here.and_then(|here| path.strip_prefix(here).ok()).unwrap_or(path).display().to_string()
}
