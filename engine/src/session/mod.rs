//! The one door: projects in, reviews out, with everything that guards them.
//!
//! A [`Session`] holds what is worth keeping between reviews: packs and whose law they are, rulebooks by their packs and day,
//! compiled modules, answers. The lock file, the trust file and the compiling child are inside and on; nobody who reviews
//! through a session can forget them. The command line and every other face stand on it and see nothing below it.

mod attention;
mod base;
mod compare;
mod day;
mod error;
mod git;
mod guard;
mod law;
mod packs;
mod prove;
mod rulebooks;
mod settings;
mod shelf;
mod since;
mod source;
mod stream;
mod warm;

pub use crate::diagnostic::{Code, Diagnostic, Paint, Severity, complaints, quoted, render_all};
pub use crate::document::{Checked, Limits, open_regular};
pub use crate::review::{Budget, statement as variance_statement};
pub use base::Base;
pub use compare::{Compared, SideOf};
pub use day::parse as parse_day;
pub use error::{Refusal, SessionError};
pub use packs::*;
pub use prove::{ProofOf, Proved};
pub use rulebooks::{Explained, Found};
pub use settings::{Budgets, Keep, PROJECT_BYTES, Settings, serve_compiling};
#[cfg(test)]
pub(crate) use shelf::named_packs;
pub use source::{Draft, Source, read_draft};
pub use stream::Stream;
pub use warm::Warmed;

use crate::document::{ProjectDocument, project_format};
use crate::modules::Library;
use crate::review::{Assignment, ProjectSchema, review};
use law::Law;
use redtag_report::{RuleTexts, rule_texts};
use redtag_schema::contract::Stage;
use redtag_schema::review::{DateSource, NOTICE, Review, Reviews, SCHEMA, Tool};
use redtag_schema::rulebook::Rulebook;
use shelf::Shelf;
use std::path::Path;
use std::sync::Arc;

/// Reviews projects, and keeps what the next review can use. Copies share what is kept.
#[derive(Clone)]
pub struct Session(Arc<Inner>);

struct Inner {
    settings: Settings,
    shelf: Shelf,
    library: Library,
    books: rulebooks::Books,
    workers: rayon::ThreadPool,
}

/// What is asked of a review besides the project.
#[derive(Debug, Clone, Default)]
pub struct Asked {
    /// What can be known at this moment; `None`: what the project says, else permit.
    pub stage: Option<Stage>,
    /// What is known already, so that only what is new counts.
    pub base: Option<Arc<Base>>,
    /// Whether a drawing in progress is reviewed too: complaints about rooms and bodies that do not fit one another stand
    /// beside the review instead of in its place.
    pub in_progress: bool,
}

/// A project that can be reviewed, and by what.
struct Prepared<'d> {
    document: &'d ProjectDocument,
    law: Law,
    date_from: DateSource,
}

impl Session {
    /// Opens a session.
    ///
    /// # Errors
    /// Packs, lock file or trust file that cannot be used; a system that gives no threads or no place to keep things.
    pub fn open(settings: Settings) -> Result<Self, SessionError> {
        let shelf = Shelf::open(&settings)?;
        let library = settings.library()?;
        let workers = rayon::ThreadPoolBuilder::new().num_threads(settings.workers.unwrap_or(0)).build();
        let workers = workers.map_err(|error| {
            SessionError::Other(anyhow::Error::new(error).context("the system gives no threads to work with"))
        })?;
        Ok(Self(Arc::new(Inner { settings, shelf, library, books: rulebooks::Books::default(), workers })))
    }

    /// What it was opened with.
    pub fn settings(&self) -> &Settings {
        &self.0.settings
    }

    /// Reads a project as far as it can be read.
    pub fn read(&self, source: Source) -> Draft {
        source.read(&self.0.settings.limits)
    }

    /// Reviews a project for its own stage.
    ///
    /// # Errors
    /// Everything that is wrong with the project, its packs, its lock file.
    pub fn review(&self, draft: &Draft) -> Result<Review, Refusal> {
        self.review_as(draft, &Asked::default())
    }

    /// Reviews a project as asked.
    ///
    /// # Errors
    /// As [`Session::review`].
    pub fn review_as(&self, draft: &Draft, asked: &Asked) -> Result<Review, Refusal> {
        self.0.workers.install(|| self.review_here(draft, asked))
    }

    /// Reviews projects one after the other, several at once: the reviews come in the order of the sources, and no more
    /// projects are in memory than are being worked on. See [`Stream`].
    pub fn review_all<I>(&self, sources: I, asked: Asked) -> Stream
    where
        I: IntoIterator<Item = Source>,
        I::IntoIter: Send + 'static,
    {
        Stream::start(self.clone(), sources.into_iter(), asked)
    }

