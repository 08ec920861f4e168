//! `redtag schema`: the published schemas.

use super::common::json;
use super::ending::{Ending, Outcome};
use super::output;
use crate::compare::Comparison;
use clap::ValueEnum;
use redtag_schema::published;
use schemars::schema_for;

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
    /// What `redtag compare --format json` prints.
    Comparison,
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
            Self::Comparison => "comparison",
            Self::Description => "description",
        }
    }
}

impl Arguments {
    /// Prints the schema.
    pub fn run(&self) -> Outcome {
        let schema = match self.document {
            // What only this program writes is described beside the program.
            Document::Comparison => Some(schema_for!(Comparison).to_value()),
            document => published::schema(document.name()),
        };
        output::print(&json(&schema)?)?;
        Ok(Ending::Clean)
    }
}
