//! What a pack's own cases come to.

use crate::contract::Outcome;
use crate::review::Failure;
use serde::{Deserialize, Serialize};
use std::fmt;

/// What `redtag prove --format json` prints.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Proof {
    /// The pack.
    pub pack: String,
    /// Its version.
    pub version: String,
    /// Every case, by rule, file and place.
    pub results: Vec<CaseResult>,
    /// The kinds of cases that are missing.
    pub gaps: Vec<Gap>,
    /// The parameters no case notices, where that was asked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unnoticed: Option<Vec<Unnoticed>>,
    /// Modules that failed before any case was run.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub failures: Vec<Failure>,
}

impl Proof {
    /// Whether every case found what it expects. Gaps do not count.
    pub fn holds(&self) -> bool {
        self.results.iter().all(CaseResult::holds)
    }
}

/// What a case shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum CaseKind {
    /// The requirement is met.
    Pass,
    /// It is not.
    Fail,
    /// Just met, or missed by next to nothing.
    Boundary,
    /// The project does not say enough.
    Unresolved,
    /// The requirement does not concern what the project holds.
    NotApplicable,
    /// What changes when a pack sets a parameter.
    Amended,
}

impl CaseKind {
    /// Every kind.
    pub const ALL: [Self; 6] = [Self::Pass, Self::Fail, Self::Boundary, Self::Unresolved, Self::NotApplicable, Self::Amended];

    /// The kinds every rule should have a case of.
    pub const EXPECTED: [Self; 5] = [Self::Pass, Self::Fail, Self::Boundary, Self::Unresolved, Self::NotApplicable];

    /// The word a heading begins with.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Pass => "Pass",
            Self::Fail => "Fail",
            Self::Boundary => "Boundary",
            Self::Unresolved => "Unresolved",
            Self::NotApplicable => "Not applicable",
            Self::Amended => "Amended",
        }
    }
}

impl CaseKind {
    /// Whether what a case expects of its rule is what its heading promises: a rule must not count as covered by a word.
    ///
    /// # Errors
    /// What the kind wants.
    pub fn shown_by(self, own: &[Outcome]) -> Result<(), &'static str> {
        let breach = |outcome: &Outcome| matches!(outcome, Outcome::Correction | Outcome::Advice);
        let (holds, wanted) = match self {
            Self::Pass => {
                let complies = own.contains(&Outcome::Complies) && !own.contains(&Outcome::Correction);
                (complies, "a finding that complies, and no correction")
            }
            Self::Fail => (own.iter().any(breach), "a correction, or advice"),
            Self::Unresolved => (own.contains(&Outcome::Unresolved), "an unresolved finding"),
            Self::NotApplicable => {
                (own.iter().all(|outcome| *outcome == Outcome::NotApplicable), "no finding but not-applicable ones")
            }
            Self::Boundary => (!own.is_empty(), "a finding"),
            Self::Amended => (true, ""),
        };
        if holds { Ok(()) } else { Err(wanted) }
    }
}

impl fmt::Display for CaseKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// What became of one case.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct CaseResult {
    /// The rule.
    pub rule: String,
    /// What the case shows.
    pub kind: CaseKind,
    /// The same in words.
    pub title: String,
    /// The file.
    pub file: String,
    /// The line its heading stands in.
    pub line: usize,
    /// Every difference from what it expects, in words.
    pub differences: Vec<String>,
}

impl CaseResult {
    /// Whether the case found what it expects.
    pub fn holds(&self) -> bool {
        self.differences.is_empty()
    }
}

/// A rule of the pack that lacks cases.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Gap {
    /// The rule.
    pub rule: String,
    /// The kinds there is no case of.
    pub kinds: Vec<CaseKind>,
}

/// A parameter whose value makes no difference to any case.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Unnoticed {
    /// The rule.
    pub rule: String,
    /// The parameter.
    pub parameter: String,
    /// The value it has in the rulebook, in words.
    pub value: String,
    /// The values that were tried, in words; empty where there is no other value to try.
    pub tried: Vec<String>,
}
