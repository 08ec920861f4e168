//! Whether a capacity carries a load, where something of either may be unknown.

use crate::capacity::Bounds;
use crate::demand::Load;
use redtag_rule::prelude::*;

/// What a comparison says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// It carries the load.
    Carries,
    /// It does not.
    Falls,
    /// What is not said decides.
    Open,
}

/// A load, part of which may be unknown, against a capacity of which only bounds may be known.
pub fn verdict(load: &Load, bounds: &Bounds) -> Verdict {
    let falls = bounds.most.is_some_and(|most| !at_most(load.known, most));
    let carries = load.missing.is_none() && bounds.least.is_some_and(|least| at_most(load.known, least));
    match (falls, carries) {
        (true, _) => Verdict::Falls,
        (false, true) => Verdict::Carries,
        (false, false) => Verdict::Open,
    }
}

/// A method of counting the length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// That of the most remote outlet for every pipe.
    Longest,
    /// That of the most remote outlet behind the pipe.
    Branch,
}

impl Method {
    /// What it is called.
    pub fn name(self) -> &'static str {
        match self {
            Self::Longest => "longest length",
            Self::Branch => "branch length",
        }
    }
}
