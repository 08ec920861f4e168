//! What a module says of itself.

use crate::contract::Stage;
use crate::quantity::Kind;
use serde::{Deserialize, Serialize};
use serde_json::Value;

/// The answer of `describe`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Description {
    /// Version of this document; 1.
    pub schema: u32,
    /// The module's name, such as `combustion-air`.
    pub module: String,
    /// The module's version.
    pub version: String,
    /// Its rules, sorted by id.
    pub rules: Vec<RuleDescription>,
    /// The figures of the law its rules read, sorted by id. A module of before figures has none: each of its parameters
    /// stands for itself.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub figures: Vec<FigureDescription>,
}

/// One figure of the law. Every parameter that names it reads it, in whatever rule of the module; a pack sets it once.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct FigureDescription {
    /// `family/figure`, such as `fire-separation/units-rating`; the family is the module.
    pub id: String,
    /// What it decides, for a person.
    pub purpose: String,
    /// What values it takes.
    pub kind: ParameterKind,
    /// The value of the model code, written as a pack would write it.
    pub default: Value,
    /// The least value a pack may set, written like `default`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub least: Option<Value>,
    /// The greatest value a pack may set.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub most: Option<Value>,
    /// The words a choice may take.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub choices: Vec<String>,
    /// Where the default comes from.
    #[serde(default)]
    pub source: String,
}

impl FigureDescription {
    /// The figure as the parameter of a rule that reads it.
    pub fn as_parameter(&self, name: &str) -> ParameterDescription {
        ParameterDescription {
            name: name.to_owned(),
            figure: Some(self.id.clone()),
            purpose: self.purpose.clone(),
            kind: self.kind,
            default: self.default.clone(),
            least: self.least.clone(),
            most: self.most.clone(),
            choices: self.choices.clone(),
            source: self.source.clone(),
        }
    }
}

/// One rule.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct RuleDescription {
    /// `family/topic`; never holds a section number and is never used again for something else.
    pub id: String,
    /// One line.
    pub title: String,
    /// What is required, why, how it is measured, how it is fixed: Markdown for people.
    pub purpose: String,
    /// The stages at which the rule is asked.
    pub stages: Vec<Stage>,
    /// Whether a breach is a correction or only advice, unless a pack changes it.
    #[serde(default)]
    pub level: Level,
    /// Whether the rule is in force without a pack adopting it.
    #[serde(default = "yes")]
    pub adopted: bool,
    /// Where the requirement is printed. The tool quotes no code text.
    #[serde(default)]
    pub citations: Vec<Citation>,
    /// What a pack may set.
    #[serde(default)]
    pub parameters: Vec<ParameterDescription>,
    /// JSON pointers of the parts of a project the rule reads, such as `/equipment`.
    #[serde(default)]
    pub reads: Vec<String>,
}

fn yes() -> bool {
    true
}

/// How much a breach weighs.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Level {
    /// A breach is a correction.
    #[default]
    Required,
    /// A breach is advice.
    Advice,
}

/// A place in a published document.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Citation {
    /// The document, such as `IRC` or `Ordinance 12`.
    pub document: String,
    /// Its edition, such as `2021`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub edition: Option<String>,
    /// The section, such as `G2407.5.1`.
    pub section: String,
    /// How sure the author of the rule is of this place.
    #[serde(default)]
    pub standing: Standing,
}

/// How sure a citation or a figure is.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Standing {
    /// Seen in print or confirmed by a published source.
    Confirmed,
    /// From memory: verify against the adopted text.
    #[default]
    FromMemory,
}

/// Something a pack may set.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct ParameterDescription {
    /// Its name, snake_case.
    pub name: String,
    /// The figure of the module it reads, such as `fire-separation/units-rating`: its kind, default and range are then the
    /// figure's own. Absent: no other rule reads this value.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub figure: Option<String>,
    /// What it decides, for a person.
    pub purpose: String,
    /// What values it takes.
    pub kind: ParameterKind,
    /// The value of the model code, written as a pack would write it.
    pub default: Value,
    /// The least value a pack may set, written like `default`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub least: Option<Value>,
    /// The greatest value a pack may set.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub most: Option<Value>,
    /// The words a choice may take.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub choices: Vec<String>,
    /// Where the default comes from.
    #[serde(default)]
    pub source: String,
}

/// What values a parameter takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum ParameterKind {
    /// An amount with a unit: `"12 in"`.
    Quantity(Kind),
    /// A plain number.
    Number,
    /// `true` or `false`.
    Flag,
    /// One of `choices`.
    Choice,
    /// Some of `choices`.
    Choices,
}
