//! Two rulebooks over the same projects.

use super::shelf::{Shelf, named_packs};
use super::{Draft, Prepared, Session, SessionError, day};
use crate::compare::{Side, compare};
use redtag_schema::comparison::Comparison;
use std::path::PathBuf;

/// One side of a comparison.
#[derive(Debug, Clone, Default)]
pub struct SideOf {
    /// Its packs, besides those at hand; where some are named, those the projects name do not count.
    pub packs: Vec<PathBuf>,
    /// The day whose law it is, instead of each project's application date.
    pub date: Option<String>,
}

/// What a comparison comes to.
#[derive(Debug)]
pub struct Compared {
    /// The comparison.
    pub comparison: Comparison,
    /// Whether a module failed, so that some rules could not be compared.
    pub failed: bool,
}

/// The packs at hand for one side, and its day.
struct Shelved {
    shelf: Shelf,
    named: bool,
    date: Option<String>,
}

impl Session {
    /// Holds projects against two rulebooks; without projects the rulebooks alone are compared.
    ///
    /// # Errors
    /// Projects or packs that cannot be used.
    pub fn compare(&self, from: &SideOf, to: &SideOf, drafts: &[Draft]) -> Result<Compared, SessionError> {
        let (from, to) = (self.shelved(from)?, self.shelved(to)?);
        let mut pairs = Vec::new();
        if drafts.is_empty() {
            pairs.push((self.side(&from, None)?, self.side(&to, None)?));
        }
        for draft in drafts {
            pairs.push((self.side(&from, Some(draft))?, self.side(&to, Some(draft))?));
        }
        let comparison = compare(&pairs);
        let failures = |side: &Side| !side.book.failures.is_empty();
        let failed = comparison.failed() || pairs.iter().any(|(from, to)| failures(from) || failures(to));
        Ok(Compared { comparison, failed })
    }

    fn shelved(&self, side: &SideOf) -> Result<Shelved, SessionError> {
        let mut settings = self.0.settings.clone();
        settings.packs.extend(side.packs.iter().cloned());
        let date = side.date.clone().or_else(|| settings.as_of.clone());
        Ok(Shelved { shelf: Shelf::open(&settings)?, named: !side.packs.is_empty(), date })
    }

    fn side(&self, shelved: &Shelved, draft: Option<&Draft>) -> Result<Side, SessionError> {
        let document = match draft {
            Some(draft) if draft.checked().is_refused() => return Err(draft.complaints().to_vec().into()),
            Some(draft) => draft.checked().project.as_ref(),
            None => None,
        };
        let of_project = document.and_then(|document| document.project.application_date.as_deref());
        let (date, date_from) = day::chosen(shelved.date.as_deref(), of_project);
        let named = match document {
            Some(document) if !shelved.named => named_packs(document)?,
            _ => Vec::new(),
        };
        let law = shelved.shelf.law(named, draft.and_then(|draft| draft.beside.as_deref()), &date)?;
        let book = self.0.books.rulebook(&law.layers, &self.0.library)?;
        let Some(document) = document else { return Ok(Side { book: (*book).clone(), review: None }) };
        let prepared = Prepared { document, law, date_from };
        let review = self.0.workers.install(|| self.review_prepared(&prepared, None))?;
        Ok(Side { book: (*book).clone(), review: Some(review) })
    }
}
