//! The rule modules of a run: each loaded once and asked once what it holds, whatever the number of projects and packs.

use super::description::{Described, Descriptions, Refused, read_description, usable};
use super::kept_answers::KeptAnswers;
use crate::pack::Pack;
use crate::progress;
use crate::sandbox::{LoadedModule, ModuleFailure, Sandbox};
use rayon::iter::{IntoParallelIterator as _, ParallelIterator as _};
use redtag_schema::contract::Description;
use redtag_schema::pack::ModuleEntry;
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

/// Loads modules and keeps them.
pub struct Library {
    sandbox: Sandbox,
    results: Option<KeptAnswers>,
    shelf: Mutex<BTreeMap<String, Arc<OnceLock<Loading>>>>,
}

/// A module and what it says of itself.
pub struct Loaded {
    /// The module.
    pub module: LoadedModule,
    /// What it holds.
    pub description: Arc<Description>,
}

type Loading = Result<Arc<Loaded>, Refused>;

impl From<ModuleFailure> for Refused {
    fn from(failure: ModuleFailure) -> Self {
        Self::new(failure.kind(), failure.to_string())
    }
}

impl Library {
    /// An empty library.
    pub fn new(sandbox: Sandbox) -> Self {
        Self { sandbox, results: None, shelf: Mutex::default() }
    }

    /// The same, with answers kept for the next run and looked up before a module is run.
    #[must_use]
    pub fn keeping(self, results: Option<KeptAnswers>) -> Self {
        Self { results, ..self }
    }

    /// Where answers are kept.
    pub(super) fn kept_answers(&self) -> Option<&KeptAnswers> {
        self.results.as_ref()
    }

    /// Loads every module of the packs, several at once. Failures are kept and told to whoever asks for the module.
    pub fn load_all(&self, packs: &[Arc<Pack>]) {
        let modules = packs.iter().flat_map(|pack| pack.manifest().modules.iter().map(move |entry| (pack, entry)));
        // Each once: a thread that waits for its own module while it compiles it would wait for ever.
        let distinct: BTreeMap<_, _> = modules.map(|(pack, entry)| (&entry.sha256, (pack, entry))).collect();
        distinct.into_par_iter().for_each(|(_, (pack, entry))| {
            let _ = self.load(pack, entry);
        });
    }

    /// What the modules of the packs say of themselves; those not loaded yet are loaded.
    pub fn descriptions(&self, packs: &[Arc<Pack>]) -> Descriptions {
        let mut out = Descriptions::default();
        for (pack, entry) in packs.iter().flat_map(|pack| pack.manifest().modules.iter().map(move |entry| (pack, entry))) {
            if let Some(sha256) = &entry.sha256 {
                let described: Described = self.load(pack, entry).map(|loaded| Arc::clone(&loaded.description));
                out.insert(sha256, described);
            }
        }
        out
    }

    /// A module that was loaded, by the SHA-256 of its component.
    pub fn loaded(&self, sha256: &str) -> Option<Arc<Loaded>> {
        self.slot(sha256).get()?.as_ref().ok().cloned()
    }

    fn load(&self, pack: &Pack, entry: &ModuleEntry) -> Loading {
        let Some(sha256) = &entry.sha256 else {
            return Err(Refused::new("not-built", format!("module `{}` is source, not a component", entry.name)));
        };
        self.slot(sha256).get_or_init(|| self.load_now(pack, entry)).clone()
    }

    fn slot(&self, sha256: &str) -> Arc<OnceLock<Loading>> {
        // A thread that panicked elsewhere leaves the map itself whole.
        let mut shelf = self.shelf.lock().unwrap_or_else(PoisonError::into_inner);
        Arc::clone(shelf.entry(sha256.to_owned()).or_default())
    }

    fn load_now(&self, pack: &Pack, entry: &ModuleEntry) -> Loading {
        let name = &entry.name;
        let wasm = entry.file.as_deref().and_then(|file| pack.file(file));
        let Some(wasm) = wasm else {
            return Err(Refused::new("absent", format!("module `{name}` is named by its pack and is not in it")));
        };
        let what = format!("compiling rule module {name}");
        let module = progress::during(&what, || self.sandbox.load(name, wasm, pack.is_embedded()))?;
        let text = module.describe()?;
        let description = read_description(&text)
            .map_err(|reason| Refused::new("bad-description", format!("module `{name}` is not used: {reason}")))?;
        Ok(Arc::new(Loaded { module, description: Arc::new(usable(description)?) }))
    }
}
