//! `redtag compare`: two rulebooks over projects.

use super::common::{PackOptions, SandboxChoices, TextOrJson, json, style};
use super::ending::{Ending, Outcome, Stop};
use super::shelf::Shelf;
use super::{Terminal, day, files, output, projects};
use crate::compare::{Side, compare};
use crate::document::{ProjectDocument, project_format};
use crate::modules::Library;
use crate::progress;
use crate::report;
use crate::review::{Assignment, ProjectSchema, review};
use crate::rulebook::{Layers, resolve};
use redtag_schema::contract::Stage;
use redtag_schema::review::DateSource;
use redtag_schema::rulebook::Rulebook;
use std::path::{Path, PathBuf};

/// Hold the same project files against two rulebooks: editions, drafts, counties, days.
///
/// Without files the rulebooks alone are compared. A side for which no pack is named takes those the project names, else the
/// model code pack built into the program.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// Project files; patterns such as houses/*.json are taken too.
    #[arg(value_name = "FILE")]
    files: Vec<PathBuf>,
    /// A pack of the first rulebook: its folder or archive. Repeatable.
    #[arg(long, value_name = "DIR-OR-ARCHIVE")]
    from: Vec<PathBuf>,
    /// A pack of the second rulebook. Repeatable.
    #[arg(long, value_name = "DIR-OR-ARCHIVE")]
    to: Vec<PathBuf>,
    /// The day whose law the first rulebook is.
    #[arg(long, value_name = "DATE", value_parser = day::parse)]
    from_date: Option<String>,
    /// The day whose law the second rulebook is.
    #[arg(long, value_name = "DATE", value_parser = day::parse)]
    to_date: Option<String>,
    #[command(flatten)]
    packs: PackOptions,
    /// For people or for programs.
    #[arg(long, value_enum, default_value = "text")]
    format: TextOrJson,
    /// Write to this file instead of standard output.
    #[arg(long, value_name = "FILE")]
    output: Option<PathBuf>,
    #[command(flatten)]
    sandbox: SandboxChoices,
}

/// The packs at hand for one side, and its day.
struct Shelved {
    shelf: Shelf,
    /// Whether packs were named for this side: then those the project names do not count.
    named: bool,
    date: Option<String>,
}

impl Arguments {
    /// Compares and prints.
    pub fn run(&self, terminal: Terminal) -> Outcome {
        let from = self.shelved(&self.from, self.from_date.as_ref())?;
        let to = self.shelved(&self.to, self.to_date.as_ref())?;
        let library = self.sandbox.library()?;
        let mut pairs = Vec::new();
        let files = files::named(&self.files)?;
        if files.is_empty() {
            pairs.push((from.side(None, &library)?, to.side(None, &library)?));
        }
        for file in &files {
            let project = projects::read(file)?;
            let both =
                || Ok::<_, Stop>((from.side(Some((file, &project)), &library)?, to.side(Some((file, &project)), &library)?));
            pairs.push(progress::during("comparing", both)?);
        }
        let comparison = compare(&pairs);
        let text = match self.format {
            TextOrJson::Text => report::comparison::render(&comparison, &style(terminal, self.output.is_some())),
            TextOrJson::Json => json(&comparison)?,
        };
        output::write(&text, self.output.as_deref())?;
        let failed = comparison.failed() || pairs.iter().any(|(from, to)| failed(from) || failed(to));
        Ok(if failed { Ending::ModuleFailed } else { Ending::Clean })
    }

    fn shelved(&self, packs: &[PathBuf], date: Option<&String>) -> Result<Shelved, Stop> {
        let mut options = self.packs.clone();
        options.packs.extend(packs.iter().cloned());
        let date = date.or(self.packs.as_of.as_ref()).cloned();
        Ok(Shelved { shelf: Shelf::open(&options)?, named: !packs.is_empty(), date })
    }
}

fn failed(side: &Side) -> bool {
    !side.book.failures.is_empty()
}

impl Shelved {
    fn side(&self, project: Option<(&PathBuf, &ProjectDocument)>, library: &Library) -> Result<Side, Stop> {
        let of_project = project.and_then(|(_, document)| document.project.application_date.as_deref());
        let (date, date_from) = day::chosen(self.date.as_deref(), of_project);
        let layers = self.layers(project, &date)?;
        let book = resolve(&layers, &library.descriptions(layers.packs()))?;
        let Some((_, document)) = project else { return Ok(Side { book, review: None }) };
        let review = reviewed(document, &book, date_from, library)?;
        Ok(Side { book, review: Some(review) })
    }

    fn layers(&self, project: Option<(&PathBuf, &ProjectDocument)>, date: &str) -> Result<Layers, Stop> {
        let named = match project {
            Some((_, document)) if !self.named => projects::packs(document)?,
            _ => Vec::new(),
        };
        Ok(self.shelf.layers(named, project.map(|(file, _)| Path::new(file)), date)?)
    }
}

fn reviewed(
    document: &ProjectDocument,
    book: &Rulebook,
    date_from: DateSource,
    library: &Library,
) -> Result<redtag_schema::review::Review, Stop> {
    let schema = project_format().map_err(|complaint| vec![complaint])?.checker.schema();
    let stage = document.project.stage.unwrap_or(Stage::Permit);
    let assignment = Assignment { document, rulebook: book, stage, date_from };
    Ok(review(library, &ProjectSchema::new(schema), &assignment))
}
