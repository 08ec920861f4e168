//! What the host keeps while a module runs: its log, and how much memory it has taken.

use super::bindings::redtag::rules::host::{Host, Level as WitLevel};
use super::limits::Limits;
use super::words::printable;
use wasmtime::{ResourceLimiter, bail, format_err};

/// How much a log line matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Level {
    /// For the author of the rule.
    Debug,
    /// For whoever looks.
    Info,
    /// Something is odd.
    Warn,
    /// Something went wrong.
    Error,
}

impl From<WitLevel> for Level {
    fn from(level: WitLevel) -> Self {
        match level {
            WitLevel::Debug => Self::Debug,
            WitLevel::Info => Self::Info,
            WitLevel::Warn => Self::Warn,
            WitLevel::Error => Self::Error,
        }
    }
}

/// One line a module logged.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LogLine {
    /// How much it matters.
    pub level: Level,
    /// The text, without control characters.
    pub text: String,
}

/// The host's side of one call.
pub(super) struct State {
    module: String,
    memory_limit: usize,
    log_lines_limit: usize,
    log_bytes_limit: usize,
    memory: usize,
    log_bytes: usize,
    /// What was logged.
    pub(super) log: Vec<LogLine>,
    /// The first request for memory that was refused, in bytes altogether.
    pub(super) memory_refused: Option<usize>,
    /// Whether a log line was refused.
    pub(super) log_refused: bool,
}

/// A table's entry is a pointer on the host; counted the same on every machine.
const TABLE_ENTRY: usize = 8;

impl State {
    pub(super) fn new(module: &str, limits: &Limits) -> Self {
        Self {
            module: module.to_owned(),
            memory_limit: limits.memory_bytes,
            log_lines_limit: limits.log_lines,
            log_bytes_limit: limits.log_bytes,
            memory: 0,
            log_bytes: 0,
            log: Vec::new(),
            memory_refused: None,
            log_refused: false,
        }
    }

    /// Counts memory and tables together. A refusal stops the module instead of telling it: most programs answer a refusal
    /// by crashing in a way that no longer says why.
    fn take(&mut self, more: usize) -> wasmtime::Result<bool> {
        let asked = self.memory.saturating_add(more);
        if asked > self.memory_limit {
            self.memory_refused.get_or_insert(asked);
            bail!("the module's memory limit is reached");
        }
        self.memory = asked;
        Ok(true)
    }
}

impl Host for State {
    fn log(&mut self, level: WitLevel, text: String) -> wasmtime::Result<()> {
        self.log_bytes = self.log_bytes.saturating_add(text.len());
        if self.log.len() >= self.log_lines_limit || self.log_bytes > self.log_bytes_limit {
            self.log_refused = true;
            bail!("the module's log limit is reached");
        }
        let line = LogLine { level: level.into(), text: printable(&text) };
        let (module, text) = (self.module.as_str(), line.text.as_str());
        match line.level {
            Level::Debug => tracing::debug!(module, "{text}"),
            Level::Info => tracing::info!(module, "{text}"),
            Level::Warn => tracing::warn!(module, "{text}"),
            Level::Error => tracing::error!(module, "{text}"),
        }
        self.log.push(line);
        Ok(())
    }
}

impl ResourceLimiter for State {
    fn memory_growing(&mut self, current: usize, desired: usize, maximum: Option<usize>) -> wasmtime::Result<bool> {
        // A module's own maximum is its own affair: it is told, as WebAssembly says.
        if maximum.is_some_and(|maximum| desired > maximum) {
            return Ok(false);
        }
        self.take(desired.saturating_sub(current))
    }

    fn memory_grow_failed(&mut self, error: wasmtime::Error) -> wasmtime::Result<()> {
        // The machine could not give what the limit allows: another machine would answer, so this one must not.
        match error.downcast_ref::<std::io::Error>() {
            Some(cause) => Err(format_err!("the system gave the module no memory: {cause}")),
            None => Ok(()),
        }
    }

    fn table_growing(&mut self, current: usize, desired: usize, maximum: Option<usize>) -> wasmtime::Result<bool> {
        if maximum.is_some_and(|maximum| desired > maximum) {
            return Ok(false);
        }
        self.take(desired.saturating_sub(current).saturating_mul(TABLE_ENTRY))
    }
}
