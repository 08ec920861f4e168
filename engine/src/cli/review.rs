//! `redtag review`: the main job.

use super::common::{PackOptions, SandboxChoices, Units, style};
use super::ending::{Ending, Outcome, Stop};
use super::format::Format;
use super::shelf::Shelf;
use super::{Terminal, day, files, output, projects};
use crate::diagnostic::{Diagnostic, render_all};
use crate::document::{Limits, ProjectDocument, project_format, read_project};
use crate::pack::{Layers, rulebook};
use crate::progress;
use crate::report::{Style, Totals as _};
use crate::review::{Assignment, Library, ProjectSchema, review, together};
use anyhow::Context as _;
use clap::ValueEnum;
use rayon::iter::{IntoParallelIterator as _, IntoParallelRefIterator as _, ParallelIterator as _};
use redtag_schema::contract::{Outcome as Answer, Stage};
use redtag_schema::review::{DateSource, Review, Reviews};
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Hold project files against the rules in force and report.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// Project files; patterns such as houses/*.json are taken too.
    #[arg(required = true, value_name = "FILE")]
    files: Vec<PathBuf>,
    #[command(flatten)]
    packs: PackOptions,
    /// What can be known at this moment; default: what the project says, else permit.
    #[arg(long, value_enum)]
    stage: Option<StageName>,
    /// Count unresolved findings as corrections in the exit code.
    #[arg(long)]
    strict: bool,
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

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum StageName {
    /// What is drawn and specified.
    Permit,
    /// Pipes, wires and ducts are in, walls are open.
    RoughIn,
    /// Everything stands.
    Final,
}

impl From<StageName> for Stage {
    fn from(name: StageName) -> Self {
        match name {
            StageName::Permit => Self::Permit,
            StageName::RoughIn => Self::RoughIn,
            StageName::Final => Self::Final,
        }
    }
}

/// A project and the packs it is held against.
struct Prepared {
    document: ProjectDocument,
    layers: Layers,
    date_from: DateSource,
}

impl Arguments {
    /// Reviews every file; those that cannot be used are told on standard error and the others reviewed all the same.
    pub fn run(&self, terminal: Terminal) -> Outcome {
        let files = files::named(&self.files)?;
        let shelf = Shelf::open(&self.packs)?;
        let library = Library::new(self.sandbox.sandbox()?);
        let workers = rayon::ThreadPoolBuilder::new().num_threads(self.jobs.map_or(0, usize::from)).build();
        let workers = workers.context("the system gives no threads to work with")?;
        let results = workers.install(|| self.review_all(&files, &shelf, &library));
        let (reviews, complaints) = parted(results);
        if !complaints.is_empty() {
            let _ = std::io::stderr().write_all(render_all(&complaints, terminal.complaints).as_bytes());
        }
        let wrong = if complaints.iter().any(Diagnostic::is_error) { Ending::Wrong } else { Ending::Clean };
        if reviews.is_empty() {
            return Ok(wrong);
        }
        let reviews = together(reviews);
        let ending = self.ending(&reviews).max(wrong);
        match output::write(&self.format.render(&reviews, &self.style(terminal)), self.output.as_deref()) {
            Ok(()) | Err(Stop::NobodyReads) => Ok(ending),
            Err(stop) => Err(stop),
        }
    }

    fn style(&self, terminal: Terminal) -> Style {
        let to_file = self.output.is_some();
        Style { system: self.units.into(), all: self.all, ..style(terminal, to_file) }
    }

    fn review_all(&self, files: &[PathBuf], shelf: &Shelf, library: &Library) -> Vec<Result<Review, Vec<Diagnostic>>> {
        let what = format!("reading {} project files", files.len());
        let read: Vec<_> =
            progress::during(&what, || files.par_iter().map(|file| read_project(file, &Limits::default())).collect());
        let prepared: Vec<_> = files.iter().zip(read).map(|(file, document)| self.prepare(file, document?, shelf)).collect();
        let packs = prepared.iter().flatten().flat_map(|one| one.layers.packs()).map(Arc::clone);
        library.load_all(&packs.collect::<Vec<_>>());
        let review = || prepared.into_par_iter().map(|one| self.review(&one?, library)).collect();
        progress::during("reviewing", review)
    }

    fn prepare(&self, file: &Path, document: ProjectDocument, shelf: &Shelf) -> Result<Prepared, Vec<Diagnostic>> {
        let named = projects::packs(&document)?;
        let (date, date_from) = day::chosen(self.packs.as_of.as_deref(), document.project.application_date.as_deref());
        let layers = shelf.layers(named, Some(file), &date)?;
        Ok(Prepared { document, layers, date_from })
    }

    fn review(&self, one: &Prepared, library: &Library) -> Result<Review, Vec<Diagnostic>> {
        let schema = project_format().map_err(|complaint| vec![complaint])?.checker.schema();
        let rulebook = rulebook(&one.layers, library)?;
        let stage = self.stage.map(Stage::from).or(one.document.project.stage).unwrap_or(Stage::Permit);
        let assignment = Assignment { document: &one.document, rulebook: &rulebook, stage, date_from: one.date_from };
        Ok(review(library, &ProjectSchema::new(schema), &assignment))
    }

    fn ending(&self, reviews: &Reviews) -> Ending {
        let tally = reviews.tally();
        let open = self.strict && tally.of(Answer::Unresolved) > 0;
        if reviews.failed() > 0 {
            Ending::ModuleFailed
        } else if open || tally.of(Answer::Correction) > 0 {
            Ending::Corrections
        } else {
            Ending::Clean
        }
    }
}

/// What was reviewed, and what is wrong with the rest, each complaint once: files often share their packs.
fn parted(results: Vec<Result<Review, Vec<Diagnostic>>>) -> (Vec<Review>, Vec<Diagnostic>) {
    let (mut reviews, mut complaints) = (Vec::new(), Vec::new());
    for result in results {
        match result {
            Ok(review) => reviews.push(review),
            Err(errors) => complaints.extend(errors),
        }
    }
    let mut told: Vec<Diagnostic> = Vec::new();
    complaints.into_iter().for_each(|complaint| {
        if !told.contains(&complaint) {
            told.push(complaint);
        }
    });
    (reviews, told)
}
