//! The formats a report can have. Each is one file under `report/` and one line here.

use crate::report::{Material, github, gitlab, json, junit, markdown, sarif, text};
use clap::ValueEnum;

/// The formats there are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For people: worst first, with the arithmetic, what is missing, and the cures.
    Text,
    /// For programs: the document `redtag schema review` describes.
    Json,
    /// SARIF 2.1.0, for code scanning and editors.
    Sarif,
    /// JUnit XML: a test for each rule and subject.
    Junit,
    /// Annotations of a GitHub workflow: the first ten of each weight.
    Github,
    /// A GitLab code quality report.
    Gitlab,
    /// A summary in Markdown, for the page of a workflow's run.
    Markdown,
}

impl Format {
    /// Whether the format says what a rule is about, or which module holds it.
    pub fn tells_rules(self) -> bool {
        matches!(self, Self::Sarif | Self::Junit)
    }

    /// The reviews in this format.
    pub fn render(self, material: &Material) -> String {
        match self {
            Self::Text => text::render(material.reviews, material.style),
            Self::Json => json::render(material.reviews),
            Self::Sarif => sarif::render(material),
            Self::Junit => junit::render(material),
            Self::Github => github::render(material),
            Self::Gitlab => gitlab::render(material),
            Self::Markdown => markdown::render(material),
        }
    }
}
