//! What a review says, in every format.
//!
//! From the documents of the schema to text, and nothing else: no files, no terminal, no modules. A report is a [`Sink`]: it
//! is begun, takes reviews and refusals as they come, and is ended; nothing is kept that its end does not need.

mod clean;
pub mod comparison;
pub mod complaint;
mod count;
pub mod explain;
mod frame;
mod github;
mod gitlab;
mod ink;
mod json;
mod junit;
mod lean;
mod markdown;
pub mod pack;
mod page;
pub mod proof;
mod rule_text;
pub mod rulebook;
pub mod rulebook_html;
#[cfg(test)]
mod sample;
mod sarif;
mod sink;
mod text;
mod words;

pub use clean::{Escaped, clean, escaped};
pub use count::{Sum, Tally, Totals, plural};
pub use frame::{Fingerprints, Frame, Weight};
pub use ink::Ink;
pub use page::{Lead, Page};
pub use rule_text::{RuleText, RuleTexts, rule_texts};
pub use sink::{Format, Sink};
pub use words::Speaker;

use redtag_schema::quantity::System;

/// How wide a report is where no terminal says otherwise.
pub const WIDTH: usize = 100;

/// What the reader wants of a report.
#[derive(Debug, Clone, Copy)]
pub struct Style {
    /// The width in columns; lines are wrapped to it.
    pub width: usize,
    /// Whether to colour. Colour repeats what the words say and is never the only sign.
    pub colour: bool,
    /// The units amounts are printed in.
    pub system: System,
    /// Whether findings that ask nothing of anybody are shown with their arithmetic too.
    pub all: bool,
}

impl Default for Style {
    fn default() -> Self {
        Self { width: WIDTH, colour: false, system: System::UsCustomary, all: false }
    }
}

/// The last name in a JSON pointer.
fn last_token(pointer: &str) -> Option<String> {
    let (_, last) = pointer.rsplit_once('/')?;
    Some(last.replace("~1", "/").replace("~0", "~"))
}
