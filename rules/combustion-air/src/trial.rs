//! One method of supplying combustion air, tried on one space.

use redtag_rule::prelude::*;
use redtag_rule::schema::contract::{Remedy, Step};

/// How a method fared.
#[derive(Debug, Clone)]
pub enum Verdict {
    /// It supplies the air; the text says with what margin.
    Passes(Text),
    /// It falls short; the text says by how much, the remedies what would make it pass, smallest first.
    Misses(Text, Vec<Remedy>),
    /// The project does not say enough.
    Unknown(Unresolved),
}

/// A method, how it fared and the arithmetic.
#[derive(Debug, Clone)]
pub struct Trial {
    /// The method in words: `two outdoor openings`.
    pub method: &'static str,
    /// The section the method stands in.
    pub section: &'static str,
    /// How it fared.
    pub verdict: Verdict,
    /// The arithmetic.
    pub steps: Vec<Step>,
}

impl Trial {
    /// The trial of a method whose working may stop at a missing fact.
    pub fn of(method: &'static str, section: &'static str, work: impl FnOnce(&mut Sheet) -> Lookup<Verdict>) -> Self {
        let mut sheet = Sheet::default();
        let verdict = work(&mut sheet).unwrap_or_else(Verdict::Unknown);
        Self { method, section, verdict, steps: sheet.into_steps() }
    }
}
