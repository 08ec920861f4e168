//! `redtag rulebook`: what is in force.

use super::common::{PackOptions, SandboxChoices, json, style};
use super::ending::{Ending, Outcome, Stop};
use super::shelf::Shelf;
use super::{Terminal, day, output, projects};
use crate::report;
use crate::rulebook::{Layers, resolve};
use redtag_schema::rulebook::Rulebook;
use std::path::{Path, PathBuf};

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

/// A rulebook and the packs it is made of.
pub struct Found {
    /// The rulebook.
    pub rulebook: Rulebook,
    /// Its packs, lowest first.
    pub layers: Layers,
}

impl Place {
    /// The rulebook of this place and day.
    pub fn find(&self) -> Result<Found, Stop> {
        let shelf = Shelf::open(&self.packs)?;
        let project = self.project.as_deref().map(projects::read).transpose()?;
        let of_project = project.as_ref().and_then(|document| document.project.application_date.as_deref());
        let (date, _) = day::chosen(self.packs.as_of.as_deref(), of_project);
        let named = project.as_ref().map(projects::packs).transpose()?.unwrap_or_default();
        let layers = shelf.layers(named, self.project.as_deref().map(Path::new), &date)?;
        let library = self.sandbox.library()?;
        let rulebook = resolve(&layers, &library.descriptions(layers.packs()))?;
        Ok(Found { rulebook, layers })
    }
}

/// 3 where a module could not say what it holds.
pub fn ending(rulebook: &Rulebook) -> Ending {
    if rulebook.failures.is_empty() { Ending::Clean } else { Ending::ModuleFailed }
}

impl Arguments {
    /// Prints the rulebook.
    pub fn run(&self, terminal: Terminal) -> Outcome {
        let Found { rulebook, .. } = self.place.find()?;
        let text = match self.format {
            Format::Text => report::rulebook::render(&rulebook, &style(terminal, self.output.is_some())),
            Format::Json => json(&rulebook)?,
            Format::Html => report::rulebook_html::render(&rulebook),
        };
        output::write(&text, self.output.as_deref())?;
        Ok(ending(&rulebook))
    }
}
