//! A review in few words, for very many projects: what `--format json-lean` and `--stream` print. The full review says why.

use super::{Failure, Place, Refused, Review, SCHEMA, Tool};
use crate::contract::{Outcome, Stage};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The lean reviews of one run.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct LeanReviews {
    /// Version of this document; 1.
    pub schema: u32,
    /// The program that wrote it.
    pub tool: Tool,
    /// What every report says.
    pub notice: String,
    /// One review per project, in the order they were named.
    pub reviews: Vec<LeanReview>,
    /// The files that could not be reviewed.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub refused: Vec<Refused>,
}

/// One line of a stream: a review, or a project that could not be reviewed. The lines stand in the order of the projects.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum StreamLine {
    /// The project was reviewed.
    Review(LeanReview),
    /// It could not be.
    Refused(Refused),
}

/// One review in few words.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct LeanReview {
    /// Version of this document; 1.
    pub schema: u32,
    /// The project file, as it was named; `line 12` of a stream.
    pub file: String,
    /// The project's own name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub project: Option<String>,
    /// The stage it was reviewed for.
    pub stage: Stage,
    /// The date whose law was asked about.
    pub date: String,
    /// The packs of the rulebook, base first: name, version, digest.
    pub packs: Vec<LeanPack>,
    /// How many findings of each outcome.
    pub counts: BTreeMap<Outcome, usize>,
    /// What is to be corrected, worst first.
    pub corrections: Vec<LeanFinding>,
    /// What cannot be told yet: the subjects of each rule, by rule.
    pub unresolved: BTreeMap<String, Vec<String>>,
    /// The places to fill in, each with the number of findings that wait for it.
    pub missing: BTreeMap<String, usize>,
    /// The equipment of which no rule spoke and nobody says why: ids, or pointers where there are none.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub not_looked_at: Vec<String>,
    /// Modules that failed; their rules were not answered.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub failures: Vec<Failure>,
}

/// A pack of the rulebook.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct LeanPack {
    /// Its name.
    pub name: String,
    /// Its version.
    pub version: String,
    /// The first sixteen digits of its digest.
    pub digest: String,
}

/// A correction in few words.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct LeanFinding {
    /// The rule's id.
    pub rule: String,
    /// The subject: its id, or its pointer where it has none.
    pub subject: String,
    /// One line, in US customary units.
    pub message: String,
    /// The line and column in the file.
    pub at: [usize; 2],
    /// Whether what the review was compared with had it too.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub known: bool,
}

impl From<&Review> for LeanReview {
    fn from(review: &Review) -> Self {
        let (mut unresolved, mut missing) = (BTreeMap::<String, Vec<String>>::new(), BTreeMap::<String, usize>::new());
        for finding in review.findings.iter().filter(|finding| finding.outcome == Outcome::Unresolved) {
            unresolved.entry(finding.rule.clone()).or_default().push(name(&finding.subject.id, &finding.subject.pointer));
            finding.missing.iter().for_each(|fact| *missing.entry(fact.pointer.clone()).or_default() += 1);
        }
        let packs = review.packs.iter().map(|pack| LeanPack {
            name: pack.name.clone(),
            version: pack.version.clone(),
            digest: pack.digest.chars().take(16).collect(),
        });
        Self {
            schema: SCHEMA,
            file: review.file.clone(),
            project: review.project.clone(),
            stage: review.stage,
            date: review.date.clone(),
            packs: packs.collect(),
            counts: review.counts.clone(),
            corrections: review.findings.iter().filter(|one| one.outcome == Outcome::Correction).map(correction).collect(),
            unresolved,
            missing,
            not_looked_at: review.not_looked_at.unexplained().map(|one| name(&one.id, &one.pointer)).collect(),
            failures: review.failures.clone(),
        }
    }
}

fn correction(finding: &super::ReviewedFinding) -> LeanFinding {
    let Place { line, column, .. } = finding.place;
    LeanFinding {
        rule: finding.rule.clone(),
        subject: name(&finding.subject.id, &finding.subject.pointer),
        message: finding.message.clone(),
        at: [line, column],
        known: finding.known,
    }
}

fn name(id: &Option<String>, pointer: &str) -> String {
    id.clone().unwrap_or_else(|| pointer.to_owned())
}
