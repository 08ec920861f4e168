//! From what the engine reports to the name of what happened.

use super::failure::ModuleFailure;
use super::limits::Limits;
use super::state::{Level, LogLine, State};
use super::words::{printable, shortened};
use wasmtime::{Error, Trap, WasmBacktrace};

/// Characters of a module's own words that a message repeats.
const OWN_WORDS: usize = 2_000;

/// How the engine says that a module handed over more than it may; the type of that error is not public. A test with such a
/// module notices when the words change.
const TOO_MUCH_DATA: &str = "fuel allocated for hostcalls has been exhausted";

/// How the engine says that a module has more parts than [`wasmtime::ResourceLimiter`] allows; likewise.
const TOO_MANY_PARTS: &str = "resource limit exceeded";

/// Names the failure of a call.
pub(super) fn failed_call(module: &str, limits: &Limits, state: &State, error: &Error) -> ModuleFailure {
    let name = || module.to_owned();
    // What the host itself refused comes first: the trap that follows says less.
    if let Some(asked) = state.memory_refused {
        return ModuleFailure::OutOfMemory { module: name(), asked, limit: limits.memory_bytes };
    }
    if state.log_refused {
        return log_flood(module, limits);
    }
    match error.downcast_ref::<Trap>() {
        Some(Trap::OutOfFuel) => ModuleFailure::OutOfFuel { module: name(), limit: limits.fuel },
        Some(Trap::Interrupt) => ModuleFailure::OutOfTime { module: name(), limit: limits.wall_clock },
        Some(Trap::StackOverflow) => ModuleFailure::StackOverflow { module: name(), place: function(error) },
        Some(trap) => crashed(module, *trap, &state.log, error),
        None => without_trap(module, limits, error),
    }
}

/// Names the failure of bringing a module to life, which may run code of its own.
pub(super) fn failed_start(module: &str, limits: &Limits, state: &State, error: &Error) -> ModuleFailure {
    let cause = error.root_cause().to_string();
    let of_the_host = state.memory_refused.is_none() && !state.log_refused && !error.is::<Trap>();
    if of_the_host && cause.contains(TOO_MANY_PARTS) {
        return ModuleFailure::Invalid { module: module.to_owned(), reason: cause };
    }
    if of_the_host && error.downcast_ref::<WasmBacktrace>().is_none() {
        return ModuleFailure::internal(module, format_args!("{error:#}"));
    }
    failed_call(module, limits, state, error)
}

/// Names what a module says of itself.
pub(super) fn own_error(module: &str, message: &str) -> ModuleFailure {
    let message = shortened(&printable(message), OWN_WORDS);
    ModuleFailure::OwnError { module: module.to_owned(), message }
}

fn log_flood(module: &str, limits: &Limits) -> ModuleFailure {
    ModuleFailure::LogFlood { module: module.to_owned(), lines: limits.log_lines, limit: limits.log_bytes }
}

/// A failure while values cross the border. With a backtrace the module was calling the host, so it was a log line.
fn without_trap(module: &str, limits: &Limits, error: &Error) -> ModuleFailure {
    let cause = error.root_cause().to_string();
    match (cause.contains(TOO_MUCH_DATA), error.downcast_ref::<WasmBacktrace>().is_some()) {
        (true, true) => log_flood(module, limits),
        (true, false) => ModuleFailure::AnswerTooLarge { module: module.to_owned(), limit: limits.answer_bytes },
        (false, _) if cause.starts_with("the system gave the module no memory") => ModuleFailure::internal(module, cause),
        (false, _) => ModuleFailure::InvalidText { module: module.to_owned(), reason: cause },
    }
}

/// A crash. The rule SDK logs a panic's message and place before it stops; anything else tells by its trap.
fn crashed(module: &str, trap: Trap, log: &[LogLine], error: &Error) -> ModuleFailure {
    let said = match (trap, log.last()) {
        (Trap::UnreachableCodeReached, Some(line)) if line.level == Level::Error => line.text.strip_prefix("panicked at "),
        _ => None,
    };
    let (message, place) = match said.and_then(|said| said.split_once(":\n")) {
        Some((place, message)) => (message.to_owned(), Some(place.to_owned())),
        None => (said.map_or_else(|| without_prefix(trap), str::to_owned), function(error)),
    };
    let message = shortened(message.trim_end().trim_end_matches('.'), OWN_WORDS);
    ModuleFailure::Panicked { module: module.to_owned(), message, place }
}

fn without_prefix(trap: Trap) -> String {
    let text = trap.to_string();
    text.strip_prefix("wasm trap: ").unwrap_or(&text).to_owned()
}

/// The function that was running, where the module names it.
fn function(error: &Error) -> Option<String> {
    let frames = error.downcast_ref::<WasmBacktrace>()?.frames();
    let name = frames.iter().find_map(|frame| frame.func_name())?;
    Some(shortened(&printable(name), 200))
}
