//! Calling a module: a fresh store and instance each time, on a thread of known stack size, nothing used again.

use super::bindings::{RuleModule, RuleModulePre};
use super::classify::{failed_call, failed_start, own_error};
use super::failure::ModuleFailure;
use super::limits::Limits;
use super::machine::Machine;
use super::settings::{THREAD_STACK, Tier};
use super::state::{LogLine, State};
use super::ticker::Ticker;
use semver::Version;
use std::any::Any;
use std::sync::{Arc, OnceLock};
use std::thread;
use wasmtime::Store;

/// A module that can be called. It may outlive the sandbox that loaded it, and be called from several threads.
pub struct LoadedModule {
    pub(super) name: String,
    pub(super) digest: String,
    pub(super) contract: Version,
    pub(super) from_cache: bool,
    pub(super) limits: Limits,
    pub(super) code: Code,
    /// Optimised code, for when the baseline's meets a limit: the verdict is then its.
    pub(super) second: Option<Second>,
}

/// Code in the engine of its tier, ready to be brought to life.
pub(super) struct Code {
    pub(super) machine: Arc<Machine>,
    pub(super) pre: RuleModulePre<State>,
}

/// How a module is compiled once more, with every optimisation.
pub(super) struct Second {
    pub(super) make: Box<dyn Fn() -> Result<Code, ModuleFailure> + Send + Sync>,
    pub(super) made: OnceLock<Result<Code, ModuleFailure>>,
}

/// What came of one review by one module.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reviewed {
    /// The module's answer as it gave it: text, not yet known to be a valid answer.
    pub answer: String,
    /// What it logged.
    pub log: Vec<LogLine>,
    /// Steps it took, bringing it to life not counted.
    pub fuel_used: u64,
}

impl LoadedModule {
    /// The name it was loaded under.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// SHA-256 of its file, 64 hexadecimal digits.
    pub fn digest(&self) -> &str {
        &self.digest
    }

    /// The version of the call contract it speaks.
    pub fn contract(&self) -> &Version {
        &self.contract
    }

    /// Whether its machine code came out of the cache.
    pub fn from_cache(&self) -> bool {
        self.from_cache
    }

    /// How hard the compiler tried.
    pub fn tier(&self) -> Tier {
        self.code.machine.tier
    }

    /// What the module says of itself: JSON, not yet checked.
    ///
    /// # Errors
    /// Every way a module can fail while it runs.
    pub fn describe(&self) -> Result<String, ModuleFailure> {
        let call = |instance: &RuleModule, store: &mut Store<State>| instance.redtag_rules_module().call_describe(store).map(Ok);
        self.call(&self.limits.for_describing(), "describe", 0, call).map(|reviewed| reviewed.answer)
    }

    /// Hands the module one request, a JSON text, and takes its answer, which is not yet checked.
    ///
    /// # Errors
    /// Every way a module can fail while it runs, its own `Err` among them.
    pub fn review(&self, request: &str) -> Result<Reviewed, ModuleFailure> {
        self.call(&self.limits, "review", request.len(), |instance, store| {
            instance.redtag_rules_module().call_review(store, request)
        })
    }

    /// The same in the code that is there, whatever limit it meets: for tests that hold the tiers against each other.
    ///
    /// # Errors
    /// As [`LoadedModule::review`], baseline code's own breaches among them.
    #[doc(hidden)]
    pub fn review_in_first_tier(&self, request: &str) -> Result<Reviewed, ModuleFailure> {
        let call = |instance: &RuleModule, store: &mut Store<State>| instance.redtag_rules_module().call_review(store, request);
        self.call_tier(&self.code, &self.limits, "review", request.len(), &call)
    }

