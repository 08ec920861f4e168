//! Runs rule modules that nobody has to trust. A module gets the text it is handed and a log line to write to, nothing else;
//! steps, time, memory, stack, answer and log are limited, and so are the sizes of the module before it is compiled. Every
//! breach is a named [`ModuleFailure`] of that module alone.
//!
//! The order of things: the store is asked for optimised code, then for baseline code. A module of which neither is kept is read
//! by [`redtag_module_builder::inspect`] and compiled by the quick compiler ([`Tier::Baseline`]), here or in a [`child`] process
//! with limits of its own; [`Sandbox::warm`] makes the optimised code, at leisure. Each call gets a fresh store and instance.
//! Where baseline code meets a limit, optimised code is made and decides. Texts go in and out: whether an answer is a valid
//! answer is for the caller to say.

mod bindings;
mod cache;
mod call;
pub mod child;
mod classify;
mod compile;
mod contract;
mod failure;
mod limits;
mod machine;
mod settings;
mod state;
mod ticker;
mod trusted;
mod words;

pub use call::{LoadedModule, Reviewed};
pub use failure::{CompileExcess, ModuleFailure};
pub use limits::{CompileLimits, Limits};
pub use settings::Tier;
pub use state::{Level, LogLine};

use crate::store::Store;
use bindings::RuleModulePre;
use cache::{Cache, KeptCode};
use call::{Code, Second};
use machine::Machine;
use redtag_module_builder::{Inspection, digest, inspect};
use std::path::PathBuf;
use std::sync::{Arc, OnceLock};
use trusted::Artifact;

/// How a sandbox is set up. The default keeps nothing, compiles in this process and has the usual limits.
#[derive(Debug, Clone)]
pub struct SandboxOptions {
    /// Where compiled modules are kept for the next run; absent: nowhere.
    pub store: Option<Arc<Store>>,
    /// What modules may use.
    pub limits: Limits,
    /// Who compiles modules nobody vouches for.
    pub compiler: Compiler,
    /// What a module meets first that was never compiled.
    pub first: Tier,
}

impl Default for SandboxOptions {
    fn default() -> Self {
        Self { store: None, limits: Limits::default(), compiler: Compiler::default(), first: Tier::Baseline }
    }
}

/// Who compiles modules nobody vouches for.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub enum Compiler {
    /// This process: a module made to exhaust the compiler can hold it up for as long as the caps allow.
    #[default]
    InProcess,
    /// This program, started with the hidden command [`child::COMMAND`] under [`CompileLimits`].
    Child(PathBuf),
}

/// Loads rule modules. Made once per run; its modules may be called from several threads at once.
#[derive(Clone)]
pub struct Sandbox(Arc<Inner>);

struct Inner {
    baseline: OnceLock<Result<Tools, String>>,
    optimising: OnceLock<Result<Tools, String>>,
    options: SandboxOptions,
}

/// What a tier works with.
struct Tools {
    machine: Arc<Machine>,
    cache: Option<Cache>,
}

impl Sandbox {
    /// A sandbox. Its engines are made when a module needs them.
    pub fn new(options: SandboxOptions) -> Self {
        Self(Arc::new(Inner { baseline: OnceLock::new(), optimising: OnceLock::new(), options }))
    }

    /// Makes a module ready to be called. `trusted` says that somebody vouches for it, as we do for the base pack: it is then
    /// compiled in this process. The caps hold for every module.
    ///
    /// # Errors
    /// When the module is refused, is not valid, or exceeds what compiling may use.
    pub fn load(&self, name: &str, wasm: &[u8], trusted: bool) -> Result<LoadedModule, ModuleFailure> {
        let wasm: Arc<[u8]> = wasm.into();
        self.load_known(name, &digest(&wasm), trusted, move || Some(Arc::clone(&wasm)))
    }

    /// The same for a module whose SHA-256 is known: its bytes are asked for only where no code of it is kept, and again where
    /// it has to be compiled once more.
    ///
    /// # Errors
    /// As [`Sandbox::load`]; and when the bytes are not to be had.
    pub(crate) fn load_known(
        &self,
        name: &str,
        digest: &str,
        trusted: bool,
        wasm: impl Fn() -> Option<Arc<[u8]>> + Send + Sync + 'static,
    ) -> Result<LoadedModule, ModuleFailure> {
        let _span = tracing::info_span!("load", module = name).entered();
        let source = Source { name: name.to_owned(), digest: digest.to_owned(), trusted, wasm: Box::new(wasm) };
        if let Some(ready) = self.0.kept(&source, Tier::Optimising) {
            return Ok(self.module(source, ready, true));
        }
        if self.0.options.first == Tier::Baseline {
            if let Some(ready) = self.0.kept(&source, Tier::Baseline) {
                return Ok(self.module(source, ready, true));
            }
            match self.0.made(&source, Tier::Baseline) {
                Ok(ready) => return Ok(self.module(source, ready, false)),
                // What the file says decides; what the quick compiler cannot do, the other may.
                Err(hopeless @ (ModuleFailure::Refused { .. } | ModuleFailure::CompileLimit { .. })) => return Err(hopeless),
                Err(error) => tracing::debug!(module = name, %error, "no baseline code"),
            }
        }
        let ready = self.0.made(&source, Tier::Optimising)?;
        Ok(self.module(source, ready, false))
    }

