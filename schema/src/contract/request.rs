//! What a module is asked.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use std::collections::BTreeMap;

/// The argument of `review`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Request {
    /// Version of this document; 1.
    pub schema: u32,
    /// What can be known at this moment.
    pub stage: Stage,
    /// The date whose law is asked about, `YYYY-MM-DD`.
    pub date: String,
    /// The module's rules in force, by id.
    pub rules: BTreeMap<String, RuleInForce>,
    /// The parts of the canonical project the rules in force read, at their places in the project document.
    pub project: Map<String, Value>,
}

/// One rule in force.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct RuleInForce {
    /// Every parameter with its value: quantities as `{"si", "unit", "written"}`, the rest as a pack writes it.
    #[serde(default)]
    pub parameters: BTreeMap<String, Value>,
}

/// The moment a project is reviewed for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Stage {
    /// Before the permit: what is drawn and specified.
    Permit,
    /// Pipes, wires and ducts are in, walls are open.
    RoughIn,
    /// Everything stands.
    Final,
}

impl Stage {
    /// The three stages in order.
    pub const ALL: [Self; 3] = [Self::Permit, Self::RoughIn, Self::Final];

    /// The word in documents and on screen.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Permit => "permit",
            Self::RoughIn => "rough-in",
            Self::Final => "final",
        }
    }
}
