//! What can go wrong between rule source and a pack.

use crate::archive::ArchiveError;
use crate::refusal::Refusal;
use crate::target::TargetError;
use std::path::{Path, PathBuf};

/// Why a module or pack was not built. The text is one line; a compiler's own words are in [`BuildError::log`].
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum BuildError {
    /// A file or folder could not be read or written.
    #[error("{}: {source}", path.display())]
    File {
        /// The file.
        path: PathBuf,
        /// What the system says.
        source: std::io::Error,
    },
    /// The manifest does not say what a pack needs.
    #[error("{}: {pointer}: {reason}", path.display())]
    Manifest {
        /// The manifest.
        path: PathBuf,
        /// Where in it, as a JSON pointer, or line and column where it is no JSON.
        pointer: String,
        /// What is wrong, what was expected.
        reason: String,
    },
    /// The WebAssembly target is missing.
    #[error(transparent)]
    Target(#[from] TargetError),
    /// Cargo could not be run or does not know the crate.
    #[error("{}: cargo does not find a crate here: {reason}", folder.display())]
    Crate {
        /// The crate's folder.
        folder: PathBuf,
        /// Cargo's complaint.
        reason: String,
    },
    /// The crate does not compile.
    #[error("{}: the rule module does not compile: {reason}", folder.display())]
    Compile {
        /// The crate's folder.
        folder: PathBuf,
        /// The compiler's first error.
        reason: String,
        /// Everything it said.
        log: String,
    },
    /// What was compiled is no component of the contract.
    #[error("{}: what was compiled does not keep the call contract: {reason}. A rule crate calls `redtag_rule::module!` once", folder.display())]
    Component {
        /// The crate's folder.
        folder: PathBuf,
        /// What does not fit.
        reason: String,
    },
    /// The finished module is not one this program would run.
    #[error("module `{module}`: {refusal}")]
    Refused {
        /// The module's name in the manifest.
        module: String,
        /// Why.
        #[source]
        refusal: Refusal,
    },
    /// The pack cannot be sealed.
    #[error(transparent)]
    Archive(#[from] ArchiveError),
}

impl BuildError {
    /// The whole output of the compiler, where it was the compiler that failed.
    pub fn log(&self) -> Option<&str> {
        match self {
            Self::Compile { log, .. } => Some(log),
            _ => None,
        }
    }

    /// For `map_err`: a system error about this path.
    pub fn at(path: &Path) -> impl FnOnce(std::io::Error) -> Self {
        let path = path.to_owned();
        move |source| Self::File { path, source }
    }
}