    /// Compiles a module with every optimisation and keeps its code, unless that is done. Says whether there was something to do.
    ///
    /// # Errors
    /// As [`Sandbox::load`].
    pub fn warm(&self, name: &str, digest: &str, trusted: bool, wasm: Arc<[u8]>) -> Result<bool, ModuleFailure> {
        if self.is_warm(digest) {
            return Ok(false);
        }
        let wasm = move || Some(Arc::clone(&wasm));
        let source = Source { name: name.to_owned(), digest: digest.to_owned(), trusted, wasm: Box::new(wasm) };
        self.0.made(&source, Tier::Optimising).map(|_| true)
    }

    /// Whether optimised code of a module is kept.
    pub fn is_warm(&self, digest: &str) -> bool {
        let cache = self.0.tools(Tier::Optimising).ok().and_then(|tools| tools.cache.as_ref());
        cache.is_some_and(|cache| cache.has(digest))
    }

    fn module(&self, source: Source, ready: Ready, from_cache: bool) -> LoadedModule {
        let (name, digest) = (source.name.clone(), source.digest.clone());
        let second = (ready.code.machine.tier == Tier::Baseline).then(|| {
            let inner = Arc::clone(&self.0);
            let make = move || match inner.kept(&source, Tier::Optimising) {
                Some(ready) => Ok(ready.code),
                None => inner.made(&source, Tier::Optimising).map(|ready| ready.code),
            };
            Second { make: Box::new(make), made: OnceLock::new() }
        });
        let limits = self.0.options.limits.clone();
        LoadedModule { name, digest, contract: ready.contract, from_cache, limits, code: ready.code, second }
    }
}

/// Where a module comes from.
struct Source {
    name: String,
    digest: String,
    trusted: bool,
    wasm: Box<dyn Fn() -> Option<Arc<[u8]>> + Send + Sync>,
}

/// Code and the contract it speaks.
struct Ready {
    code: Code,
    contract: semver::Version,
}

impl Inner {
    fn tools(&self, tier: Tier) -> Result<&Tools, ModuleFailure> {
        let slot = match tier {
            Tier::Baseline => &self.baseline,
            Tier::Optimising => &self.optimising,
        };
        let make = || {
            let machine = Machine::new(tier).map_err(|error| format!("rule modules cannot be run on this machine: {error:#}"))?;
            let store = self.options.store.clone();
            let cache = store.map(|store| Cache::new(store, &machine.engine, tier, &self.options.limits.caps));
            Ok(Tools { machine: Arc::new(machine), cache })
        };
        slot.get_or_init(make).as_ref().map_err(|reason| ModuleFailure::internal("any", reason))
    }

    /// The code that is kept.
    fn kept(&self, source: &Source, tier: Tier) -> Option<Ready> {
        let Tools { machine, cache } = self.tools(tier).ok()?;
        let cache = cache.as_ref()?;
        let KeptCode { artifact, contract } = cache.get(&source.digest)?;
        match ready(&source.name, machine, &artifact, contract) {
            Ok(ready) => Some(ready),
            Err(error) => {
                cache.remove(&source.digest, &error.to_string());
                None
            }
        }
    }

    /// Fresh code: inspected, compiled, kept.
    fn made(&self, source: &Source, tier: Tier) -> Result<Ready, ModuleFailure> {
        let name = source.name.as_str();
        let Tools { machine, cache } = self.tools(tier)?;
        let wasm = (source.wasm)().ok_or_else(|| ModuleFailure::internal(name, "its file is not to be had any more"))?;
        let refused = |refusal| ModuleFailure::Refused { module: name.to_owned(), refusal };
        let Inspection { contract, functions, digest, .. } = inspect(&wasm, &self.options.limits.caps).map_err(refused)?;
        if digest != source.digest {
            return Err(ModuleFailure::internal(name, "its file is not the one its pack means"));
        }
        let _span = tracing::info_span!("compile", module = name, tier = tier.word(), functions).entered();
        let artifact = match &self.options.compiler {
            Compiler::Child(program) if !source.trusted => {
                compile::in_child(name, program, tier, &self.options.limits.compile, &wasm)
            }
            Compiler::Child(_) | Compiler::InProcess => compile::here(name, &machine.engine, &wasm),
        }?;
        let ready = ready(name, machine, &artifact, contract)?;
        if let Some(cache) = cache {
            cache.put(&source.digest, &artifact, &ready.contract);
        }
        Ok(ready)
    }
}

fn ready(name: &str, machine: &Arc<Machine>, artifact: &Artifact, contract: semver::Version) -> Result<Ready, ModuleFailure> {
    let internal = |error: wasmtime::Error| ModuleFailure::internal(name, format_args!("{error:#}"));
    let component = artifact.load(&machine.engine).map_err(internal)?;
    contract::check(&component).map_err(|reason| compile::invalid(name, &reason))?;
    let invalid = |error: wasmtime::Error| compile::invalid(name, &format!("{error:#}"));
    let pre = machine.linker.instantiate_pre(&component).and_then(RuleModulePre::new).map_err(invalid)?;
    Ok(Ready { code: Code { machine: Arc::clone(machine), pre }, contract })
}
