//! What a rule module may use up.

use redtag_module_builder::Caps;
use std::time::Duration;

/// What one call of a module may use, and what a module may be like before it is compiled at all.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Limits {
    /// Steps a module may take to say what it holds: it reads nothing, so that it needs few.
    pub describe_fuel: u64,
    /// Steps of one call (fuel; about one per WebAssembly instruction). The same on every machine, so it is the limit that
    /// decides.
    pub fuel: u64,
    /// How long one call may take by the clock: the backstop for what steps do not measure.
    pub wall_clock: Duration,
    /// Bytes of memory and tables of one call, all memories together.
    pub memory_bytes: usize,
    /// Bytes of one answer.
    pub answer_bytes: usize,
    /// Lines one call may log.
    pub log_lines: usize,
    /// Bytes one call may log.
    pub log_bytes: usize,
    /// Sizes beyond which a module is refused before it is compiled.
    pub caps: Caps,
    /// What compiling a module in a child process may use.
    pub compile: CompileLimits,
}

impl Limits {
    /// What a module may use to say what it holds.
    pub(super) fn for_describing(&self) -> Self {
        Self { fuel: self.describe_fuel.min(self.fuel), ..self.clone() }
    }

    /// What baseline code may use before optimised code is asked instead. It counts a few steps less than optimised code (1 to 5
    /// per cent were measured), so that it gets half: whoever keeps within that keeps within the limit of optimised code too.
    pub(super) fn for_baseline(&self) -> Self {
        Self { fuel: self.fuel / 2, ..self.clone() }
    }
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            describe_fuel: 200_000_000,
            fuel: 2_000_000_000,
            wall_clock: Duration::from_secs(30),
            memory_bytes: 64 << 20,
            answer_bytes: 8 << 20,
            log_lines: 1_000,
            log_bytes: 256 << 10,
            caps: Caps::default(),
            compile: CompileLimits::default(),
        }
    }
}

/// What compiling one module in a child process may use.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CompileLimits {
    /// How long it may take by the clock. Twice the processor time, since other modules may be compiled at the same time.
    pub wall_clock: Duration,
    /// Processor time of all its threads together, in seconds.
    pub cpu_seconds: u64,
    /// Bytes of address space.
    pub memory_bytes: u64,
}

impl Default for CompileLimits {
    fn default() -> Self {
        // The largest honest module takes two or three.
        Self { wall_clock: Duration::from_secs(60), cpu_seconds: 20, memory_bytes: 1 << 30 }
    }
}
