//! The outcome of a review: what `redtag review --format json` prints.

mod attention;
mod complaint;
mod lean;

pub use attention::{IdleFamily, NotLookedAt, SilentEquipment, Unread, UnreadFact, UnsaidList};
pub use complaint::{Complaint, Refused, RelatedPlace, Severity, WrittenLine, count as count_complaints};
pub use lean::{LeanFinding, LeanPack, LeanReview, LeanReviews, StreamLine};

use crate::contract::{Citation, Level, Mark, Outcome, Remedy, Stage, Step, Subject, Text};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// What every report says.
pub const NOTICE: &str = "redtag advises; it never approves. The authority having jurisdiction decides, the adopted code and \
     the listing and instructions of the equipment come first, and licensed trades do the work. A source marked \"from memory\" \
     has not been checked against print: verify it in the adopted text.";

/// The number in the `schema` field of a review.
pub const SCHEMA: u32 = 1;

/// The reviews of one run.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Reviews {
    /// Version of this document; 1.
    pub schema: u32,
    /// The program that wrote it.
    pub tool: Tool,
    /// What every report says.
    pub notice: String,
    /// One review per project, in the order they were named.
    pub reviews: Vec<Review>,
    /// The files that could not be reviewed, in the order they were named. Such a file is wrong, not absent.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub refused: Vec<Refused>,
}

/// The program.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Tool {
    /// `redtag`.
    pub name: String,
    /// Its version.
    pub version: String,
}

/// One project held against one rulebook.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Review {
    /// The project file, as it was named.
    pub file: String,
    /// The project's own name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub project: Option<String>,
    /// The stage it was reviewed for.
    pub stage: Stage,
    /// The date whose law was asked about.
    pub date: String,
    /// Where that date comes from.
    pub date_from: DateSource,
    /// The packs the rulebook was made of, base first.
    pub packs: Vec<PackUsed>,
    /// What it was compared with: a git revision or an earlier report. Findings it had already are `known`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub since: Option<String>,
    /// What was otherwise then.
    #[serde(default, skip_serializing_if = "Before::is_empty")]
    pub before: Before,
    /// How many findings of each outcome, known ones among them.
    pub counts: BTreeMap<Outcome, usize>,
    /// The findings, worst first, new before known, then by rule and subject.
    pub findings: Vec<ReviewedFinding>,
    /// Modules that failed; their rules were not answered.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub failures: Vec<Failure>,
    /// What reading the project or the packs remarked, one line each.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub notes: Vec<String>,
    /// The dangers that what the project holds brings with it, and what is usually done about them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<String>,
    /// Lists the project does not give, each once, with the rules that wait for it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub unsaid: Vec<UnsaidList>,
    /// What was not looked at: a review that is silent about something says so.
    #[serde(default, skip_serializing_if = "NotLookedAt::is_empty")]
    pub not_looked_at: NotLookedAt,
    /// Complaints about a drawing in progress, where the reader asked for what can be reviewed all the same. A file with
    /// such complaints cannot be submitted.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub complaints: Vec<Complaint>,
}

/// Who chose the date whose law is asked about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum DateSource {
    /// The one who asked for the review.
    Asked,
    /// The project: the day the permit was applied for.
    ApplicationDate,
    /// Nobody: the day of the review.
    Today,
}

/// One layer of the rulebook.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct PackUsed {
    /// Its name.
    pub name: String,
    /// Its version.
    pub version: String,
    /// What it is.
    pub title: String,
    /// SHA-256 over its files.
    pub digest: String,
    /// Whether it is part of the program.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub built_in: bool,
    /// Who vouches for it: the principals of the line of the trust file that lets its key sign it. Absent where no trust file
    /// was asked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub signed_by: Option<String>,
    /// The fingerprint of that key.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub key: Option<String>,
    /// What it takes back of the rules below: withdrawn, replaced, or made advice.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub departures: Vec<Departure>,
    /// How many values of rules below it sets.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub sets: usize,
}

