//! Runs rule modules that nobody has to trust. A module gets the text it is handed and a log line to write to, nothing else;
//! steps, time, memory, stack, answer and log are limited, and so are the sizes of the module before it is compiled. Every
//! breach is a named [`ModuleFailure`] of that module alone.
//!
//! The order of things: [`redtag_module_builder::inspect`] reads the file; the cache is asked; what it lacks is compiled, here
//! or in a [`child`] process with limits of its own; each call gets a fresh store and instance. Texts go in and out: whether an
//! answer is a valid answer is for the caller to say.

mod bindings;
mod cache;
mod call;
pub mod child;
mod classify;
mod compile;
mod contract;
mod failure;
mod limits;
mod settings;
mod state;
mod ticker;
mod trusted;
mod words;

pub(crate) use cache::make_private;
pub use call::{LoadedModule, Reviewed};
pub use failure::{CompileExcess, ModuleFailure};
pub use limits::{CompileLimits, Limits};
pub use state::{Level, LogLine};

use bindings::{RuleModule, RuleModulePre};
use cache::Cache;
use redtag_module_builder::{Inspection, inspect};
use state::State;
use std::path::PathBuf;
use std::sync::Arc;
use ticker::Ticker;
use trusted::Artifact;
use wasmtime::Engine;
use wasmtime::component::{Component, HasSelf, Linker};

/// How a sandbox is set up. The default keeps nothing, compiles in this process and has the usual limits.
#[derive(Debug, Clone, Default)]
pub struct SandboxOptions {
    /// Whether compiled modules are kept for the next run.
    pub cache: CacheChoice,
    /// What modules may use.
    pub limits: Limits,
    /// Who compiles modules nobody vouches for.
    pub compiler: Compiler,
}

/// Whether compiled modules are kept.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub enum CacheChoice {
    /// Nothing is kept.
    #[default]
    Off,
    /// Kept in this folder, which is made private to the user.
    Folder(PathBuf),
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

/// Why there is no sandbox.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum SandboxError {
    /// The engine does not start on this machine.
    #[error("rule modules cannot be run on this machine: {0}")]
    Engine(String),
    /// No thread for the clock.
    #[error("the system gave no thread for the clock that stops modules: {0}")]
    Clock(std::io::Error),
    /// The folder for compiled modules is no good.
    #[error(
        "compiled modules cannot be kept in {}: {reason}. Name a folder of your own, or switch the cache off",
        .folder.display()
    )]
    CacheFolder {
        /// The folder.
        folder: PathBuf,
        /// What is wrong with it.
        reason: std::io::Error,
    },
}

/// Loads rule modules. Made once per run; its modules may be called from several threads at once.
pub struct Sandbox {
    engine: Engine,
    linker: Linker<State>,
    cache: Option<Cache>,
    limits: Limits,
    compiler: Compiler,
    ticker: Arc<Ticker>,
}

impl Sandbox {
    /// Sets up the engine, its clock and the cache.
    ///
    /// # Errors
    /// When the machine does not allow it, or the cache's folder cannot be made private.
    pub fn new(options: SandboxOptions) -> Result<Self, SandboxError> {
        let engine = settings::engine().map_err(engine_error)?;
        let mut linker = Linker::new(&engine);
        RuleModule::add_to_linker::<_, HasSelf<_>>(&mut linker, |state: &mut State| state).map_err(engine_error)?;
        let cache = match &options.cache {
            CacheChoice::Off => None,
            CacheChoice::Folder(folder) => Some(Cache::open(folder, &engine)?),
        };
        let ticker = Arc::new(Ticker::start(&engine).map_err(SandboxError::Clock)?);
        Ok(Self { engine, linker, cache, limits: options.limits, compiler: options.compiler, ticker })
    }

    /// Makes a module ready to be called. `trusted` says that somebody vouches for it, as we do for the base pack: it is then
    /// compiled in this process. The caps hold for every module.
    ///
    /// # Errors
    /// When the module is refused, is not valid, or exceeds what compiling may use.
    pub fn load(&self, name: &str, wasm: &[u8], trusted: bool) -> Result<LoadedModule, ModuleFailure> {
        let _span = tracing::info_span!("load", module = name, bytes = wasm.len()).entered();
        let inspection =
            inspect(wasm, &self.limits.caps).map_err(|refusal| ModuleFailure::Refused { module: name.to_owned(), refusal })?;
        let (component, from_cache) = match self.cached(&inspection.digest) {
            Some(component) => (component, true),
            None => (self.compiled(name, wasm, &inspection, trusted)?, false),
        };
        contract::check(&component).map_err(|reason| compile::invalid(name, &reason))?;
        let pre = self
            .linker
            .instantiate_pre(&component)
            .and_then(RuleModulePre::new)
            .map_err(|error| compile::invalid(name, &format!("{error:#}")))?;
        Ok(LoadedModule {
            name: name.to_owned(),
            digest: inspection.digest,
            contract: inspection.contract,
            from_cache,
            limits: self.limits.clone(),
            engine: self.engine.clone(),
            pre,
            _ticker: Arc::clone(&self.ticker),
        })
    }

    fn cached(&self, digest: &str) -> Option<Component> {
        let cache = self.cache.as_ref()?;
        let key = cache.key(digest);
        match cache.get(&key)?.load(&self.engine) {
            Ok(component) => Some(component),
            Err(error) => {
                cache.remove(&key, &format!("{error:#}"));
                None
            }
        }
    }

    fn compiled(&self, name: &str, wasm: &[u8], inspection: &Inspection, trusted: bool) -> Result<Component, ModuleFailure> {
        let _span = tracing::info_span!("compile", module = name, functions = inspection.functions).entered();
        let artifact = self.compile(name, wasm, trusted)?;
        let component = artifact.load(&self.engine).map_err(|error| ModuleFailure::internal(name, format_args!("{error:#}")))?;
        if let Some(cache) = &self.cache {
            cache.put(&cache.key(&inspection.digest), &artifact);
        }
        Ok(component)
    }

    fn compile(&self, name: &str, wasm: &[u8], trusted: bool) -> Result<Artifact, ModuleFailure> {
        match &self.compiler {
            Compiler::Child(program) if !trusted => compile::in_child(name, program, &self.limits.compile, wasm),
            Compiler::Child(_) | Compiler::InProcess => compile::here(name, &self.engine, wasm),
        }
    }
}

fn engine_error(error: wasmtime::Error) -> SandboxError {
    SandboxError::Engine(format!("{error:#}"))
}
