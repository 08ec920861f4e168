//! `redtag schema`: the published schemas.

use super::common::json;
use super::ending::{Ending, Outcome};
use super::output;
use clap::ValueEnum;
use redtag_schema::contract::{Answer, Description, Request};
use redtag_schema::pack::Manifest;
use redtag_schema::project::Project;
use redtag_schema::review::Reviews;
use schemars::{Schema, schema_for};

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
    /// What a rule module is asked.
    Request,
    /// What a rule module answers.
    Findings,
    /// What `redtag review --format json` prints.
    Review,
    /// What a rule module says of itself.
    Description,
}

impl Document {
    fn schema(self) -> Schema {
        match self {
            Self::Project => schema_for!(Project),
            Self::Pack => schema_for!(Manifest),
            Self::Request => schema_for!(Request),
            Self::Findings => schema_for!(Answer),
            Self::Review => schema_for!(Reviews),
            Self::Description => schema_for!(Description),
        }
    }
}

impl Arguments {
    /// Prints the schema.
    pub fn run(&self) -> Outcome {
        output::print(&json(&self.document.schema())?)?;
        Ok(Ending::Clean)
    }
}
