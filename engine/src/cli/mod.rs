//! The program: its commands, one file each, and what they share.

mod common;
mod compare;
mod ending;
mod explain;
mod files;
mod format;
mod logging;
mod output;
mod pack;
mod panic;
mod prove;
mod review;
mod rulebook;
mod schema;
mod stage;
mod variance;

use crate::progress;
use crate::session::{Paint, serve_compiling};
use anstream::{AutoStream, ColorChoice};
use clap::{Parser, Subcommand, ValueEnum};
use ending::{Ending, Outcome};
use std::io::Write as _;
use std::process::ExitCode;

/// Finds the red tags in a mechanical room before the inspector does.
///
/// redtag holds a project file against the rules in force at its place and day, and says what would be red-tagged, why, by
/// which section, with the arithmetic and the smallest fix. It advises; the authority having jurisdiction decides.
#[derive(Debug, Parser)]
#[command(name = "redtag", version, arg_required_else_help = true, after_help = EXIT_CODES)]
struct Program {
    /// When to colour: a terminal gets colour, NO_COLOR and TERM=dumb are heeded.
    #[arg(long, global = true, value_enum, default_value = "auto", value_name = "WHEN")]
    color: When,
    /// Log to standard error: error, warn, info, debug, trace, or a filter such as redtag=debug,wasmtime=info.
    #[arg(long, global = true, value_name = "LEVEL")]
    log: Option<String>,
    #[command(subcommand)]
    command: Command,
}

const EXIT_CODES: &str = "\
Exit codes:
  0  nothing to correct
  1  corrections, or with --strict something unresolved; with --base new ones only
  2  the input or the command is wrong
  3  a rule module failed, so some rules were not answered";

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum When {
    /// Where it is a terminal.
    Auto,
    /// Always.
    Always,
    /// Never.
    Never,
}

impl From<When> for ColorChoice {
    fn from(when: When) -> Self {
        match when {
            When::Auto => Self::Auto,
            When::Always => Self::Always,
            When::Never => Self::Never,
        }
    }
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Hold project files against the rules in force and report.
    Review(review::Arguments),
    /// List what is in force: rules, parameters, who set them.
    Rulebook(rulebook::Arguments),
    /// Explain one rule (purpose, citations, parameters, cases) or one kind of complaint.
    Explain(explain::Arguments),
    /// Compare two rulebooks, alone or over project files.
    Compare(compare::Arguments),
    /// Run the cases of a pack.
    Prove(prove::Arguments),
    /// Build, seal, sign, verify, lock and show packs.
    #[command(subcommand)]
    Pack(pack::Command),
    /// Print what the authority signs where it grants a variance, or sign it.
    Variance(variance::Arguments),
    /// Print a published JSON Schema.
    Schema(schema::Arguments),
}

/// What every command is told about the terminal.
#[derive(Debug, Clone, Copy)]
struct Terminal {
    /// Whether standard output is coloured.
    out: bool,
    /// How complaints on standard error are painted.
    complaints: Paint,
}

impl Terminal {
    /// No terminal at all.
    const fn plain() -> Self {
        Self { out: false, complaints: Paint::Plain }
    }

    fn find(when: When) -> Self {
        let when = ColorChoice::from(when);
        let coloured = |stream: ColorChoice| stream != ColorChoice::Never;
        let auto = when == ColorChoice::Auto;
        let out = if auto { AutoStream::choice(&std::io::stdout()) } else { when };
        let error = if auto { AutoStream::choice(&std::io::stderr()) } else { when };
        let complaints = if coloured(error) { Paint::Colour } else { Paint::Plain };
        Self { out: coloured(out), complaints }
    }
}

/// Runs the program on the arguments of this process.
pub fn run() -> ExitCode {
    panic::set_up();
    if let Some(code) = serve_compiling() {
        return code;
    }
    let program = Program::parse();
    let terminal = Terminal::find(program.color);
    progress::set_up(program.log.is_some());
    if let Some(filter) = &program.log
        && let Err(error) = logging::set_up(filter, terminal.complaints == Paint::Colour)
    {
        return stop(&error.into(), terminal);
    }
    match program.command.run(terminal) {
        Ok(ending) => ending.into(),
        Err(reason) => stop(&reason, terminal),
    }
}

impl Command {
    fn run(&self, terminal: Terminal) -> Outcome {
        match self {
            Self::Review(arguments) => arguments.run(terminal),
            Self::Rulebook(arguments) => arguments.run(terminal),
            Self::Explain(arguments) => arguments.run(terminal),
            Self::Compare(arguments) => arguments.run(terminal),
            Self::Prove(arguments) => arguments.run(terminal),
            Self::Pack(command) => command.run(terminal),
            Self::Variance(arguments) => arguments.run(),
            Self::Schema(arguments) => arguments.run(),
        }
    }
}

/// Tells why, as far as somebody listens.
fn stop(reason: &ending::Stop, terminal: Terminal) -> ExitCode {
    let _ = std::io::stderr().write_all(reason.words(terminal.complaints).as_bytes());
    let ending: Ending = reason.ending();
    ending.into()
}
