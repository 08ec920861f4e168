//! The rule modules of a run: each loaded once and asked once what it holds, whatever the number of projects and packs.

use super::result_cache::ResultCache;
use crate::pack::{Describe, Pack, read_description};
use crate::progress;
use crate::sandbox::{LoadedModule, ModuleFailure, Sandbox};
use rayon::iter::{IntoParallelIterator as _, ParallelIterator as _};
use redtag_schema::contract::Description;
use redtag_schema::pack::ModuleEntry;
use redtag_schema::review::Failure;
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

/// Loads modules and keeps them.
pub struct Library {
    sandbox: Sandbox,
    results: Option<ResultCache>,
    shelf: Mutex<BTreeMap<String, Arc<OnceLock<Loading>>>>,
}

/// A module and what it says of itself.
pub struct Loaded {
    /// The module.
    pub module: LoadedModule,
    /// What it holds.
    pub description: Description,
}

type Loading = Result<Arc<Loaded>, Refused>;

/// Why a module is not there: kind and words, without the pack, which differs by who asks.
#[derive(Debug, Clone)]
struct Refused {
    kind: &'static str,
    message: String,
}

impl From<ModuleFailure> for Refused {
    fn from(failure: ModuleFailure) -> Self {
        Self { kind: failure.kind(), message: failure.to_string() }
    }
}

impl Library {
    /// An empty library.
    pub fn new(sandbox: Sandbox) -> Self {
        Self { sandbox, results: None, shelf: Mutex::default() }
    }

    /// The same, with answers kept for the next run and looked up before a module is run.
    #[must_use]
    pub fn keeping(self, results: Option<ResultCache>) -> Self {
        Self { results, ..self }
    }

    /// Where answers are kept.
    pub(super) fn results(&self) -> Option<&ResultCache> {
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

    /// A module that was loaded, by the SHA-256 of its component.
    pub fn loaded(&self, sha256: &str) -> Option<Arc<Loaded>> {
        self.slot(sha256).get()?.as_ref().ok().cloned()
    }

    fn load(&self, pack: &Pack, entry: &ModuleEntry) -> Loading {
        let Some(sha256) = &entry.sha256 else {
            return Err(Refused { kind: "not-built", message: format!("module `{}` is source, not a component", entry.name) });
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
            return Err(Refused { kind: "absent", message: format!("module `{name}` is named by its pack and is not in it") });
        };
        let what = format!("compiling rule module {name}");
        let module = progress::during(&what, || self.sandbox.load(name, wasm, pack.is_embedded()))?;
        let text = module.describe()?;
        let description = read_description(&text)
            .map_err(|reason| Refused { kind: "bad-description", message: format!("module `{name}` is not used: {reason}") })?;
        Ok(Arc::new(Loaded { module, description }))
    }
}

impl Describe for Library {
    fn describe(&self, pack: &Pack, entry: &ModuleEntry) -> Result<Description, Failure> {
        self.load(pack, entry).map(|loaded| loaded.description.clone()).map_err(|refused| Failure {
            module: entry.name.clone(),
            pack: pack.name().to_owned(),
            kind: refused.kind.to_owned(),
            message: refused.message,
            rules: Vec::new(),
        })
    }
}
