//! What a review did not look at, and what it was not told: a silence is said, never left to be taken for a pass.

use super::Place;
use serde::{Deserialize, Serialize};

/// A list the project does not give and rules wait for. Missing, it says neither none nor all.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct UnsaidList {
    /// Where the list belongs: a JSON pointer. `[]` there says that there are none.
    pub pointer: String,
    /// What the list holds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub what: Option<String>,
    /// Where the nearest part of it that exists stands in the file.
    pub place: Place,
    /// The rules that wait for it.
    pub rules: Vec<String>,
    /// The families those rules are of.
    pub families: Vec<String>,
}

/// What was not looked at.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct NotLookedAt {
    /// Equipment of which no rule spoke.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub equipment: Vec<SilentEquipment>,
    /// Families of rules that found nothing to look at.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub families: Vec<IdleFamily>,
    /// Facts of the project that decided nothing.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub facts: Vec<UnreadFact>,
}

impl NotLookedAt {
    /// Whether everything was looked at.
    pub fn is_empty(&self) -> bool {
        self.equipment.is_empty() && self.families.is_empty() && self.facts.is_empty()
    }

    /// The equipment of which no rule spoke although nobody says that none has to.
    pub fn unexplained(&self) -> impl Iterator<Item = &SilentEquipment> {
        self.equipment.iter().filter(|one| one.why.is_none())
    }
}

/// A piece of equipment of which no rule spoke.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct SilentEquipment {
    /// Which: a JSON pointer.
    pub pointer: String,
    /// Its id.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
    /// What it is, in words.
    pub label: String,
    /// Where it stands in the file.
    pub place: Place,
    /// Why nothing is asked of it, where there is a reason; such a piece does not count as passed over.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
}

/// A family of rules that found nothing to look at.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct IdleFamily {
    /// The family: the module that holds it.
    pub family: String,
    /// How many rules were asked.
    pub rules: usize,
    /// Why, each reason once.
    pub why: Vec<String>,
}

/// A fact of the project that decided nothing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct UnreadFact {
    /// Which: a JSON pointer; everything below it was read by nobody either.
    pub pointer: String,
    /// Where it stands in the file.
    pub place: Place,
    /// Why it decided nothing.
    pub why: Unread,
}

/// Why a fact decided nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Unread {
    /// No rule in force at this stage reads this part.
    NoRuleReadsIt,
    /// It is there for people: no rule reads it by intent.
    Descriptive,
}
