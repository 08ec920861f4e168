//! The formats a report can have. Each is one file under `report/` and one line here.

use crate::report::{Style, json, text};
use clap::ValueEnum;
use redtag_schema::review::Reviews;

/// The formats there are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For people: worst first, with the arithmetic, what is missing, and the cures.
    Text,
    /// For programs: the document `redtag schema review` describes.
    Json,
}

impl Format {
    /// The reviews in this format.
    pub fn render(self, reviews: &Reviews, style: &Style) -> String {
        match self {
            Self::Text => text::render(reviews, style),
            Self::Json => json::render(reviews),
        }
    }
}
