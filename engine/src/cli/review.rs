//! `redtag review`: the main job.

use super::common::{PackOptions, SandboxChoices, Units, style};
use super::ending::{Ending, Outcome, Stop};
use super::format::Format;
use super::stage::StageName;
use super::{Terminal, files, output};
use crate::progress;
use crate::session::{Asked, Base, Refusal, Session, Source, notice, render_all, tool};
use clap::ValueEnum;
use redtag_report::{Escaped, Frame, RuleTexts, Sink, Style};
use redtag_schema::contract::{Outcome as Answer, Stage};
use redtag_schema::review::{Change, Review, ReviewedFinding};
use std::io::{self, BufRead as _, IsTerminal as _, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Hold project files against the rules in force and report.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// Project files; patterns such as houses/*.json are taken too.
    #[arg(required_unless_present = "stream", value_name = "FILE")]
    files: Vec<PathBuf>,
    /// Read one project from each line of standard input and write one line for each to standard output, in the same order: a
    /// lean review, or why the project was refused. A line that cannot be used does not stop the others.
    #[arg(long, conflicts_with_all = ["files", "base", "format", "output", "units", "all"])]
    stream: bool,
    #[command(flatten)]
    packs: PackOptions,
    /// What can be known at this moment; default: what the project says, else permit.
    #[arg(long, value_enum)]
    stage: Option<StageName>,
    /// Count unresolved findings, and equipment of which no rule spoke, as corrections in the exit code.
    #[arg(long)]
    strict: bool,
    /// What ends with 1: with --base new corrections, else corrections. Repeatable, or separated by commas.
    #[arg(long, value_enum, value_delimiter = ',', value_name = "WHAT")]
    fail_on: Vec<FailOn>,
    /// The same, but only for projects that have come to this stage: what is not drawn yet may be open, what is built may not.
    #[arg(long, value_enum, value_name = "STAGE", conflicts_with = "strict")]
    strict_from: Option<StageName>,
    /// Let only what is new decide the exit code: compare with the same files at a git revision, reviewed by the packs of then, or
    /// with an earlier report in JSON. What was there already stays in the report, marked; of what is new the report says whether
    /// the drawing or the law brought it. Renamed files and ids are followed; what became worse is new.
    #[arg(long, value_name = "REVISION-OR-FILE")]
    base: Option<String>,
    /// The report's format.
    #[arg(long, value_enum, default_value = "text")]
    format: Format,
    /// Write the report to this file, whole or not at all.
    #[arg(long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// The units of the text report.
    #[arg(long, value_enum, default_value = "us")]
    units: Units,
    /// Show findings that ask nothing of anybody in full too.
    #[arg(long)]
    all: bool,
    #[command(flatten)]
    sandbox: SandboxChoices,
    /// How many modules to run at once; default: one for each processor.
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u16).range(1..=1024))]
    jobs: Option<u16>,
}

impl Arguments {
    /// Reviews every file; those that cannot be used are part of the report and the others are reviewed all the same.
    pub fn run(&self, terminal: Terminal) -> Outcome {
        let mut settings = self.packs.settings(&self.sandbox);
        settings.workers = self.jobs.map(usize::from);
        if self.stream {
            return self.run_stream(&Session::open(settings)?);
        }
        let files = files::named(&self.files)?;
        self.output.as_deref().map_or(Ok(()), |output| not_an_input(output, &files))?;
        let session = Session::open(settings)?;
        let base = self.base.as_ref().map(|name| Base::open(name, &files, session.settings())).transpose()?.map(Arc::new);
        let asked = Asked { stage: self.stage.map(Stage::from), base, in_progress: false };
        let sources: Vec<Source> = files.into_iter().map(Source::file).collect();
        let distrusted = session.distrusted(&sources);
        let mut run = Run { arguments: self, session: &session, terminal, ending: Ending::Clean, told: Vec::new() };
        let written = output::streamed(self.output.as_deref(), &mut |out: &mut dyn Write| {
            let format = self.format.of_report();
            let mut escaped = Escaped::new(out);
            let out: &mut dyn Write = if format.is_json() { &mut escaped } else { escaped.inner() };
            let mut sink = format.begin(self.frame(terminal), out)?;
            if distrusted.is_empty() {
                progress::during("reviewing", || run.all(&asked, sources.clone(), &mut *sink))?;
            } else {
                run.none(&distrusted, &sources, &mut *sink)?;
            }
            sink.end()
        });
        let ending = run.ending;
        if self.sandbox.warms() {
            session.warm_behind();
        }
        match written {
            Ok(()) | Err(Stop::NobodyReads) => Ok(ending),
            Err(stop) => Err(stop),
        }
    }

    /// The stage from which on unresolved findings count like corrections.
    fn strict_from(&self) -> Option<Stage> {
        if self.strict { Some(Stage::Permit) } else { self.strict_from.map(Stage::from) }
    }

    fn frame(&self, terminal: Terminal) -> Frame {
        let style = Style { system: self.units.into(), all: self.all, ..style(terminal, self.output.is_some()) };
        let root = std::env::current_dir().ok();
        Frame { tool: tool(), notice: notice().to_owned(), style, strict_from: self.strict_from(), root }
    }

