//! Options several commands share.

use super::ending::Stop;
use super::{Terminal, day};
use crate::modules::{KeptAnswers, Library};
use crate::report::{Style, WIDTH};
use crate::sandbox::{Compiler, Sandbox, SandboxOptions};
use crate::store::{Secret, Store};
use anyhow::Context as _;
use clap::ValueEnum;
use redtag_schema::quantity::System;
use std::io::IsTerminal as _;
use std::path::{Path, PathBuf};
use std::sync::Arc;

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
    /// Put every question to the rule modules anew and keep no answers; compiled modules are kept all the same.
    #[arg(long)]
    pub no_answers: bool,
}

impl SandboxChoices {
    /// Where things are kept for the next run. Where no folder is to be had, nothing is kept, and the log says so.
    pub fn store(&self) -> Result<Option<Arc<Store>>, Stop> {
        let folder = if self.no_cache { None } else { cache_root().map(|root| root.join("kept")) };
        let Some(folder) = folder else { return Ok(None) };
        let secret = match secret() {
            Ok(secret) => secret,
            Err(error) => {
                tracing::warn!("nothing is kept for the next run, because there is no key to know it again by: {error}");
                return Ok(None);
            }
        };
        match Store::open(&folder, secret) {
            Ok(store) => Ok(Some(Arc::new(store))),
            Err(error) => {
                let words = format!("nothing can be kept for the next run in {}: {error}", folder.display());
                if chosen_cache().is_some() {
                    return Err(anyhow::anyhow!("{words}. Name a folder of your own in {CACHE}, or give --no-cache").into());
                }
                tracing::warn!("{words}");
                Ok(None)
            }
        }
    }

    /// The modules of a run, with what is kept of them.
    pub fn library(&self) -> Result<Library, Stop> {
        let store = self.store()?;
        let answers = (!self.no_answers && store.is_some()).then(|| KeptAnswers::new(store.clone()));
        Ok(Library::new(sandbox(store.clone())?).describing_from(store).keeping(answers))
    }

    /// The same without answers: a case is seldom asked twice.
    pub fn library_without_answers(&self) -> Result<Library, Stop> {
        let store = self.store()?;
        Ok(Library::new(sandbox(store.clone())?).describing_from(store))
    }
}

/// A sandbox that compiles modules nobody vouches for in a process of their own.
pub fn sandbox(store: Option<Arc<Store>>) -> Result<Sandbox, Stop> {
    let program = std::env::current_exe().context("the program cannot find itself, which it needs to compile modules safely")?;
    Ok(Sandbox::new(SandboxOptions { store, compiler: Compiler::Child(program), ..SandboxOptions::default() }))
}

/// The key under which this user's entries are kept. It does not lie where they do: that folder may be restored from elsewhere.
fn secret() -> std::io::Result<Secret> {
    if let Some(file) = std::env::var_os(KEY).filter(|file| !file.is_empty()) {
        return Secret::of_file(Path::new(&file));
    }
    match directories::ProjectDirs::from("", "", "redtag") {
        Some(folders) => Secret::of_file(&folders.data_local_dir().join("cache.key")),
        None => Err(std::io::Error::other("this user has no folder of their own for the key of what is kept")),
    }
}

/// Names the folder for compiled modules and their answers.
const CACHE: &str = "REDTAG_CACHE";

/// Names the file with the key of what is kept there, where the user has no folder of their own, as in a container.
const KEY: &str = "REDTAG_CACHE_KEY";

/// The folder the user names for what can be made again.
pub fn chosen_cache() -> Option<PathBuf> {
    std::env::var_os(CACHE).filter(|folder| !folder.is_empty()).map(PathBuf::from)
}

/// The user's folder for what can be made again.
pub fn cache_root() -> Option<PathBuf> {
    chosen_cache().or_else(|| Some(directories::ProjectDirs::from("", "", "redtag")?.cache_dir().to_owned()))
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
