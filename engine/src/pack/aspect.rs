//! What an amendment speaks about: two that speak about the same aspect of a rule cannot both hold.

use redtag_schema::pack::Change;
use std::fmt;

/// One thing about a rule that has exactly one value.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Aspect {
    /// A parameter's value.
    Parameter(String),
    /// The value of a figure, where it is not looked at from one of the rules that read it.
    Figure,
    /// In force, dormant, withdrawn, replaced.
    Force,
    /// Required or advice.
    Level,
    /// The citations as a whole.
    Citations,
}

impl Aspect {
    /// What a change speaks about; `None` for citations set beside those there are, which leave room for others.
    pub(crate) fn of(change: &Change) -> Option<Self> {
        match change {
            Change::Set { parameter, .. } => Some(Self::Parameter(parameter.clone())),
            Change::SetFigure { .. } => Some(Self::Figure),
            Change::Withdraw { .. } | Change::Adopt { .. } | Change::Replace { .. } => Some(Self::Force),
            Change::Relax { .. } | Change::Require { .. } => Some(Self::Level),
            Change::Cite { instead: true, .. } => Some(Self::Citations),
            Change::Cite { instead: false, .. } => None,
        }
    }
}

impl fmt::Display for Aspect {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Parameter(name) => write!(f, "parameter `{name}`"),
            Self::Figure => f.write_str("the value"),
            Self::Force => f.write_str("the standing (withdrawn, adopted or replaced)"),
            Self::Level => f.write_str("the level (required or advice)"),
            Self::Citations => f.write_str("the list of citations"),
        }
    }
}
