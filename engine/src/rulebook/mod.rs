//! The law of one day: [`layers()`] finds the packs wanted and all they stand on, [`resolve()`] makes them one rulebook: every
//! rule, every parameter, and for each value the one layer that says so.

mod amendment;
mod author;
mod check_amendments;
mod figures;
mod layers;
mod resolve;
mod resolve_rule;
mod rulebooks;
mod shipped;

#[cfg(test)]
pub(crate) mod tests;

use redtag_schema::rulebook::Rulebook;

pub use layers::{Layers, Wanted, resolve as layers};
pub use resolve::resolve;
pub use rulebooks::Rulebooks;

/// The rule id that a misspelled one resembles.
pub fn nearest_rule<'a>(rulebook: &'a Rulebook, id: &str) -> Option<&'a str> {
    crate::document::did_you_mean(id, rulebook.rules.iter().map(|rule| rule.description.id.as_str()))
}
