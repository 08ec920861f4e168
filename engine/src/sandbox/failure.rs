//! How a module can fail: each way has a name, and words for a person.

use super::words::{bytes, grouped, seconds};
use redtag_module_builder::Refusal;
use std::time::Duration;

/// Why a module gave no usable answer. The rules of that module are not answered; other modules are not touched.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum ModuleFailure {
    /// Turned away by what its file says, before any of it was compiled.
    #[error("module `{module}` is not run: {refusal}.")]
    Refused {
        /// The module.
        module: String,
        /// Why.
        refusal: Refusal,
    },
    /// Its code is not valid, or what it offers and asks for has other types than the contract.
    #[error(
        "module `{module}` is not run: its code does not fit the call contract ({reason}). Build it again with `redtag pack \
         build`, against schema/wit/rules.wit of this version."
    )]
    Invalid {
        /// The module.
        module: String,
        /// What the compiler or the linker found.
        reason: String,
    },
    /// Compiling it used up what compiling may use.
    #[error(
        "module `{module}` is not run: compiling it was stopped, because it {exceeded}. Compiling an honest module takes a \
         second or so. Leave the module out, or ask its author to split its largest functions."
    )]
    CompileLimit {
        /// The module.
        module: String,
        /// Which limit.
        exceeded: CompileExcess,
    },
    /// Had not answered in time by the clock.
    #[error(
        "module `{module}` was stopped: it had not answered after {}. An honest module answers in milliseconds: if this machine \
         is not overloaded, leave the module out and tell its author.", seconds(*.limit)
    )]
    OutOfTime {
        /// The module.
        module: String,
        /// The time allowed.
        limit: Duration,
    },
    /// Used up its steps.
    #[error(
        "module `{module}` was stopped: it had not answered after {} steps, the limit of one call. Either it loops without end on \
         this project, or it does far more work than a rule should: leave the module out and send its author the project.",
        grouped(*.limit)
    )]
    OutOfFuel {
        /// The module.
        module: String,
        /// The steps allowed.
        limit: u64,
    },
    /// Asked for more memory than it may have.
    #[error(
        "module `{module}` was stopped: it asked for {} of memory, allowed are {}. A rule needs little more than the project it \
         reads: leave the module out and send its author the project.", bytes(*.asked), bytes(*.limit)
    )]
    OutOfMemory {
        /// The module.
        module: String,
        /// Bytes it would have had.
        asked: usize,
        /// Bytes allowed.
        limit: usize,
    },
    /// Called itself too deeply.
    #[error(
        "module `{module}` was stopped: its functions called each other too deeply{}. Its author should walk the project in a \
         loop rather than by a function that calls itself.", whereabouts(.place.as_deref(), "in function ")
    )]
    StackOverflow {
        /// The module.
        module: String,
        /// The function that was running, where the module names its functions.
        place: Option<String>,
    },
    /// Crashed.
    #[error(
        "module `{module}` crashed{}: {message}. This is a mistake in the module: send its author this line and the project.",
        whereabouts(.place.as_deref(), "at ")
    )]
    Panicked {
        /// The module.
        module: String,
        /// What it said, or what stopped it.
        message: String,
        /// Where: a line of source, or else a function, where the module names either.
        place: Option<String>,
    },
    /// Its answer is too large.
    #[error(
        "module `{module}` answered with more than {}, the limit of one answer. Its author should answer with fewer or shorter \
         findings.", bytes(*.limit)
    )]
    AnswerTooLarge {
        /// The module.
        module: String,
        /// Bytes allowed.
        limit: usize,
    },
    /// Logged too much.
    #[error(
        "module `{module}` was stopped: it logged more than {} lines or {} in one call. Its author should log less.",
        grouped(*.lines as u64), bytes(*.limit)
    )]
    LogFlood {
        /// The module.
        module: String,
        /// Lines allowed.
        lines: usize,
        /// Bytes allowed.
        limit: usize,
    },
    /// What it handed back is not text at all.
    #[error(
        "module `{module}` handed back something that is not text ({reason}). This is a mistake in the module or in the tool that \
         built it: tell its author."
    )]
    InvalidText {
        /// The module.
        module: String,
        /// What is wrong with it.
        reason: String,
    },
    /// It said itself that it cannot answer.
    #[error("module `{module}` says it cannot answer: {message}")]
    OwnError {
        /// The module.
        module: String,
        /// In its own words.
        message: String,
    },
    /// Our own mistake, or the machine's.
    #[error(
        "module `{module}` could not be run for a reason that is not its own: {reason}. Try again; if it stays, report it with \
         this line."
    )]
    Internal {
        /// The module.
        module: String,
        /// What happened.
        reason: String,
    },
}

impl ModuleFailure {
    /// Whether other code of the same module may come to something else: it counts steps, fills the stack and takes its time in
    /// its own way.
    pub(super) fn depends_on_code(&self) -> bool {
        matches!(self, Self::OutOfFuel { .. } | Self::OutOfTime { .. } | Self::StackOverflow { .. } | Self::Internal { .. })
    }

    /// A stable word for the kind of failure.
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Refused { .. } => "refused",
            Self::Invalid { .. } => "invalid",
            Self::CompileLimit { .. } => "compile-limit",
            Self::OutOfTime { .. } => "out-of-time",
            Self::OutOfFuel { .. } => "out-of-fuel",
            Self::OutOfMemory { .. } => "out-of-memory",
            Self::StackOverflow { .. } => "stack-overflow",
            Self::Panicked { .. } => "panicked",
            Self::AnswerTooLarge { .. } => "answer-too-large",
            Self::LogFlood { .. } => "log-flood",
            Self::InvalidText { .. } => "invalid-text",
            Self::OwnError { .. } => "own-error",
            Self::Internal { .. } => "internal",
        }
    }

    /// The module that failed.
    pub fn module(&self) -> &str {
        match self {
            Self::Refused { module, .. }
            | Self::Invalid { module, .. }
            | Self::CompileLimit { module, .. }
            | Self::OutOfTime { module, .. }
            | Self::OutOfFuel { module, .. }
            | Self::OutOfMemory { module, .. }
            | Self::StackOverflow { module, .. }
            | Self::Panicked { module, .. }
            | Self::AnswerTooLarge { module, .. }
            | Self::LogFlood { module, .. }
            | Self::InvalidText { module, .. }
            | Self::OwnError { module, .. }
            | Self::Internal { module, .. } => module,
        }
    }

    pub(super) fn internal(module: &str, reason: impl std::fmt::Display) -> Self {
        Self::Internal { module: module.to_owned(), reason: reason.to_string() }
    }
}

/// Which limit of compiling was exceeded.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum CompileExcess {
    /// The clock.
    #[error("took longer than {}", seconds(*.0))]
    WallClock(Duration),
    /// Processor time.
    #[error("used more than {0} s of processor time")]
    Processor(u64),
    /// Memory, or another resource whose lack ends a process.
    #[error("made the compiler fail, as it does when it needs more than {} of memory ({ended})", bytes(usize::try_from(*.limit).unwrap_or(usize::MAX)))]
    Memory {
        /// Bytes allowed.
        limit: u64,
        /// How the compiler's process ended.
        ended: String,
    },
}

fn whereabouts(place: Option<&str>, before: &str) -> String {
    place.map_or_else(String::new, |place| format!(" ({before}{place})"))
}
