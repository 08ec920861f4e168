//! Reports that are written while the reviews come in: nothing is kept that the end of the report does not need.

use super::{Frame, RuleTexts};
use super::{github, gitlab, json, junit, lean, markdown, sarif, text};
use redtag_schema::review::{Refused, Review};
use std::io::{self, Write};

/// A report being written. Projects come in the order in which they were named.
pub trait Sink {
    /// Writes a review; `rules` says what its rules are about where [`Format::tells_rules`].
    ///
    /// # Errors
    /// What is written to takes no more.
    fn review(&mut self, review: &Review, rules: &RuleTexts) -> io::Result<()>;

    /// Writes that a file could not be reviewed.
    ///
    /// # Errors
    /// As [`Sink::review`].
    fn refused(&mut self, refused: &Refused) -> io::Result<()>;

    /// Writes what stands at the end.
    ///
    /// # Errors
    /// As [`Sink::review`].
    fn end(&mut self) -> io::Result<()>;
}

/// The formats there are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// For people: worst first, with the arithmetic, what is missing, and the cures.
    Text,
    /// The document `redtag schema review` describes.
    Json,
    /// The document `redtag schema review-lean` describes.
    JsonLean,
    /// One line for each project, as `redtag schema review-stream` describes.
    Stream,
    /// SARIF 2.1.0.
    Sarif,
    /// JUnit XML.
    Junit,
    /// Annotations of a GitHub workflow.
    Github,
    /// A GitLab code quality report.
    Gitlab,
    /// A summary in Markdown.
    Markdown,
}

impl Format {
    /// Whether the format says what a rule is about, or which module holds it.
    pub fn tells_rules(self) -> bool {
        matches!(self, Self::Sarif | Self::Junit)
    }

    /// Begins a report.
    ///
    /// # Errors
    /// What is written to takes no more.
    pub fn begin<'w>(self, frame: Frame, out: &'w mut dyn Write) -> io::Result<Box<dyn Sink + 'w>> {
        Ok(match self {
            Self::Text => Box::new(text::TextSink::new(frame, out)),
            Self::Json => Box::new(json::JsonSink::begin(frame, out)?),
            Self::JsonLean => Box::new(lean::LeanSink::begin(frame, out)?),
            Self::Stream => Box::new(lean::StreamSink::new(out)),
            Self::Sarif => Box::new(sarif::SarifSink::new(frame, out)),
            Self::Junit => Box::new(junit::JunitSink::begin(frame, out)?),
            Self::Github => Box::new(github::GithubSink::new(frame, out)),
            Self::Gitlab => Box::new(gitlab::GitlabSink::begin(frame, out)?),
            Self::Markdown => Box::new(markdown::MarkdownSink::new(frame, out)),
        })
    }
}

/// Plain data in memory to JSON cannot fail but for what it is written to, and that keeps its kind: a reader that has gone.
pub(crate) fn as_io(error: serde_json::Error) -> io::Error {
    error.into()
}

/// A JSON list that grows: items as they come, each indented under the list.
pub(crate) struct JsonList {
    indent: usize,
    any: bool,
}

impl Format {
    /// Whether it is JSON through and through.
    pub fn is_json(self) -> bool {
        matches!(self, Self::Json | Self::JsonLean | Self::Sarif | Self::Gitlab | Self::Stream)
    }
}

impl JsonList {
    /// A list whose items stand `indent` columns in. The caller has written its opening bracket.
    pub(crate) fn new(indent: usize) -> Self {
        Self { indent, any: false }
    }

    /// Writes one item.
    pub(crate) fn item(&mut self, out: &mut dyn Write, item: &impl serde::Serialize) -> io::Result<()> {
        let text = serde_json::to_string_pretty(item).map_err(as_io)?;
        let margin = " ".repeat(self.indent);
        // A line break inside a JSON text is written `\n`, so every one that stands here is layout.
        let text = text.replace('\n', &format!("\n{margin}"));
        write!(out, "{}\n{margin}{text}", if self.any { "," } else { "" })?;
        self.any = true;
        Ok(())
    }

    /// Writes the closing bracket.
    pub(crate) fn end(&self, out: &mut dyn Write) -> io::Result<()> {
        if self.any { write!(out, "\n{}]", " ".repeat(self.indent - 2)) } else { write!(out, "]") }
    }
}
