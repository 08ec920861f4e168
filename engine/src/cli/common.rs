//! Options several commands share.

use super::Terminal;
use super::ending::Stop;
use crate::session::{Budget, Budgets, Keep, Limits, PROJECT_BYTES, Settings, parse_day};
use anyhow::Context as _;
use clap::ValueEnum;
use redtag_report::{Style, WIDTH};
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
    #[arg(long, value_name = "DATE", value_parser = parse_day)]
    pub as_of: Option<String>,
    /// Refuse every pack without a signature of a key in this file (OpenSSH allowed signers) in a line that names the pack, such
    /// as `tarnmark-*`. The pack built into the program needs none.
    #[arg(long, value_name = "FILE")]
    pub trust: Option<PathBuf>,
    /// Let a pack that calls itself by the name of the model code built into redtag take its place; the report says so.
    #[arg(long)]
    pub replace_model_code: bool,
    /// Refuse every pack that is not the one this lock file names; default: every redtag.lock beside the project and in the
    /// folders above, up to the root of its repository.
    #[arg(long, value_name = "FILE")]
    pub lock: Option<PathBuf>,
    #[command(flatten)]
    pub budgets: BudgetOptions,
}

/// What a run may use up.
#[derive(Debug, Clone, Copy, clap::Args)]
pub struct BudgetOptions {
    /// The largest project file that is read, in MiB.
    #[arg(long, value_name = "MIB", default_value_t = PROJECT_BYTES >> 20, value_parser = clap::value_parser!(u64).range(1..=64))]
    pub largest_project: u64,
    /// The most findings one module may make about one project.
    #[arg(long, value_name = "NUMBER", default_value_t = Budget::default().findings)]
    pub most_findings: usize,
    /// How long compiling and describing modules nobody vouches for may take in a run, all together, in seconds.
    #[arg(long, value_name = "SECONDS", default_value_t = Budgets::default().preparing.as_secs())]
    pub preparing: u64,
}

impl Default for BudgetOptions {
    fn default() -> Self {
        let Budgets { said, preparing, .. } = Budgets::default();
        Self { largest_project: PROJECT_BYTES >> 20, most_findings: said.findings, preparing: preparing.as_secs() }
    }
}

impl BudgetOptions {
    fn settings(self) -> Budgets {
        let usual = Budgets::default();
        let said = Budget { findings: self.most_findings, ..usual.said };
        Budgets { said, preparing: std::time::Duration::from_secs(self.preparing), ..usual }
    }
}

/// How rule modules are run.
#[derive(Debug, Clone, clap::Args)]
pub struct SandboxChoices {
    /// Compile and run all rule modules afresh and keep nothing for the next run.
    #[arg(long)]
    pub no_cache: bool,
    /// Run all rule modules afresh and keep no answers; compiled modules are kept. For very many projects that are seen once.
    #[arg(long)]
    pub no_answers: bool,
}

impl PackOptions {
    /// The settings of a session.
    pub fn settings(&self, choices: &SandboxChoices) -> Settings {
        Settings {
            packs: self.packs.clone(),
            as_of: self.as_of.clone(),
            trust: self.trust.clone(),
            replace_model_code: self.replace_model_code,
            lock: self.lock.clone(),
            keep: choices.keep(),
            limits: Limits { bytes: self.budgets.largest_project << 20, ..Limits::default() },
            budgets: self.budgets.settings(),
            // A folder of the user's own choice is meant; the one the system names is a convenience.
            keep_is_optional: chosen_cache().is_none(),
            key: std::env::var_os(KEY).filter(|file| !file.is_empty()).map(PathBuf::from),
            ..Settings::default()
        }
    }
}

impl SandboxChoices {
    /// Whether a review sees to it that later ones find optimised code. A folder named by hand may be a test's or an image's;
    /// those ask for it when they want it.
    pub fn warms(&self) -> bool {
        !self.no_cache && chosen_cache().is_none()
    }

    fn keep(&self) -> Keep {
        match cache_root().filter(|_| !self.no_cache) {
            Some(root) if self.no_answers => Keep::Compiled(root),
            Some(root) => Keep::CompiledAndAnswers(root),
            None => Keep::Nothing,
        }
    }
}

/// Names the folder for compiled modules and their answers.
const CACHE: &str = "REDTAG_CACHE";

/// Names the file with the key of what is kept there, where the user has no folder of their own, as in a container.
const KEY: &str = "REDTAG_CACHE_KEY";

/// The folder the user names for what can be made again.
fn chosen_cache() -> Option<PathBuf> {
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
    Ok(redtag_report::escaped(&text).into_owned())
}
