//! A pack's own cases: project fragments and the findings expected of them, read, run and perturbed.
//!
//! A case file is Markdown that reads as a specification, or a JSON list for generated cases. It belongs to the rule its path
//! names: `cases/combustion-air/free_area.md` to `combustion-air/free-area`.

mod ask;
mod block;
mod build;
mod differ;
mod listing;
mod load;
mod markdown;
mod perturb;
mod run;

#[cfg(test)]
pub(crate) mod tests;

use crate::diagnostic::{Diagnostic, Span};
use redtag_schema::contract::{Outcome, Stage};
use redtag_schema::proof::CaseKind;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use std::collections::BTreeMap;

pub use ask::by_modules;
pub use load::{load, rule_of_path};
pub use perturb::perturb;
pub use run::{Answering, Question, run_cases};

/// When and for which moment a case asks.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Setting {
    /// What can be known; the final stage where it is absent.
    #[serde(default)]
    pub stage: Option<Stage>,
    /// The day, `YYYY-MM-DD`; the rulebook's where it is absent.
    #[serde(default)]
    pub date: Option<String>,
}

/// One finding a case expects.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Expected {
    /// What it is about: an id, or a JSON pointer.
    pub subject: String,
    /// The answer.
    pub outcome: Outcome,
    /// Words its summary or a line of its worksheet holds, in US customary units.
    #[serde(default)]
    pub says: Option<String>,
    /// The pointers of the missing facts, all of them.
    #[serde(default)]
    pub missing: Option<Vec<String>>,
    /// The rule, where it is not the file's own.
    #[serde(default)]
    pub rule: Option<String>,
}

/// One case, ready to be run.
#[derive(Debug, Clone)]
pub struct Case {
    /// The rule it belongs to.
    pub rule: String,
    /// What it shows.
    pub kind: CaseKind,
    /// What it shows, in words.
    pub title: String,
    /// Where it begins.
    pub span: Span,
    /// The project, as its author writes it.
    pub project: Value,
    /// Parameters it sets, in canonical form.
    pub parameters: BTreeMap<String, Value>,
    /// When it asks.
    pub setting: Setting,
    /// Every finding it expects, each with its place.
    pub expected: Vec<(Expected, Span)>,
}

/// The cases of a pack, and what is wrong with its case files.
#[derive(Debug, Default)]
pub struct Cases {
    /// The cases that could be read, by rule, file and place.
    pub cases: Vec<Case>,
    /// Complaints about those that could not.
    pub complaints: Vec<Diagnostic>,
}

impl Cases {
    /// Whether every case file could be read.
    pub fn could_be_read(&self) -> bool {
        !self.complaints.iter().any(Diagnostic::is_error)
    }
}
