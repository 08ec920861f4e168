//! What a module answers.

use crate::contract::Text;
use serde::{Deserialize, Serialize};
use serde_json::Value;

/// The answer of `review`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Answer {
    /// Version of this document; 1.
    pub schema: u32,
    /// The findings, in any order.
    pub findings: Vec<Finding>,
}

/// One rule's answer about one subject.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Finding {
    /// The rule's id.
    pub rule: String,
    /// What the finding is about.
    pub subject: Subject,
    /// The answer.
    pub outcome: Outcome,
    /// One line that a builder can act on.
    pub summary: Text,
    /// The arithmetic, line by line.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub worksheet: Vec<Step>,
    /// For `unresolved`: the places to fill in.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub missing: Vec<Missing>,
    /// Changes that would cure a correction, smallest first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub remedies: Vec<Remedy>,
    /// Where to look on the plan.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub marks: Vec<Mark>,
    /// The sections of the rule's citations that bear on this finding; empty means all.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub sections: Vec<String>,
    /// Pointers of other places in the project that have to do with it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub related: Vec<String>,
}

impl Finding {
    /// Whether it only asks for a list that the project leaves unsaid, and a rule went through: it is about the thing that list
    /// would belong to, and misses nothing else. A host asks such a question once, however many rules wait for the answer.
    pub fn asks_for_list(&self) -> bool {
        let [missing] = self.missing.as_slice() else { return false };
        self.outcome == Outcome::Unresolved
            && self.subject.id.is_none()
            && missing.pointer.starts_with(&self.subject.pointer)
            && self.subject.label.starts_with("the list of ")
    }
}

/// What a finding is about.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Subject {
    /// Where it stands in the project: a JSON pointer.
    pub pointer: String,
    /// Its id, where it has one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
    /// What to call it in a sentence.
    pub label: String,
}

/// The five answers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Outcome {
    /// The requirement is not met.
    Correction,
    /// The project does not say enough. Never a pass.
    Unresolved,
    /// Worth knowing; not required.
    Advice,
    /// The requirement is met.
    Complies,
    /// The requirement does not concern this subject.
    NotApplicable,
}

impl Outcome {
    /// The five, worst first.
    pub const ALL: [Self; 5] = [Self::Correction, Self::Unresolved, Self::Advice, Self::Complies, Self::NotApplicable];

    /// The word in documents and on screen.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Correction => "correction",
            Self::Unresolved => "unresolved",
            Self::Advice => "advice",
            Self::Complies => "complies",
            Self::NotApplicable => "not-applicable",
        }
    }
}

/// One line of arithmetic.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Step {
    /// What the line works out.
    pub label: String,
    /// The working, with its numbers.
    pub text: Text,
    /// The section, table or fact the line rests on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
    /// Whether a comparison on this line holds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub holds: Option<bool>,
    /// Where the comparison is one of amounts: how the first amount of the text is held against the second.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bound: Option<Bound>,
}

/// How an amount is held against its limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Bound {
    /// It may be this at the most.
    Most,
    /// It must be this at the least.
    Least,
}

impl Step {
    /// How far the amount is on the wrong side of its limit, as a part of the limit; negative where it is on the right one. `None`
    /// where the step compares no amounts.
    pub fn excess(&self) -> Option<f64> {
        let [amount, limit, ..] = self.text.amounts.as_slice() else { return None };
        let over = match self.bound? {
            Bound::Most => amount.si - limit.si,
            Bound::Least => limit.si - amount.si,
        };
        let scale = if limit.si == 0.0 { 1.0 } else { limit.si.abs() };
        (over / scale).is_finite().then_some(over / scale)
    }
}

/// A fact the project does not give.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Missing {
    /// The place to fill in: a JSON pointer.
    pub pointer: String,
    /// What is wanted there; the host fills this from the project's schema where the module leaves it out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub what: Option<String>,
    /// How it could be written.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub example: Option<String>,
}

/// A change that would cure a correction.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Remedy {
    /// What to do, in words.
    pub words: Text,
    /// The same as a JSON Patch (RFC 6902) of the project as its author writes it, where it can be tried.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub patch: Vec<Value>,
}

/// A shape on the plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Mark {
    /// The space it lies in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub space: Option<String>,
    /// What it shows.
    pub label: String,
    /// The shape, in metres in the building's own coordinates.
    pub shape: Shape,
}

/// The shapes of marks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Shape {
    /// An upright box by two opposite corners.
    Box {
        /// Least x, y and z.
        from: Point3,
        /// Greatest x, y and z.
        to: Point3,
    },
    /// A run of straight pieces.
    Line {
        /// Two points at least.
        points: Vec<Point3>,
    },
    /// A place.
    Point {
        /// Where.
        at: Point3,
    },
}

/// A place in metres.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Point3 {
    /// East.
    pub x: f64,
    /// North.
    pub y: f64,
    /// Up.
    pub z: f64,
}