    /// What the rules with a finding in a review are about.
    pub fn rule_texts(&self, review: &Review) -> RuleTexts {
        self.0.books.of(review).map(|book| rule_texts(review, &book)).unwrap_or_default()
    }

    fn review_here(&self, draft: &Draft, asked: &Asked) -> Result<Review, Refusal> {
        let refused = |complaints| Refusal { file: draft.name.clone(), complaints };
        let checked = draft.checked();
        let document = match &checked.project {
            Some(document) if asked.in_progress || !checked.is_refused() => document,
            _ => return Err(refused(checked.complaints.clone())),
        };
        let beside = draft.beside.as_deref();
        let prepared = self.prepare(document, beside).map_err(refused)?;
        let mut review = self.review_prepared(&prepared, asked.stage).map_err(refused)?;
        let errors = checked.complaints.iter().filter(|complaint| complaint.is_error());
        review.complaints = errors.map(Diagnostic::complaint).collect();
        if let Some(base) = &asked.base {
            self.compare_with_base(&mut review, &prepared, beside, base, asked);
        }
        Ok(review)
    }

    fn prepare<'d>(&self, document: &'d ProjectDocument, beside: Option<&Path>) -> Result<Prepared<'d>, Vec<Diagnostic>> {
        self.prepare_from(&self.0.shelf, document, beside)
    }

    fn prepare_from<'d>(
        &self,
        shelf: &Shelf,
        document: &'d ProjectDocument,
        beside: Option<&Path>,
    ) -> Result<Prepared<'d>, Vec<Diagnostic>> {
        let named = shelf::named_packs(document)?;
        let asked = self.0.settings.as_of.as_deref();
        let (date, date_from) = day::chosen(asked, document.project.application_date.as_deref());
        let law = shelf.law(named, beside, &date)?;
        Ok(Prepared { document, law, date_from })
    }

    fn review_prepared(&self, one: &Prepared<'_>, stage: Option<Stage>) -> Result<Review, Vec<Diagnostic>> {
        let schema = project_format().map_err(|complaint| vec![complaint])?.checker.schema();
        let rulebook: Arc<Rulebook> = self.0.books.rulebook(&one.law.layers, &self.0.library)?;
        let stage = stage.or(one.document.project.stage).unwrap_or(Stage::Permit);
        let variance_signers = &one.law.variance_signers;
        let assignment = Assignment {
            document: one.document,
            rulebook: &rulebook,
            stage,
            date_from: one.date_from,
            variance_signers,
            budget: self.0.settings.budgets.said,
        };
        let mut review = review(&self.0.library, &ProjectSchema::new(schema), &assignment);
        one.law.vouch(&mut review.packs);
        review.notes.extend(one.law.notes.iter().cloned());
        attention::look(&mut review, &assignment, schema);
        Ok(review)
    }

    /// What speaks against the packs of these projects, before any rule runs: one entry for each project of which a pack is not
    /// the one that is allowed. Cheap: of each project only what names its packs and its day is read.
    pub fn distrusted(&self, sources: &[Source]) -> Vec<Refusal> {
        let look = |source: &Source| {
            let bytes = source.peek(&self.0.settings.limits)?;
            let head: shelf::Head = serde_json::from_slice(&bytes).ok()?;
            let (date, _) = day::chosen(self.0.settings.as_of.as_deref(), head.application_date.as_deref());
            let complaints = self.0.shelf.layers(head.wanted(), source.beside(), &date).err()?;
            let refusal = Refusal { file: source.name().to_owned(), complaints };
            refusal.breaks_trust().then_some(refusal)
        };
        sources.iter().filter_map(look).collect()
    }
}

/// What every report says.
pub fn notice() -> &'static str {
    NOTICE
}

/// The program, as reports name it.
pub fn tool() -> Tool {
    Tool { name: "redtag".to_owned(), version: env!("CARGO_PKG_VERSION").to_owned() }
}

/// The reviews of a run as one document. Whoever has very many writes them as they come instead: [`redtag_report::Sink`].
pub fn together(results: impl IntoIterator<Item = Result<Review, Refusal>>) -> Reviews {
    let mut all = Reviews { schema: SCHEMA, tool: tool(), notice: NOTICE.to_owned(), reviews: Vec::new(), refused: Vec::new() };
    for result in results {
        match result {
            Ok(review) => all.reviews.push(review),
            Err(refusal) => all.refused.push(refusal.refused()),
        }
    }
    all
}
