//! An engine with what belongs to it, made when the first module needs it.

use super::bindings::RuleModule;
use super::failure::ModuleFailure;
use super::settings::{self, Tier};
use super::state::State;
use super::ticker::Ticker;
use std::sync::{Arc, Mutex, PoisonError, Weak};
use wasmtime::Engine;
use wasmtime::component::{HasSelf, Linker};

/// The engine of a tier.
pub(super) struct Machine {
    pub(super) tier: Tier,
    pub(super) engine: Engine,
    pub(super) linker: Linker<State>,
    clock: Mutex<Weak<Ticker>>,
}

impl Machine {
    /// Sets an engine up.
    ///
    /// # Errors
    /// When the machine does not allow it, or there is no such compiler for it.
    pub(super) fn new(tier: Tier) -> wasmtime::Result<Self> {
        let engine = settings::engine(tier)?;
        let mut linker = Linker::new(&engine);
        RuleModule::add_to_linker::<_, HasSelf<_>>(&mut linker, |state: &mut State| state)?;
        Ok(Self { tier, engine, linker, clock: Mutex::default() })
    }

    /// The clock, which ticks as long as somebody holds it.
    pub(super) fn clock(&self, module: &str) -> Result<Arc<Ticker>, ModuleFailure> {
        // A thread that panicked elsewhere leaves the clock itself whole.
        let mut clock = self.clock.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(ticking) = clock.upgrade() {
            return Ok(ticking);
        }
        let started = Ticker::start(&self.engine);
        let started = Arc::new(started.map_err(|error| {
            ModuleFailure::internal(module, format_args!("the system gave no thread for the clock that stops modules: {error}"))
        })?);
        *clock = Arc::downgrade(&started);
        Ok(started)
    }
}
