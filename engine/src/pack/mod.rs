//! Packs: opened and verified. [`Pack::open`] reads a folder or an archive and refuses one that is not what its manifest says.

mod aspect;
mod base;
mod check_manifest;
mod contents;
mod manifest;
mod open;
mod verify;

#[cfg(test)]
pub(crate) mod tests;

use crate::diagnostic::Diagnostic;
use crate::document::did_you_mean as nearest;

pub(crate) use aspect::Aspect;
pub use base::base_pack;
pub use check_manifest::is_day;
pub use open::{MANIFEST, Origin, Pack, read_archive};

/// Small letters, digits and single hyphens, beginning with a letter.
pub(crate) fn is_kebab(text: &str) -> bool {
    text.starts_with(|first: char| first.is_ascii_lowercase())
        && text
            .split('-')
            .all(|part| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit()))
}

/// A complaint about a misspelled word, with the word it resembles.
pub(crate) fn hint(complaint: Diagnostic, word: &str, known: &[&str]) -> Diagnostic {
    match nearest(word, known.iter().copied()) {
        Some(near) => complaint.help(format!("did you mean `{near}`?")),
        None => complaint,
    }
}