    /// One project a line, one answer a line. Nothing is kept of what has been answered.
    fn run_stream(&self, session: &Session) -> Outcome {
        let here = std::env::current_dir().unwrap_or_default();
        let lines = io::BufReader::new(io::stdin()).split(b'\n').map_while(Result::ok).enumerate();
        let filled = lines.filter(|(_, line)| !line.trim_ascii().is_empty());
        let sources = filled.map(move |(at, line)| Source::bytes(format!("line {}", at + 1), line).governed_by(&here));
        let asked = Asked { stage: self.stage.map(Stage::from), ..Asked::default() };
        let mut ending = Ending::Clean;
        let mut out = io::stdout().lock();
        let mut out = Escaped::new(&mut out);
        let mut sink = Format::stream().begin(self.frame(Terminal::plain()), &mut out).map_err(output::stopped)?;
        for result in session.review_all(sources, asked) {
            let (written, one) = match result {
                Ok(review) => (sink.review(&review, &RuleTexts::new()), self.ending(&review)),
                Err(refusal) => (sink.refused(&refusal.refused()), Ending::Wrong),
            };
            match written.map_err(output::stopped) {
                Ok(()) => ending = ending.max(one),
                Err(Stop::NobodyReads) => return Ok(ending),
                Err(stop) => return Err(stop),
            }
        }
        Ok(ending)
    }

    fn ending(&self, review: &Review) -> Ending {
        match review {
            review if !review.failures.is_empty() => Ending::ModuleFailed,
            review if self.stops(review) => Ending::Corrections,
            _ => Ending::Clean,
        }
    }

    /// Whether somebody has to do something about the project that was not to be done before.
    fn stops(&self, review: &Review) -> bool {
        let on = |what| self.fail_on.contains(&what);
        if on(FailOn::Nothing) {
            return false;
        }
        let strict = on(FailOn::Unresolved) || self.strict_from().is_some_and(|from| review.stage >= from);
        let counts = |finding: &ReviewedFinding| match finding.outcome {
            Answer::Correction => true,
            // A correction that cannot be told any more, because somebody took a fact away, is one still.
            Answer::Unresolved => strict || matches!(finding.brought_by, Some(Change::FactRemoved { .. })),
            Answer::Advice => on(FailOn::Advice),
            _ => false,
        };
        let new = |finding: &ReviewedFinding| {
            let by_drawing = finding.brought_by.as_ref().is_none_or(Change::is_by_drawing);
            !finding.known && (by_drawing || !on(FailOn::Drawing))
        };
        let all = on(FailOn::All);
        let unlooked = strict && (all || review.since.is_none()) && review.not_looked_at.unexplained().next().is_some();
        unlooked || review.findings.iter().any(|finding| counts(finding) && (all || new(finding)))
    }
}

/// Whether a report would take the place of a project.
fn not_an_input(output: &Path, files: &[PathBuf]) -> anyhow::Result<()> {
    let real = |path: &Path| path.canonicalize().ok();
    let taken = real(output).is_some_and(|output| files.iter().any(|file| real(file).as_ref() == Some(&output)));
    anyhow::ensure!(!taken, "the report would take the place of the project {}: name another file", output::shown(output));
    Ok(())
}

/// What ends with 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum FailOn {
    /// What was not there before, be it the drawing or the law that brought it: the usual with --base.
    New,
    /// Of what was not there before, only what the drawing brought: new law does not stop an old house.
    Drawing,
    /// What was there before, too.
    All,
    /// Unresolved findings, too, and equipment of which no rule spoke, as --strict.
    Unresolved,
    /// Advice, too.
    Advice,
    /// Nothing that is found; a file that cannot be used and a failed module still end with 2 and 3.
    Nothing,
}

/// A run over files, and how it will end.
struct Run<'a> {
    arguments: &'a Arguments,
    session: &'a Session,
    terminal: Terminal,
    ending: Ending,
    /// What was told on standard error already: files often share their packs.
    told: Vec<crate::session::Diagnostic>,
}

impl Run<'_> {
    fn all(&mut self, asked: &Asked, sources: Vec<Source>, sink: &mut (dyn Sink + '_)) -> io::Result<()> {
        for result in self.session.review_all(sources, asked.clone()) {
            match result {
                Ok(review) => self.review(&review, sink)?,
                Err(refusal) => self.refused(&refusal, sink)?,
            }
        }
        Ok(())
    }

    /// A pack that is not the one that is allowed stops the whole run before any rule runs.
    fn none(&mut self, distrusted: &[Refusal], sources: &[Source], sink: &mut (dyn Sink + '_)) -> io::Result<()> {
        for source in sources {
            let refusal = distrusted.iter().find(|one| one.file == source.name()).cloned();
            self.refused(&refusal.unwrap_or_else(|| Refusal::not_reviewed(source.name())), sink)?;
        }
        Ok(())
    }

    fn review(&mut self, review: &Review, sink: &mut (dyn Sink + '_)) -> io::Result<()> {
        self.ending = self.ending.max(self.arguments.ending(review));
        let tells = self.arguments.format.of_report().tells_rules();
        let texts = if tells { self.session.rule_texts(review) } else { RuleTexts::new() };
        sink.review(review, &texts)
    }

    /// In the report, whatever its format; and on standard error, unless that is the screen the report is read on.
    fn refused(&mut self, refusal: &Refusal, sink: &mut (dyn Sink + '_)) -> io::Result<()> {
        self.ending = self.ending.max(Ending::Wrong);
        sink.refused(&refusal.refused())?;
        let for_people = self.arguments.format == Format::Text && self.arguments.output.is_none();
        let one_screen = for_people && io::stdout().is_terminal() && io::stderr().is_terminal();
        let new: Vec<_> = refusal.complaints.iter().filter(|one| !self.told.contains(one)).cloned().collect();
        if !one_screen && !new.is_empty() {
            let _ = io::stderr().write_all(render_all(&new, self.terminal.complaints).as_bytes());
        }
        self.told.extend(new);
        Ok(())
    }
}
