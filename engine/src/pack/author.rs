//! Who says so: every value of a rulebook has one author.

use super::Pack;
use redtag_schema::contract::Standing;
use redtag_schema::pack::{Amendment, Ordinance};
use serde::Serialize;
use std::fmt;

/// The layer that sets a value, since when, and by which law.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Author {
    /// The pack's name.
    pub pack: String,
    /// The pack's version.
    pub version: String,
    /// Who stands behind the pack.
    pub authority: String,
    /// The law; absent where the rule's own module says so.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ordinance: Option<Ordinance>,
    /// First day, `YYYY-MM-DD`; absent: since ever.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub since: Option<String>,
    /// Last day; absent: no end.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub until: Option<String>,
    /// How sure the author is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub standing: Option<Standing>,
    /// Where the rule's own module takes the value from.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
    /// Why, in a line.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reason: Option<String>,
    /// The place in the pack's manifest, a JSON pointer.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pointer: Option<String>,
}

impl Author {
    /// The pack that ships a rule, speaking through the rule's own module.
    pub(super) fn shipping(pack: &Pack) -> Self {
        let manifest = pack.manifest();
        Self {
            pack: manifest.name.clone(),
            version: manifest.version.to_string(),
            authority: manifest.authority.name.clone(),
            ordinance: None,
            since: manifest.in_force.from.clone(),
            until: manifest.in_force.until.clone(),
            standing: None,
            source: None,
            reason: None,
            pointer: None,
        }
    }

    /// The pack that ships a rule, with the source its module gives for one value.
    pub(super) fn with_source(&self, source: &str) -> Self {
        let source = Some(source.trim()).filter(|words| !words.is_empty()).map(str::to_owned);
        Self { source, ..self.clone() }
    }

    /// A pack speaking through one of its amendments.
    pub(super) fn amending(pack: &Pack, index: usize, amendment: &Amendment) -> Self {
        let period = amendment.in_force.as_ref().unwrap_or(&pack.manifest().in_force);
        Self {
            ordinance: Some(amendment.ordinance.clone()),
            since: period.from.clone(),
            until: period.until.clone(),
            standing: amendment.standing,
            reason: amendment.reason.clone(),
            pointer: Some(format!("/amendments/{index}")),
            ..Self::shipping(pack)
        }
    }
}

impl fmt::Display for Author {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.pack, self.version)?;
        if let Some(ordinance) = &self.ordinance {
            write!(f, ", {}", ordinance.document)?;
            if let Some(section) = &ordinance.section {
                write!(f, " section {section}")?;
            }
        }
        if let Some(source) = &self.source {
            write!(f, ", {source}")?;
        }
        if let Some(since) = &self.since {
            write!(f, ", since {since}")?;
        }
        if self.standing == Some(Standing::FromMemory) {
            write!(f, ", from memory")?;
        }
        Ok(())
    }
}

/// A value and who says so.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Ruled<T> {
    /// The value.
    pub value: T,
    /// The one who says so.
    pub author: Author,
}
