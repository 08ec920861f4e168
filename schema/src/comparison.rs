//! Two rulebooks over the same projects: what differs between the books, and which findings appear, vanish or change.

use crate::contract::{Outcome, Subject};
use crate::pack::Ordinance;
use crate::review::{Failure, PackUsed};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The number in the `schema` field of a comparison.
pub const SCHEMA: u32 = 1;

/// What `redtag compare --format json` prints.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Comparison {
    /// Version of this document; 1.
    pub schema: u32,
    /// What every report says.
    pub notice: String,
    /// The rulebooks compared from: one, unless projects differ in their day or their packs.
    pub from: Vec<Book>,
    /// The rulebooks compared to.
    pub to: Vec<Book>,
    /// What differs between the books, sorted by rule.
    pub differences: Vec<Difference>,
    /// What changes, by rule; rules without a changed finding are left out.
    pub rules: Vec<RuleTally>,
    /// What changes, by project, in the order they were named.
    pub projects: Vec<ProjectComparison>,
}

/// One rulebook.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Book {
    /// The day whose law it is.
    pub date: String,
    /// Its packs, lowest first.
    pub packs: Vec<PackUsed>,
}

/// One thing of a rule that the two books say otherwise.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Difference {
    /// The id of the rule, or of a figure that several rules read.
    pub rule: String,
    /// The thing: `in force`, `level`, `citations`, `variances`, `figure`, or the name of a parameter.
    pub what: String,
    /// What the first book says; absent where it has no such rule or parameter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<Said>,
    /// What the second book says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to: Option<Said>,
}

/// A value and who says so.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Said {
    /// The value, in words.
    pub value: String,
    /// Who says so, since when, in words.
    pub by: String,
    /// The pack that says so.
    pub pack: String,
    /// The law; absent where the rule's own module says so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ordinance: Option<Ordinance>,
}

impl PartialOrd for Said {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Said {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        (&self.value, &self.by).cmp(&(&other.value, &other.by))
    }
}

/// What becomes of a finding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// The first book has no such finding.
    Appears,
    /// The second book has none.
    Vanishes,
    /// The outcome is another.
    Outcome,
    /// The outcome is the same, the figures or words are others.
    Figures,
}

/// A finding that is not the same under both books.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Changed {
    /// What becomes of it.
    pub kind: Kind,
    /// The rule's id.
    pub rule: String,
    /// What it is about.
    pub subject: Subject,
    /// The outcome under the first book.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<Outcome>,
    /// The outcome under the second.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to: Option<Outcome>,
    /// What it says under the first book.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from_message: Option<String>,
    /// What it says under the second.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to_message: Option<String>,
    /// What made the rule what it is in the second book and not in the first, each with its law.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub because: Vec<String>,
    /// What made the rule what it is in the first book and no more.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub no_more: Vec<String>,
}

/// How many findings of a rule change, over all projects.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct RuleTally {
    /// The rule's id.
    pub rule: String,
    /// How many of each kind.
    pub changes: BTreeMap<Kind, usize>,
    /// In how many projects.
    pub projects: usize,
    /// How many corrections more there are; negative: fewer.
    pub corrections: i64,
}

/// One project under both books.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct ProjectComparison {
    /// The project file, as it was named.
    pub file: String,
    /// Its own name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub project: Option<String>,
    /// How many findings of each outcome under the first book.
    pub from: BTreeMap<Outcome, usize>,
    /// Under the second.
    pub to: BTreeMap<Outcome, usize>,
    /// The findings that are not the same, by rule and subject.
    pub findings: Vec<Changed>,
    /// Modules that failed under either book; their rules are not compared.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub failures: Vec<Failure>,
}

impl Comparison {
    /// Whether a module failed, so that some rules could not be compared.
    pub fn failed(&self) -> bool {
        self.projects.iter().any(|project| !project.failures.is_empty())
    }
}
