//! `redtag schema`: the published schemas.

use super::common::json;
use super::ending::{Ending, Outcome};
use super::output;
use clap::ValueEnum;
use redtag_schema::published;

/// Print a published JSON Schema.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The document.
    #[arg(value_enum)]
    document: Document,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Document {
    /// A project file.
    Project,
    /// A pack's manifest, pack.json.
    Pack,
    /// The lock file of a repository, redtag.lock.
    Lock,
    /// What a rule module is asked.
    Request,
    /// What a rule module answers.
    Findings,
    /// What `redtag review --format json` prints.
    Review,
    /// What `redtag review --format json-lean` prints.
    ReviewLean,
    /// A line of what `redtag review --stream` prints.
    ReviewStream,
    /// What `redtag compare --format json` prints.
    Comparison,
    /// What `redtag rulebook --format json` prints.
    Rulebook,
    /// What `redtag prove --format json` prints.
    Proof,
    /// What a rule module says of itself.
    Description,
}

impl Document {
    const fn name(self) -> &'static str {
        match self {
            Self::Project => "project",
            Self::Pack => "pack",
            Self::Lock => "lock",
            Self::Request => "request",
            Self::Findings => "findings",
            Self::Review => "review",
            Self::ReviewLean => "review-lean",
            Self::ReviewStream => "review-stream",
            Self::Comparison => "comparison",
            Self::Rulebook => "rulebook",
            Self::Proof => "proof",
            Self::Description => "description",
        }
    }
}

impl Arguments {
    /// Prints the schema.
    pub fn run(&self) -> Outcome {
        output::print(&json(&published::schema(self.document.name()))?)?;
        Ok(Ending::Clean)
    }
}
