//! `redtag compare`: two rulebooks over projects.

use super::common::{PackOptions, SandboxChoices, TextOrJson, json, style};
use super::ending::{Ending, Outcome};
use super::{Terminal, files, output};
use crate::progress;
use crate::session::{Draft, Session, SideOf, Source, parse_day};
use redtag_report as report;
use std::path::PathBuf;

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
    #[arg(long, value_name = "DATE", value_parser = parse_day)]
    from_date: Option<String>,
    /// The day whose law the second rulebook is.
    #[arg(long, value_name = "DATE", value_parser = parse_day)]
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

impl Arguments {
    /// Compares and prints.
    pub fn run(&self, terminal: Terminal) -> Outcome {
        let session = Session::open(self.packs.settings(&self.sandbox))?;
        let from = SideOf { packs: self.from.clone(), date: self.from_date.clone() };
        let to = SideOf { packs: self.to.clone(), date: self.to_date.clone() };
        let drafts: Vec<Draft> = files::named(&self.files)?.into_iter().map(|file| session.read(Source::file(file))).collect();
        let compared = progress::during("comparing", || session.compare(&from, &to, &drafts))?;
        let text = match self.format {
            TextOrJson::Text => report::comparison::render(&compared.comparison, &style(terminal, self.output.is_some())),
            TextOrJson::Json => json(&compared.comparison)?,
        };
        output::write(&text, self.output.as_deref())?;
        Ok(if compared.failed { Ending::ModuleFailed } else { Ending::Clean })
    }
}
