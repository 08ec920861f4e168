//! Packs: what a jurisdiction ships. See the manifest's fields.

use crate::contract::{Citation, Standing};
use serde::{Deserialize, Serialize};
use serde_json::Value;

/// The manifest, `pack.json`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema), schemars(deny_unknown_fields))]
pub struct Manifest {
    /// Version of this document; 1.
    pub schema: u32,
    /// The pack's name, such as `model-residential`.
    pub name: String,
    /// The pack's version (semantic versioning).
    #[cfg_attr(feature = "json-schema", schemars(with = "String"))]
    pub version: semver::Version,
    /// What it is, in one line.
    pub title: String,
    /// Who stands behind it.
    pub authority: Authority,
    /// More about it, Markdown.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub notes: Option<String>,
    /// The edition of the model codes its citations are taken from, such as `2021`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub edition: Option<String>,
    /// The pack this one stands on; a model code pack stands on none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stands_on: Option<Base>,
    /// When the pack is law.
    #[serde(default)]
    pub in_force: Period,
    /// The contract its modules need, such as `1.0`.
    pub contract: String,
    /// Its rule modules.
    #[serde(default)]
    pub modules: Vec<ModuleEntry>,
    /// Its changes to the rules it inherits.
    #[serde(default)]
    pub amendments: Vec<Amendment>,
    /// Files and folders of cases, relative to the manifest.
    #[serde(default)]
    pub cases: Vec<String>,
    /// Rules for which the authority grants no variance.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub no_variance: Vec<String>,
    /// A file of the pack with those who sign variances (OpenSSH allowed signers; the names of a line are rules, such as
    /// `clearances/*`). Where it is named, a variance without a signature of one of its keys settles nothing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub variance_signers: Option<String>,
}

/// Who stands behind a pack.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema), schemars(deny_unknown_fields))]
pub struct Authority {
    /// The authority or author's name.
    pub name: String,
    /// Where to ask.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub contact: Option<String>,
}

/// The pack below.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema), schemars(deny_unknown_fields))]
pub struct Base {
    /// Its name.
    pub name: String,
    /// The versions that will do, such as `^1.2`.
    #[cfg_attr(feature = "json-schema", schemars(with = "String"))]
    pub version: semver::VersionReq,
}

/// A stretch of days, both ends included.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema), schemars(deny_unknown_fields))]
pub struct Period {
    /// First day, `YYYY-MM-DD`; absent: since ever.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "json-schema", schemars(extend("pattern" = "^[0-9]{4}-[0-9]{2}-[0-9]{2}$")))]
    pub from: Option<String>,
    /// Last day; absent: no end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "json-schema", schemars(extend("pattern" = "^[0-9]{4}-[0-9]{2}-[0-9]{2}$")))]
    pub until: Option<String>,
}

impl Period {
    /// Whether the day (`YYYY-MM-DD`) lies in the period. Days in this form compare as text.
    pub fn contains(&self, day: &str) -> bool {
        self.from.as_deref().is_none_or(|from| from <= day) && self.until.as_deref().is_none_or(|until| day <= until)
    }

    /// The period in words: `from 2024-07-01`, `2020-01-01 to 2023-12-31`, `always`.
    pub fn words(&self) -> String {
        match (&self.from, &self.until) {
            (Some(from), Some(until)) => format!("{from} to {until}"),
            (Some(from), None) => format!("from {from}"),
            (None, Some(until)) => format!("until {until}"),
            (None, None) => "always".to_owned(),
        }
    }
}

/// One rule module: as source before the pack is built, as a file with its digest afterwards.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema), schemars(deny_unknown_fields))]
pub struct ModuleEntry {
    /// Its name.
    pub name: String,
    /// The folder of its source, relative to the manifest.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
    /// The component, relative to the manifest.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub file: Option<String>,
    /// SHA-256 of the component, 64 hexadecimal digits.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sha256: Option<String>,
}

/// One change to a rule below, with the law that makes it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Amendment {
    /// What changes: a rule, or a figure that several rules read.
    #[serde(flatten)]
    pub change: Change,
    /// The law that says so.
    pub ordinance: Ordinance,
    /// When the change is law, where it is not the pack's own period.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub in_force: Option<Period>,
    /// Why, in a line.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reason: Option<String>,
    /// How sure the author of the pack is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub standing: Option<Standing>,
}

/// The law behind an amendment.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema), schemars(deny_unknown_fields))]
pub struct Ordinance {
    /// The document, such as `Ordinance 2024-07`.
    pub document: String,
    /// The section in it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub section: Option<String>,
}

/// What an amendment does.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
#[serde(tag = "change", rename_all = "kebab-case")]
pub enum Change {
    /// Sets a parameter of one rule.
    Set {
        /// The rule that is changed.
        rule: String,
        /// The parameter's name.
        parameter: String,
        /// Its value, written as the parameter's kind asks.
        value: Value,
    },
    /// Sets a figure in every rule that reads it.
    SetFigure {
        /// The figure, `family/figure`.
        figure: String,
        /// Its value, written as the figure's kind asks.
        value: Value,
    },
    /// Takes the rule out of force.
    Withdraw {
        /// The rule that is changed.
        rule: String,
    },
    /// Puts a dormant rule of a module below into force.
    Adopt {
        /// The rule that is changed.
        rule: String,
    },
    /// Takes the rule out of force in favour of another.
    Replace {
        /// The rule that is changed.
        rule: String,
        /// The id of the rule that stands in its place.
        with: String,
    },
    /// A breach becomes advice.
    Relax {
        /// The rule that is changed.
        rule: String,
    },
    /// A breach becomes a correction.
    Require {
        /// The rule that is changed.
        rule: String,
    },
    /// Changes the citations.
    Cite {
        /// The rule that is changed.
        rule: String,
        /// The citations.
        citations: Vec<Citation>,
        /// Whether they stand in place of the rule's own or beside them.
        #[serde(default)]
        instead: bool,
    },
}

impl Change {
    /// The rule that is changed; none where a figure is set.
    pub fn rule(&self) -> Option<&str> {
        match self {
            Self::SetFigure { .. } => None,
            Self::Set { rule, .. }
            | Self::Withdraw { rule }
            | Self::Adopt { rule }
            | Self::Replace { rule, .. }
            | Self::Relax { rule }
            | Self::Require { rule }
            | Self::Cite { rule, .. } => Some(rule),
        }
    }

    /// The rule or the figure that is changed, by its id.
    pub fn subject(&self) -> &str {
        match self {
            Self::SetFigure { figure, .. } => figure,
            change => change.rule().unwrap_or_default(),
        }
    }
}
