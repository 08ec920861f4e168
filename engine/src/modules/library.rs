//! The rule modules of a run: each asked once what it holds and loaded once, whatever the number of projects and packs, and only
//! where no description or no answer of it is kept.

use super::description::{Described, Descriptions, Refused, read_description, usable};
use super::kept_answers::KeptAnswers;
use crate::pack::{Origin, Pack};
use crate::progress;
use crate::sandbox::{LoadedModule, ModuleFailure, Sandbox, Tier};
use crate::store::{Kind, Name, Store};
use rayon::iter::{IntoParallelIterator as _, ParallelIterator as _};
use redtag_schema::contract::Description;
use redtag_schema::pack::ModuleEntry;
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};
use std::time::{Duration, Instant};

/// Loads modules and keeps them.
pub struct Library {
    sandbox: Sandbox,
    /// Where descriptions are kept for the next run.
    store: Option<Arc<Store>>,
    answers: Option<KeptAnswers>,
    shelf: Mutex<BTreeMap<String, Arc<Volume>>>,
    /// How long preparing modules nobody vouches for may take, all together, and has taken, in milliseconds.
    preparing: (Duration, AtomicU64),
}

/// One module: where it is, what it says of itself, and its code once somebody needs it.
struct Volume {
    pack: Arc<Pack>,
    entry: ModuleEntry,
    described: OnceLock<Described>,
    loaded: OnceLock<Result<Arc<LoadedModule>, Refused>>,
}

impl From<ModuleFailure> for Refused {
    fn from(failure: ModuleFailure) -> Self {
        Self::new(failure.kind(), failure.to_string())
    }
}

impl Library {
    /// An empty library that keeps nothing.
    pub fn new(sandbox: Sandbox) -> Self {
        let preparing = (Duration::MAX, AtomicU64::new(0));
        Self { sandbox, store: None, answers: None, shelf: Mutex::default(), preparing }
    }

    /// The same, with what modules say of themselves kept for the next run.
    #[must_use]
    pub fn describing_from(self, store: Option<Arc<Store>>) -> Self {
        Self { store, ..self }
    }

    /// The same, with answers kept and looked up before a module is run.
    #[must_use]
    pub fn keeping(self, answers: Option<KeptAnswers>) -> Self {
        Self { answers, ..self }
    }

    /// The same, where compiling and describing the modules nobody vouches for takes no longer than this, all together.
    #[must_use]
    pub fn preparing_within(self, limit: Duration) -> Self {
        Self { preparing: (limit, AtomicU64::new(0)), ..self }
    }

    /// Does work that prepares a module, and counts its time.
    fn prepare<T>(&self, volume: &Volume, work: impl FnOnce() -> Result<T, Refused>) -> Result<T, Refused> {
        if volume.pack.is_embedded() {
            return work();
        }
        let (limit, taken) = &self.preparing;
        if u128::from(taken.load(Ordering::Relaxed)) >= limit.as_millis() {
            let name = &volume.entry.name;
            let words = format!(
                "module `{name}` is not used: compiling and describing the modules of this run took {} s, which is all they may \
                 take together; leave out those that take long, or allow more with --preparing",
                limit.as_secs()
            );
            return Err(Refused::new("run-out-of-time", words));
        }
        let start = Instant::now();
        let done = work();
        taken.fetch_add(u64::try_from(start.elapsed().as_millis()).unwrap_or(u64::MAX), Ordering::Relaxed);
        done
    }

    /// Where answers are kept.
    pub(super) fn kept_answers(&self) -> Option<&KeptAnswers> {
        self.answers.as_ref()
    }

    /// What the modules of the packs say of themselves, several asked at once. Failures are told to whoever asks for the module.
    pub fn descriptions(&self, packs: &[Arc<Pack>]) -> Descriptions {
        let mut distinct: BTreeMap<&str, Arc<Volume>> = BTreeMap::new();
        for (pack, entry) in packs.iter().flat_map(|pack| pack.manifest().modules.iter().map(move |entry| (pack, entry))) {
            if let Some(sha256) = &entry.sha256 {
                distinct.entry(sha256).or_insert_with(|| self.volume(pack, entry, sha256));
            }
        }
        let described: Vec<(&str, Described)> =
            distinct.into_par_iter().map(|(sha256, volume)| (sha256, volume.described(self))).collect();
        let mut out = Descriptions::default();
        described.into_iter().for_each(|(sha256, described)| out.insert(sha256, described));
        out
    }

