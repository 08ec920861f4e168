//! Reports: one small pure file per format. Each turns finished reviews into text and knows nothing of files or terminals.

mod citations;
mod clean;
pub mod comparison;
mod count;
pub mod explain;
pub mod github;
pub mod gitlab;
mod ink;
pub mod json;
pub mod junit;
pub mod markdown;
mod material;
pub mod pack;
mod page;
pub mod proof;
pub mod rulebook;
pub mod rulebook_html;
#[cfg(test)]
mod sample;
pub mod sarif;
pub mod text;
mod words;

pub use clean::clean;
pub use count::{Tally, Totals};
pub use material::{Material, RuleText, RuleTexts, rule_texts};
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
