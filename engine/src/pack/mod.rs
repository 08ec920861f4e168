//! Packs: opened, verified, layered into the rulebook of a day, proven by their own cases.
//!
//! [`Pack::open`] reads a folder or an archive and refuses one that is not what its manifest says. [`layers()`] finds the packs
//! wanted and all they stand on. [`rulebook()`] resolves them: every rule, every parameter, and for each value the one layer that
//! says so. [`cases`] holds a pack's cases against a rulebook.

mod amend;
mod aspect;
mod author;
mod base;
pub mod cases;
mod check_manifest;
mod describe;
mod fold;
mod gather;
mod layers;
mod manifest;
mod open;
mod resolve;
mod rulebook;
mod saying;
mod values;
mod verify;

#[cfg(test)]
mod tests;

use crate::diagnostic::Diagnostic;
use crate::document::did_you_mean as nearest;
use redtag_schema::pack::Period;

pub use author::{Author, Ruled};
pub use base::base_pack;
pub use check_manifest::is_day;
pub use describe::{Describe, is_rule_id, read_description};
pub use layers::{Layers, Wanted, resolve as layers};
pub use open::{MANIFEST, Origin, Pack, read_archive};
pub use resolve::rulebook;
pub use rulebook::{Effect, ModuleUsed, ParameterEntry, RuleEntry, Rulebook, Say, State};
pub use values::{ValueError, read as read_value, wanted as wanted_value, words as value_words};

/// Small letters, digits and single hyphens, beginning with a letter.
fn is_kebab(text: &str) -> bool {
    text.starts_with(|first: char| first.is_ascii_lowercase())
        && text
            .split('-')
            .all(|part| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit()))
}

/// A period in words: `from 2024-07-01`, `2020-01-01 to 2023-12-31`, `always`.
pub fn period_words(period: &Period) -> String {
    match (&period.from, &period.until) {
        (Some(from), Some(until)) => format!("{from} to {until}"),
        (Some(from), None) => format!("from {from}"),
        (None, Some(until)) => format!("until {until}"),
        (None, None) => "always".to_owned(),
    }
}

/// A complaint about a misspelled word, with the word it resembles.
fn hint(complaint: Diagnostic, word: &str, known: &[&str]) -> Diagnostic {
    match nearest(word, known.iter().copied()) {
        Some(near) => complaint.help(format!("did you mean `{near}`?")),
        None => complaint,
    }
}
