//! How a command ends.

use crate::session::{Diagnostic, Paint, SessionError, render_all};
use redtag_report::clean;
use std::process::ExitCode;

/// The exit codes, the gravest last; of several the gravest counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ending {
    /// 0: nothing to correct.
    Clean,
    /// 1: corrections, or unresolved findings where they count.
    Corrections,
    /// 2: the input or the command is wrong.
    Wrong,
    /// 3: a rule module failed.
    ModuleFailed,
}

impl From<Ending> for ExitCode {
    fn from(ending: Ending) -> Self {
        Self::from(match ending {
            Ending::Clean => 0,
            Ending::Corrections => 1,
            Ending::Wrong => 2,
            Ending::ModuleFailed => 3,
        })
    }
}

/// Why a command stopped early.
#[derive(Debug)]
pub enum Stop {
    /// Documents that cannot be used.
    Documents(Vec<Diagnostic>),
    /// A rule module that failed where nothing goes on without it.
    Module(String),
    /// Anything else, in words.
    Words(anyhow::Error),
    /// Whoever read the output has gone; nobody is left to tell.
    NobodyReads,
}

impl Stop {
    /// What stopped the command, for standard error.
    pub fn words(&self, paint: Paint) -> String {
        match self {
            Self::Documents(diagnostics) => render_all(diagnostics, paint),
            Self::Module(words) => format!("error: {}\n", clean(words)),
            Self::Words(error) => format!("error: {}\n", clean(&chain(error))),
            Self::NobodyReads => String::new(),
        }
    }

    /// How the command ends then.
    pub fn ending(&self) -> Ending {
        match self {
            Self::Documents(_) | Self::Words(_) => Ending::Wrong,
            Self::Module(_) => Ending::ModuleFailed,
            Self::NobodyReads => Ending::Clean,
        }
    }
}

/// The error and its causes in one line; a cause that an error has told already is not told again.
fn chain(error: &anyhow::Error) -> String {
    let mut words = String::new();
    for cause in error.chain().map(ToString::to_string) {
        if !words.contains(&cause) {
            words.push_str(if words.is_empty() { "" } else { ": " });
            words.push_str(&cause);
        }
    }
    words
}

impl From<anyhow::Error> for Stop {
    fn from(error: anyhow::Error) -> Self {
        Self::Words(error)
    }
}

impl From<SessionError> for Stop {
    fn from(error: SessionError) -> Self {
        match error {
            SessionError::Documents(diagnostics) => Self::Documents(diagnostics),
            SessionError::Module(words) => Self::Module(words),
            SessionError::Other(error) => Self::Words(error),
        }
    }
}

impl From<Vec<Diagnostic>> for Stop {
    fn from(diagnostics: Vec<Diagnostic>) -> Self {
        Self::Documents(diagnostics)
    }
}

impl From<Diagnostic> for Stop {
    fn from(diagnostic: Diagnostic) -> Self {
        Self::Documents(vec![diagnostic])
    }
}

/// What a command comes to.
pub type Outcome = Result<Ending, Stop>;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_cause_is_told_twice() {
        let cause = std::io::Error::other("the disk is full");
        let error = anyhow::Error::new(cause).context("x cannot be written: the disk is full");
        assert_eq!(chain(&error), "x cannot be written: the disk is full");
        assert_eq!(chain(&anyhow::anyhow!("b").context("a")), "a: b");
    }

    #[test]
    fn the_gravest_ending_counts() {
        assert_eq!([Ending::ModuleFailed, Ending::Corrections].into_iter().max(), Some(Ending::ModuleFailed));
        assert!(Ending::Clean < Ending::Corrections && Ending::Corrections < Ending::Wrong);
    }
}