    /// Calls the module; where baseline code meets a limit, optimised code is called, and what it comes to counts. A verdict thus
    /// never depends on the tier.
    fn call<F>(&self, limits: &Limits, function: &'static str, request_bytes: usize, call: F) -> Result<Reviewed, ModuleFailure>
    where
        F: Fn(&RuleModule, &mut Store<State>) -> wasmtime::Result<Result<String, String>> + Send + Sync,
    {
        let Some(second) = &self.second else { return self.call_tier(&self.code, limits, function, request_bytes, &call) };
        match self.call_tier(&self.code, &limits.for_baseline(), function, request_bytes, &call) {
            Err(breach) if breach.depends_on_code() => {
                tracing::debug!(module = self.name, breach = breach.kind(), "baseline code met a limit; optimised code decides");
                let code = second.made.get_or_init(|| (second.make)()).as_ref().map_err(Clone::clone)?;
                self.call_tier(code, limits, function, request_bytes, &call)
            }
            settled => settled,
        }
    }

    fn call_tier<F>(
        &self,
        code: &Code,
        limits: &Limits,
        function: &'static str,
        request_bytes: usize,
        call: &F,
    ) -> Result<Reviewed, ModuleFailure>
    where
        F: Fn(&RuleModule, &mut Store<State>) -> wasmtime::Result<Result<String, String>> + Send + Sync,
    {
        let span = tracing::info_span!(
            "call",
            module = self.name,
            function,
            tier = code.machine.tier.word(),
            request_bytes,
            answer_bytes = tracing::field::Empty,
            fuel = tracing::field::Empty,
            failure = tracing::field::Empty
        );
        let running = Running { name: &self.name, code, limits };
        let outcome = on_known_stack(|| span.in_scope(|| running.call(call)))
            .unwrap_or_else(|reason| Err(ModuleFailure::internal(&self.name, reason)));
        match &outcome {
            Ok(reviewed) => span.record("answer_bytes", reviewed.answer.len()).record("fuel", reviewed.fuel_used),
            Err(failure) => span.record("failure", failure.kind()),
        };
        outcome
    }
}

/// One call of one module's code.
struct Running<'a> {
    name: &'a str,
    code: &'a Code,
    limits: &'a Limits,
}

impl Running<'_> {
    fn call<F>(&self, call: &F) -> Result<Reviewed, ModuleFailure>
    where
        F: Fn(&RuleModule, &mut Store<State>) -> wasmtime::Result<Result<String, String>>,
    {
        // Deadlines come only while the clock ticks.
        let _clock = self.code.machine.clock(self.name)?;
        let mut store = self.store()?;
        let instance =
            self.code.pre.instantiate(&mut store).map_err(|error| failed_start(self.name, self.limits, store.data(), &error))?;
        // Bringing it to life takes a different number of steps on different systems; the call itself does not.
        self.refuel(&mut store)?;
        let answered = call(&instance, &mut store);
        let fuel_used = self.limits.fuel.saturating_sub(store.get_fuel().unwrap_or(0));
        match answered {
            Ok(Ok(answer)) => Ok(Reviewed { answer, log: store.into_data().log, fuel_used }),
            Ok(Err(message)) => Err(own_error(self.name, &message)),
            Err(error) => Err(failed_call(self.name, self.limits, store.data(), &error)),
        }
    }

    /// A store with every limit set, before any code of the module runs: its start may loop too.
    fn store(&self) -> Result<Store<State>, ModuleFailure> {
        let mut store = Store::new(&self.code.machine.engine, State::new(self.name, self.limits));
        store.limiter(|state| state);
        store.epoch_deadline_trap();
        store.set_epoch_deadline(Ticker::epochs(self.limits.wall_clock));
        store.set_hostcall_fuel(self.limits.answer_bytes);
        self.refuel(&mut store)?;
        Ok(store)
    }

    fn refuel(&self, store: &mut Store<State>) -> Result<(), ModuleFailure> {
        store.set_fuel(self.limits.fuel).map_err(|error| ModuleFailure::internal(self.name, error))
    }
}

/// Runs on a thread of its own: a module may fill its stack, and whoever calls may have little of theirs left.
fn on_known_stack<T: Send>(work: impl FnOnce() -> T + Send) -> Result<T, String> {
    let subscriber = tracing::dispatcher::get_default(Clone::clone);
    thread::scope(|scope| {
        let work = move || tracing::dispatcher::with_default(&subscriber, work);
        let thread = thread::Builder::new()
            .name("redtag-module".to_owned())
            .stack_size(THREAD_STACK)
            .spawn_scoped(scope, work)
            .map_err(|error| format!("the system gave no thread to run it on: {error}"))?;
        thread.join().map_err(|panic| format!("redtag itself failed while running it: {}", panic_text(panic.as_ref())))
    })
}

fn panic_text(panic: &(dyn Any + Send)) -> &str {
    panic
        .downcast_ref::<String>()
        .map(String::as_str)
        .or_else(|| panic.downcast_ref::<&'static str>().copied())
        .unwrap_or("no words")
}
