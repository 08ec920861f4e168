//! Options several commands share.

use super::ending::Stop;
use super::{Terminal, day};
use crate::modules::KeptAnswers;
use crate::report::{Style, WIDTH};
use crate::sandbox::{CacheChoice, Compiler, Sandbox, SandboxOptions};
use anyhow::Context as _;
use clap::ValueEnum;
use redtag_schema::quantity::System;
use std::io::IsTerminal as _;
use std::path::PathBuf;

/// Which packs, and the law of which day.
#[derive(Debug, Clone, clap::Args)]
pub struct PackOptions {
    /// A pack to review by (its folder or archive), or a folder of packs in which those are looked for that a project names.
    /// Repeatable. The model code pack built into the program is always at hand.
    #[arg(long, value_name = "DIR-OR-ARCHIVE")]
    pub packs: Vec<PathBuf>,
    /// The day whose law is asked about, instead of the project's application date.
    #[arg(long, value_name = "DATE", value_parser = day::parse)]
    pub as_of: Option<String>,
    /// Refuse every pack without a signature of a key in this file (OpenSSH allowed signers). The pack built into the program
    /// needs none.
    #[arg(long, value_name = "FILE")]
    pub trust: Option<PathBuf>,
    /// Refuse every pack that is not the one this lock file names; default: redtag.lock beside the project or in a folder above,
    /// up to the root of its repository.
    #[arg(long, value_name = "FILE")]
    pub lock: Option<PathBuf>,
}

/// How rule modules are run.
#[derive(Debug, Clone, clap::Args)]
pub struct SandboxChoices {
    /// Compile and run all rule modules afresh and keep nothing for the next run.
    #[arg(long)]
    pub no_cache: bool,
}

impl SandboxChoices {
    fn cache(&self) -> Option<PathBuf> {
        if self.no_cache { None } else { cache_root() }
    }

    /// Where answers of modules are kept. Where no folder is to be had, nothing is kept, and the log says so.
    pub fn results(&self) -> Option<KeptAnswers> {
        let folder = self.cache()?.join("results");
        KeptAnswers::open(&folder)
            .inspect_err(|error| tracing::warn!("answers cannot be kept in {}: {error}", folder.display()))
            .ok()
    }

    /// The sandbox. Where no folder for compiled modules is to be had, nothing is kept, and the log says so.
    pub fn sandbox(&self) -> Result<Sandbox, Stop> {
        let cache = self.cache();
        let program =
            std::env::current_exe().context("the program cannot find itself, which it needs to compile modules safely")?;
        let cache = cache.map_or(CacheChoice::Off, |root| CacheChoice::Folder(root.join("modules")));
        let options = |cache| SandboxOptions { cache, compiler: Compiler::Child(program.clone()), ..SandboxOptions::default() };
        let chosen_by_user = std::env::var_os(CACHE).is_some();
        match Sandbox::new(options(cache)) {
            Ok(sandbox) => Ok(sandbox),
            Err(error) if chosen_by_user => Err(Stop::Words(error.into())),
            Err(error) => {
                tracing::warn!("{error}");
                Sandbox::new(options(CacheChoice::Off)).map_err(|error| Stop::Words(error.into()))
            }
        }
    }
}

/// Names the folder for compiled modules and their answers.
const CACHE: &str = "REDTAG_CACHE";

/// The user's folder for what can be made again.
pub fn cache_root() -> Option<PathBuf> {
    if let Some(folder) = std::env::var_os(CACHE).filter(|folder| !folder.is_empty()) {
        return Some(folder.into());
    }
    directories::ProjectDirs::from("", "", "redtag").map(|folders| folders.cache_dir().to_owned())
}

/// Text for people or JSON for programs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum TextOrJson {
    /// For people.
    Text,
    /// For programs.
    Json,
}

/// The units of a report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Units {
    /// Inches, square feet, Btu/h.
    Us,
    /// Metres, watts.
    Si,
}

impl From<Units> for System {
    fn from(units: Units) -> Self {
        match units {
            Units::Us => Self::UsCustomary,
            Units::Si => Self::Si,
        }
    }
}

/// How a report is written. A file gets no colours, and always the same width.
pub fn style(terminal: Terminal, to_file: bool) -> Style {
    if to_file { Style::default() } else { Style { width: width(), colour: terminal.out, ..Style::default() } }
}

/// As wide as the terminal, but no wider than lines can be read; where there is no terminal, always the same.
fn width() -> usize {
    const WIDEST: usize = 120;
    if !std::io::stdout().is_terminal() {
        return WIDTH;
    }
    terminal_size::terminal_size().map_or(WIDTH, |(width, _)| usize::from(width.0).min(WIDEST))
}

/// JSON as the program prints it everywhere: indented, with a line end.
pub fn json(value: &impl serde::Serialize) -> Result<String, Stop> {
    let mut text = serde_json::to_string_pretty(value).context("the answer cannot be written as JSON")?;
    text.push('\n');
    Ok(text)
}
