//! `redtag review`: the main job.

use super::base::{Base, Earlier};
use super::common::{PackOptions, SandboxChoices, Units, style};
use super::ending::{Ending, Outcome, Stop};
use super::format::Format;
use super::shelf::Shelf;
use super::{Terminal, day, files, output, projects};
use crate::diagnostic::{Code, Diagnostic, render_all};
use crate::document::{Limits, ProjectDocument, project_format, read_project};
use crate::modules::Library;
use crate::pack::Pack;
use crate::progress;
use crate::report::{Material, RuleTexts, Style, Totals as _, rule_texts};
use crate::review::{Assignment, ProjectSchema, mark_known, review, together};
use crate::rulebook::{Layers, Rulebooks};
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
    /// The same, but only for projects that have come to this stage: what is not drawn yet may be open, what is built may not.
    #[arg(long, value_enum, value_name = "STAGE", conflicts_with = "strict")]
    strict_from: Option<StageName>,
    /// Let only what is new decide the exit code: compare with the same files at a git revision, or with an earlier report in
    /// JSON. What was there already stays in the report, marked.
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
    /// What it is compared with, by its name.
    since: Option<(String, Earlier<Prepared>)>,
}

impl Prepared {
    /// The packs it and its earlier state are held against.
    fn packs(&self) -> Vec<Arc<Pack>> {
        let mut packs = self.layers.packs().to_vec();
        if let Some((_, Earlier::Project(earlier))) = &self.since {
            packs.extend(earlier.packs());
        }
        packs
    }
}

/// A project's review and what its rules are about, or what is wrong with its documents.
type Reviewed = Result<(Review, RuleTexts), Vec<Diagnostic>>;

impl Arguments {
    /// Reviews every file; those that cannot be used are told on standard error and the others reviewed all the same.
    pub fn run(&self, terminal: Terminal) -> Outcome {
        let files = files::named(&self.files)?;
        let shelf = Shelf::open(&self.packs)?;
        let base = self.base.as_ref().map(|name| Base::open(name, &files)).transpose()?;
        let library = self.sandbox.library()?;
        let workers = rayon::ThreadPoolBuilder::new().num_threads(self.jobs.map_or(0, usize::from)).build();
        let workers = workers.context("the system gives no threads to work with")?;
        let results = workers.install(|| self.review_all(&files, &shelf, base.as_ref(), &library));
        let (reviewed, complaints) = parted(results);
        if !complaints.is_empty() {
            let _ = std::io::stderr().write_all(render_all(&complaints, terminal.complaints).as_bytes());
        }
        let wrong = if complaints.iter().any(Diagnostic::is_error) { Ending::Wrong } else { Ending::Clean };
        if reviewed.is_empty() {
            return Ok(wrong);
        }
        let (reviews, texts): (Vec<Review>, Vec<RuleTexts>) = reviewed.into_iter().unzip();
        let (reviews, rules) = (together(reviews), texts.into_iter().flatten().collect());
        let ending = self.ending(&reviews).max(wrong);
        let root = std::env::current_dir().ok();
        let style = self.style(terminal);
        let material =
            Material { reviews: &reviews, rules: &rules, style: &style, strict_from: self.strict_from(), root: root.as_deref() };
        let written = output::write(&self.format.render(&material), self.output.as_deref());
        super::pack::behind(&library, &self.sandbox);
        match written {
            Ok(()) | Err(Stop::NobodyReads) => Ok(ending),
            Err(stop) => Err(stop),
        }
    }

    /// The stage from which on unresolved findings count like corrections.
    fn strict_from(&self) -> Option<Stage> {
        if self.strict { Some(Stage::Permit) } else { self.strict_from.map(Stage::from) }
    }

    fn style(&self, terminal: Terminal) -> Style {
        let to_file = self.output.is_some();
        Style { system: self.units.into(), all: self.all, ..style(terminal, to_file) }
    }