    /// A module that was described, by the SHA-256 of its component; loaded now if it was not before.
    ///
    /// # Errors
    /// Why it is of no use.
    pub fn loaded(&self, sha256: &str) -> Result<Arc<LoadedModule>, Refused> {
        let volume = self.shelf().get(sha256).cloned();
        volume.ok_or_else(|| Refused::new("internal", "the module was never described"))?.loaded(self)
    }

    /// Where the packs come from whose modules ran and have no optimised code yet.
    pub fn unoptimised(&self) -> Vec<Origin> {
        let baseline = |volume: &&Arc<Volume>| matches!(volume.loaded.get(), Some(Ok(module)) if module.tier() == Tier::Baseline);
        let mut origins: Vec<Origin> = Vec::new();
        for volume in self.shelf().values().filter(baseline) {
            if !origins.contains(volume.pack.origin()) {
                origins.push(volume.pack.origin().clone());
            }
        }
        origins
    }

    /// Compiles every module of the packs with every optimisation, unless that is done: how many there were to do, and what
    /// became of those that cannot be compiled.
    pub fn warm(&self, packs: &[Arc<Pack>]) -> (usize, Vec<ModuleFailure>) {
        let (mut done, mut failures) = (0, Vec::new());
        for (pack, entry) in packs.iter().flat_map(|pack| pack.manifest().modules.iter().map(move |entry| (pack, entry))) {
            let (Some(file), Some(sha256)) = (&entry.file, &entry.sha256) else { continue };
            if self.sandbox.is_warm(sha256) {
                continue;
            }
            let Some(wasm) = pack.shared(file) else { continue };
            match self.sandbox.warm(&entry.name, sha256, pack.is_embedded(), wasm) {
                Ok(made) => done += usize::from(made),
                Err(failure) => failures.push(failure),
            }
        }
        (done, failures)
    }

    fn volume(&self, pack: &Arc<Pack>, entry: &ModuleEntry, sha256: &str) -> Arc<Volume> {
        let new = || Volume { pack: Arc::clone(pack), entry: entry.clone(), described: OnceLock::new(), loaded: OnceLock::new() };
        Arc::clone(self.shelf().entry(sha256.to_owned()).or_insert_with(|| Arc::new(new())))
    }

    fn shelf(&self) -> std::sync::MutexGuard<'_, BTreeMap<String, Arc<Volume>>> {
        // A thread that panicked elsewhere leaves the map itself whole.
        self.shelf.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Volume {
    fn described(&self, library: &Library) -> Described {
        self.described.get_or_init(|| self.describe(library)).clone()
    }

    fn loaded(&self, library: &Library) -> Result<Arc<LoadedModule>, Refused> {
        self.loaded.get_or_init(|| library.prepare(self, || self.load(&library.sandbox))).clone()
    }

    /// What the module says of itself: kept, or asked.
    fn describe(&self, library: &Library) -> Described {
        let kept = library.store.as_ref().zip(self.entry.sha256.as_ref());
        let kept = kept.map(|(store, sha256)| (store, Name::of([env!("CARGO_PKG_VERSION"), sha256].map(str::as_bytes))));
        let found = kept.as_ref().and_then(|(store, name)| store.get(Kind::Description, name));
        if let Some(description) = found.and_then(|entry| serde_json::from_slice(entry.bytes()).ok()) {
            // It was held against the contract before it was kept.
            return Ok(Arc::new(description));
        }
        let description = self.ask(library)?;
        if let Some((store, name)) = kept
            && let Ok(body) = serde_json::to_vec(&description)
        {
            store.put(Kind::Description, &name, &body);
        }
        Ok(Arc::new(description))
    }

    fn ask(&self, library: &Library) -> Result<Description, Refused> {
        let loaded = self.loaded(library)?;
        let text = library.prepare(self, || Ok(loaded.describe()?))?;
        let name = &self.entry.name;
        let unused = |reason| Refused::new("bad-description", format!("module `{name}` is not used: {reason}"));
        usable(read_description(&text).map_err(unused)?)
    }

    fn load(&self, sandbox: &Sandbox) -> Result<Arc<LoadedModule>, Refused> {
        let name = &self.entry.name;
        let Some(sha256) = &self.entry.sha256 else {
            return Err(Refused::new("not-built", format!("module `{name}` is source, not a component")));
        };
        let file = self.entry.file.clone().filter(|file| self.pack.names().any(|name| name == file));
        let Some(file) = file else {
            return Err(Refused::new("absent", format!("module `{name}` is named by its pack and is not in it")));
        };
        let pack = Arc::clone(&self.pack);
        let wasm = move || pack.shared(&file);
        let load = || sandbox.load_known(name, sha256, self.pack.is_embedded(), wasm);
        Ok(Arc::new(progress::during(&format!("compiling rule module {name}"), load)?))
    }
}