/// What a pack takes back of a rule below it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Departure {
    /// The rule's id.
    pub rule: String,
    /// What became of it.
    pub kind: DepartureKind,
    /// The law that says so.
    pub ordinance: String,
}

/// What became of a rule that a pack takes back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum DepartureKind {
    /// It is out of force.
    Withdrawn,
    /// Another rule stands in its place.
    Replaced,
    /// A breach is advice.
    Relaxed,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "the shape serde asks for")]
fn is_zero(count: &usize) -> bool {
    *count == 0
}

/// A finding, with what the rulebook says of its rule.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct ReviewedFinding {
    /// The rule's id.
    pub rule: String,
    /// The rule's title.
    pub title: String,
    /// Required, or relaxed to advice.
    pub level: Level,
    /// The answer, after the rule's level and any variance were settled.
    pub outcome: Outcome,
    /// What it is about.
    pub subject: Subject,
    /// Where that stands in the file.
    pub place: Place,
    /// One line, printed in US customary units.
    pub message: String,
    /// The same with its numbers.
    pub summary: Text,
    /// Where the requirement is printed.
    pub citations: Vec<Citation>,
    /// The amendments and parameters that made the rule what it is here, each with its law.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub because: Vec<String>,
    /// The arithmetic.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub worksheet: Vec<Step>,
    /// What is missing, and where.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub missing: Vec<MissingFact>,
    /// What would cure it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub remedies: Vec<Remedy>,
    /// Where to look on the plan.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub marks: Vec<Mark>,
    /// Other places in the project that have to do with it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub related: Vec<String>,
    /// The variance that settled it: a correction that the authority has granted, which is advice from then on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub variance: Option<String>,
    /// Whether what the review was compared with had it too; such a finding does not decide the exit code.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub known: bool,
    /// What brought it, where what the review was compared with did not have it, or had it less bad.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub brought_by: Option<Change>,
}

/// What changed so that a finding is new.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Change {
    /// The project.
    Drawing,
    /// The packs, or the day whose law it is: the project as it was would have it too.
    Law,
    /// The project: it was there and is worse now, its amount further from its limit or with another fault.
    Worse {
        /// What was said before.
        was: String,
    },
    /// The project: a correction cannot be told any more, because a fact it stood on was taken away.
    FactRemoved {
        /// What was said before.
        was: String,
    },
}

impl Change {
    /// Whether the drawing brought it, and not the law.
    pub fn is_by_drawing(&self) -> bool {
        *self != Self::Law
    }
}

/// What a review was compared with, beyond its name.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Before {
    /// The packs it was reviewed by then, where they were others or other ones of the same name.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub packs: Vec<PackUsed>,
    /// The date whose law it was then, where it was another.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<String>,
    /// What the file was called then, where it was renamed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub file: Option<String>,
    /// Ids that were others then: what each is called now, by what it was called.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub ids: BTreeMap<String, String>,
    /// Corrections that are there no more.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub gone: Vec<Gone>,
}

impl Before {
    /// Whether there is nothing to say.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// A correction that is there no more.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Gone {
    /// The rule's id.
    pub rule: String,
    /// What it was about.
    pub subject: Subject,
    /// What was said.
    pub message: String,
    /// Whether the law took it away: the project as it was would have it no more.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub by_law: bool,
}

/// A fact the project does not give, and where it belongs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct MissingFact {
    /// The place to fill in: a JSON pointer.
    pub pointer: String,
    /// What is wanted there.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub what: Option<String>,
    /// How it could be written.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub example: Option<String>,
    /// Where the nearest part of it that exists stands in the file.
    pub place: Place,
}

/// A place in a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Place {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// Line of the end.
    pub end_line: usize,
    /// Column just past the end.
    pub end_column: usize,
}

/// A module that failed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Failure {
    /// The module.
    pub module: String,
    /// The pack it came with.
    pub pack: String,
    /// What kind of failure: a stable word such as `out-of-fuel`.
    pub kind: String,
    /// What happened, for a person.
    pub message: String,
    /// The rules that were therefore not answered.
    pub rules: Vec<String>,
}