    fn review_all(&self, files: &[PathBuf], shelf: &Shelf, base: Option<&Base>, library: &Library) -> Vec<Reviewed> {
        let what = format!("reading {} project files", files.len());
        let read: Vec<_> =
            progress::during(&what, || files.par_iter().map(|file| read_project(file, &Limits::default())).collect());
        let prepare = |(file, document): (&PathBuf, Result<_, _>)| self.prepare(file, document?, shelf, base);
        let prepared: Vec<_> = files.iter().zip(read).map(prepare).collect();
        if prepared.iter().filter_map(|one| one.as_ref().err()).flatten().any(breaks_trust) {
            return prepared.into_iter().map(|one| Err(one.err().unwrap_or_else(not_reviewed))).collect();
        }
        // Described before they are reviewed, each module once, several at a time.
        let packs = prepared.iter().flatten().flat_map(Prepared::packs);
        drop(library.descriptions(&packs.collect::<Vec<_>>()));
        let books = Rulebooks::default();
        let review = || prepared.into_par_iter().map(|one| self.review(&one?, library, &books)).collect();
        progress::during("reviewing", review)
    }

    fn prepare(
        &self,
        file: &Path,
        document: ProjectDocument,
        shelf: &Shelf,
        base: Option<&Base>,
    ) -> Result<Prepared, Vec<Diagnostic>> {
        let named = projects::packs(&document)?;
        let (date, date_from) = day::chosen(self.packs.as_of.as_deref(), document.project.application_date.as_deref());
        let layers = shelf.layers(named, Some(file), &date)?;
        let since = base.map(|base| {
            let earlier = base.earlier(file, &document);
            (base.name().to_owned(), earlier.ready(|earlier| self.prepare(file, earlier, shelf, None).ok()))
        });
        Ok(Prepared { document, layers, date_from, since })
    }

    fn review(&self, one: &Prepared, library: &Library, books: &Rulebooks) -> Reviewed {
        let schema = project_format().map_err(|complaint| vec![complaint])?.checker.schema();
        let rulebook = books.get(&one.layers, library)?;
        let stage = self.stage.map(Stage::from).or(one.document.project.stage).unwrap_or(Stage::Permit);
        let assignment = Assignment { document: &one.document, rulebook: &rulebook, stage, date_from: one.date_from };
        let mut review = review(library, &ProjectSchema::new(schema), &assignment);
        if let Some((base, earlier)) = &one.since {
            let before = match earlier {
                Earlier::Nothing => Vec::new(),
                Earlier::Same => review.findings.clone(),
                Earlier::Project(earlier) => {
                    self.review(earlier, library, books).map_or_else(|_| Vec::new(), |(one, _)| one.findings)
                }
                Earlier::Findings(findings) => findings.clone(),
            };
            mark_known(&mut review, base, &before);
        }
        let texts = if self.format.tells_rules() { rule_texts(&review, &rulebook) } else { RuleTexts::new() };
        Ok((review, texts))
    }

    fn ending(&self, reviews: &Reviews) -> Ending {
        if reviews.failed() > 0 {
            Ending::ModuleFailed
        } else if reviews.reviews.iter().any(|review| self.stops(review)) {
            Ending::Corrections
        } else {
            Ending::Clean
        }
    }

    /// Whether somebody has to do something about the project that was not to be done before.
    fn stops(&self, review: &Review) -> bool {
        let strict = self.strict_from().is_some_and(|from| review.stage >= from);
        let counts = |outcome| outcome == Answer::Correction || strict && outcome == Answer::Unresolved;
        review.findings.iter().any(|finding| !finding.known && counts(finding.outcome))
    }
}

/// What was reviewed, and what is wrong with the rest, each complaint once: files often share their packs.
fn parted(results: Vec<Reviewed>) -> (Vec<(Review, RuleTexts)>, Vec<Diagnostic>) {
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

/// Whether a pack is not the one the lock or the trust file allows. One such pack stops the whole run before any rule runs.
fn breaks_trust(complaint: &Diagnostic) -> bool {
    const CODES: [&str; 5] = ["pack-drift", "pack-not-locked", "unsigned-pack", "bad-signature", "untrusted-signature"];
    CODES.contains(&&*complaint.code)
}

fn not_reviewed() -> Vec<Diagnostic> {
    vec![Diagnostic::note(Code::NotReviewed, "not reviewed: a pack of another project is not the one that is allowed")]
}
