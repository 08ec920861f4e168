//! What is wrong with a document, as data: the same words a person is told.

use super::Place;
use serde::{Deserialize, Serialize};

/// A file that could not be reviewed, and why.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Refused {
    /// The file, as it was named.
    pub file: String,
    /// Everything that is wrong; at least one of them is an error.
    pub complaints: Vec<Complaint>,
}

/// One complaint about a document.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Complaint {
    /// The kind of complaint, a stable word such as `unknown-field`; `redtag explain` has a page about each.
    pub code: String,
    /// How much it weighs.
    pub severity: Severity,
    /// What is wrong, one sentence without a full stop.
    pub message: String,
    /// The document it stands in: the file itself, or a pack, a lock file or a trust file that belongs to it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub file: Option<String>,
    /// Where in that document.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<Place>,
    /// The value it is about: a JSON pointer; `""` is the whole document.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pointer: Option<String>,
    /// The line it stands in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub written: Option<WrittenLine>,
    /// What would have been right.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub expected: Option<String>,
    /// What to do.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub help: Option<String>,
    /// Other places that belong to it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub related: Vec<RelatedPlace>,
}

/// How much a complaint weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Severity {
    /// The document cannot be used.
    Error,
    /// The document can be used, but this is hardly meant.
    Warning,
    /// Worth knowing.
    Note,
}

impl Severity {
    /// The word that is shown; never colour alone.
    pub fn word(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Warning => "warning",
            Self::Note => "note",
        }
    }
}

/// A line of a document as it is written, or the part of it around a place where the line is too long to show.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct WrittenLine {
    /// The words.
    pub text: String,
    /// Where in them the complaint begins: characters from 0.
    pub start: usize,
    /// Just past where it ends; the end of the line where it goes on.
    pub end: usize,
}

/// Another place that belongs to a complaint.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct RelatedPlace {
    /// The document.
    pub file: String,
    /// Where.
    pub place: Place,
    /// What is there, in a few words.
    pub label: String,
    /// The line it stands in.
    pub written: WrittenLine,
}

impl Refused {
    /// How many complaints there are of each weight, in words: `2 errors, 1 note`.
    pub fn words(&self) -> String {
        count(&self.complaints)
    }
}

/// How many complaints there are of each weight, in words: `2 errors, 1 note`; nothing where there are none.
pub fn count(complaints: &[Complaint]) -> String {
    let of = |severity| complaints.iter().filter(|one| one.severity == severity).count();
    [Severity::Error, Severity::Warning, Severity::Note]
        .into_iter()
        .map(|severity| (severity.word(), of(severity)))
        .filter(|(_, count)| *count > 0)
        .map(|(word, count)| format!("{count} {word}{}", if count == 1 { "" } else { "s" }))
        .collect::<Vec<_>>()
        .join(", ")
}
