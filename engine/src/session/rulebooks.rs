//! Rulebooks, kept by their packs and day: projects of one place and day share theirs.

use super::{Draft, Session, SessionError, day, shelf};
use crate::cases::load;
use crate::diagnostic::{Code, Diagnostic, quoted};
use crate::document::did_you_mean;
use crate::modules::Library;
use crate::rulebook::{Layers, nearest_rule, resolve};
use redtag_schema::review::Review;
use redtag_schema::rulebook::{RuleEntry, Rulebook};
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

/// The rulebooks of a session.
#[derive(Default)]
pub(super) struct Books {
    books: Mutex<BTreeMap<Key, Arc<OnceLock<Book>>>>,
    /// Held while modules are loaded: see [`Books::make`].
    loading: Mutex<()>,
}

/// How many are held: projects of very many days would otherwise fill the memory with books.
const HELD: usize = 64;

/// The digests of the packs, lowest first, and the day.
type Key = (Vec<String>, String);
type Book = Result<Arc<Rulebook>, Vec<Diagnostic>>;

impl Books {
    /// The rulebook of these layers; its modules are loaded from then on.
    pub(super) fn rulebook(&self, layers: &Layers, library: &Library) -> Book {
        let digests = layers.packs().iter().map(|pack| pack.digest().to_owned()).collect();
        self.slot((digests, layers.date().to_owned())).get_or_init(|| self.make(layers, library)).clone()
    }

    /// The rulebook a review was made by.
    pub(super) fn of(&self, review: &Review) -> Option<Arc<Rulebook>> {
        let digests = review.packs.iter().map(|pack| pack.digest.clone()).collect();
        self.slot((digests, review.date.clone())).get()?.as_ref().ok().cloned()
    }

    fn slot(&self, key: Key) -> Arc<OnceLock<Book>> {
        // A thread that panicked elsewhere leaves the map itself whole.
        let mut books = self.books.lock().unwrap_or_else(PoisonError::into_inner);
        if books.len() >= HELD && !books.contains_key(&key) {
            books.clear();
        }
        Arc::clone(books.entry(key).or_default())
    }

    /// Loads and resolves on a thread that is no worker, one rulebook at a time. A worker that waits for others takes up other
    /// work meanwhile, and that may be a review by the very rulebook, or a load of the very module, it is busy with: it would
    /// wait for itself.
    fn make(&self, layers: &Layers, library: &Library) -> Book {
        let work = || {
            let _alone = self.loading.lock().unwrap_or_else(PoisonError::into_inner);
            resolve(layers, &library.descriptions(layers.packs())).map(Arc::new)
        };
        let made = std::thread::scope(|scope| scope.spawn(work).join());
        made.unwrap_or_else(|panic| std::panic::resume_unwind(panic))
    }
}

/// A rulebook, and the packs it is made of.
pub struct Found {
    /// The rulebook.
    pub rulebook: Arc<Rulebook>,
    pub(super) layers: Layers,
}

/// A rule, and the titles of its cases.
pub struct Explained {
    /// What the rulebook knows of it.
    pub rule: RuleEntry,
    /// Its cases.
    pub cases: Vec<String>,
}

impl Session {
    /// The rulebook of a project, or of the session's packs alone.
    ///
    /// # Errors
    /// A project or packs that cannot be used.
    pub fn rulebook(&self, project: Option<&Draft>) -> Result<Found, SessionError> {
        let document = match project {
            Some(draft) if draft.checked().is_refused() => return Err(draft.complaints().to_vec().into()),
            Some(draft) => draft.checked().project.as_ref(),
            None => None,
        };
        let of_project = document.and_then(|document| document.project.application_date.as_deref());
        let (date, _) = day::chosen(self.0.settings.as_of.as_deref(), of_project);
        let named = document.map(shelf::named_packs).transpose()?.unwrap_or_default();
        let beside = project.and_then(|draft| draft.beside.as_deref());
        let layers = self.0.shelf.layers(named, beside, &date)?;
        let rulebook = self.0.books.rulebook(&layers, &self.0.library)?;
        Ok(Found { rulebook, layers })
    }

    /// One rule of a rulebook.
    ///
    /// # Errors
    /// There is none of that id; the words say which was meant.
    pub fn explain(&self, found: &Found, id: &str) -> Result<Explained, SessionError> {
        let rule = rule(&found.rulebook, id)?.clone();
        let packs = found.layers.packs().iter();
        let all = packs.flat_map(|pack| load(pack, &found.rulebook).cases);
        let cases = all.filter(|case| case.rule == id).map(|case| format!("{}: {}", case.kind, case.title)).collect();
        Ok(Explained { rule, cases })
    }
}

fn rule<'a>(rulebook: &'a Rulebook, id: &str) -> Result<&'a RuleEntry, SessionError> {
    if let Some(rule) = rulebook.rule(id) {
        return Ok(rule);
    }
    if let Some(failure) = rulebook.failures.iter().find(|failure| id.starts_with(&format!("{}/", failure.module))) {
        return Err(SessionError::Module(failure.message.clone()));
    }
    let codes = Code::ALL.iter().map(|code| code.word());
    let help = match nearest_rule(rulebook, id).map(str::to_owned).or_else(|| did_you_mean(id, codes).map(str::to_owned)) {
        Some(near) => format!("did you mean {near}?"),
        None => "`redtag rulebook` lists the rules".to_owned(),
    };
    let name = quoted(id);
    Err(anyhow::anyhow!("no rule of the rulebook and no kind of complaint is called {name}; {help}").into())
}
