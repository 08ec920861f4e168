//! Why there is no session, or no review.

use crate::diagnostic::{Code, Diagnostic, complaints};
use redtag_schema::review::Refused;
use std::fmt;

/// Why something that concerns more than one project cannot be done.
#[derive(Debug)]
pub enum SessionError {
    /// Documents that cannot be used: packs, lock file, trust file.
    Documents(Vec<Diagnostic>),
    /// A rule module that failed where nothing goes on without it.
    Module(String),
    /// Anything else, in words.
    Other(anyhow::Error),
}

impl fmt::Display for SessionError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Documents(all) => lines(all, f),
            Self::Module(words) => f.write_str(words),
            Self::Other(error) => write!(f, "{error:#}"),
        }
    }
}

impl std::error::Error for SessionError {}

impl From<Vec<Diagnostic>> for SessionError {
    fn from(diagnostics: Vec<Diagnostic>) -> Self {
        Self::Documents(diagnostics)
    }
}

impl From<Diagnostic> for SessionError {
    fn from(diagnostic: Diagnostic) -> Self {
        Self::Documents(vec![diagnostic])
    }
}

impl From<anyhow::Error> for SessionError {
    fn from(error: anyhow::Error) -> Self {
        Self::Other(error)
    }
}

/// Why a project was not reviewed.
#[derive(Debug, Clone)]
pub struct Refusal {
    /// The project file, as it was named.
    pub file: String,
    /// Everything that is wrong with it, its packs, its lock file.
    pub complaints: Vec<Diagnostic>,
}

impl Refusal {
    /// The same as data.
    pub fn refused(&self) -> Refused {
        Refused { file: self.file.clone(), complaints: complaints(&self.complaints) }
    }

    /// A project that is not reviewed because of another one of the same run.
    pub fn not_reviewed(file: &str) -> Self {
        let words = "not reviewed: a pack of another project is not the one that is allowed";
        Self { file: file.to_owned(), complaints: vec![Diagnostic::error(Code::NotReviewed, words)] }
    }

    /// Whether a pack is not the one the lock or the trust file allows. One such pack stops a whole run.
    pub fn breaks_trust(&self) -> bool {
        self.complaints.iter().any(|complaint| complaint.code.breaks_trust())
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} cannot be reviewed: ", self.file)?;
        lines(&self.complaints, f)
    }
}

impl std::error::Error for Refusal {}

fn lines(complaints: &[Diagnostic], f: &mut fmt::Formatter<'_>) -> fmt::Result {
    let lines: Vec<String> = complaints.iter().map(Diagnostic::one_line).collect();
    f.write_str(&lines.join("; "))
}
