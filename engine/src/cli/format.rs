//! The formats a report can have, as the command line names them.

use clap::ValueEnum;
use redtag_report as report;

/// The formats there are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For people: worst first, with the arithmetic, what is missing, and the cures.
    Text,
    /// For programs: the document `redtag schema review` describes.
    Json,
    /// For programs, in few words: counts, corrections, what is unresolved, what was refused.
    JsonLean,
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
    /// The format as the reports name it.
    pub fn of_report(self) -> report::Format {
        match self {
            Self::Text => report::Format::Text,
            Self::Json => report::Format::Json,
            Self::JsonLean => report::Format::JsonLean,
            Self::Sarif => report::Format::Sarif,
            Self::Junit => report::Format::Junit,
            Self::Github => report::Format::Github,
            Self::Gitlab => report::Format::Gitlab,
            Self::Markdown => report::Format::Markdown,
        }
    }

    /// The format of a stream.
    pub fn stream() -> report::Format {
        report::Format::Stream
    }
}
