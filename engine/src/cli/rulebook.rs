//! `redtag rulebook`: what is in force.

use super::common::{PackOptions, SandboxChoices, json, style};
use super::ending::{Ending, Outcome, Stop};
use super::{Terminal, output};
use crate::session::{Found, Session, Source};
use redtag_report as report;
use std::path::PathBuf;

/// List what is in force: rules, parameters, who set them.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    #[command(flatten)]
    place: Place,
    /// For people, for programs, or as a book to browse and print.
    #[arg(long, value_enum, default_value = "text")]
    format: Format,
    /// Write to this file instead of standard output.
    #[arg(long, value_name = "FILE")]
    output: Option<PathBuf>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Format {
    /// For people.
    Text,
    /// For programs.
    Json,
    /// One HTML file that needs nothing else.
    Html,
}

/// Which rulebook: that of a project, or of packs alone.
#[derive(Debug, clap::Args)]
pub struct Place {
    /// The project whose rulebook is asked for: its packs, its application date.
    #[arg(long, value_name = "FILE")]
    project: Option<PathBuf>,
    #[command(flatten)]
    packs: PackOptions,
    #[command(flatten)]
    sandbox: SandboxChoices,
}

impl Place {
    /// The rulebook of this place and day, and the session that found it.
    pub fn find(&self) -> Result<(Session, Found), Stop> {
        let session = Session::open(self.packs.settings(&self.sandbox))?;
        let draft = self.project.as_ref().map(|file| session.read(Source::file(file)));
        let found = session.rulebook(draft.as_ref())?;
        Ok((session, found))
    }
}

/// 3 where a module could not say what it holds.
pub fn ending(found: &Found) -> Ending {
    if found.rulebook.failures.is_empty() { Ending::Clean } else { Ending::ModuleFailed }
}

impl Arguments {
    /// Prints the rulebook.
    pub fn run(&self, terminal: Terminal) -> Outcome {
        let (_, found) = self.place.find()?;
        let text = match self.format {
            Format::Text => report::rulebook::render(&found.rulebook, &style(terminal, self.output.is_some())),
            Format::Json => json(&*found.rulebook)?,
            Format::Html => report::rulebook_html::render(&found.rulebook),
        };
        output::write(&text, self.output.as_deref())?;
        Ok(ending(&found))
    }
}
