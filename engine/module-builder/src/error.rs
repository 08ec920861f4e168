//! What can go wrong between rule source and a pack.

use crate::refusal::Refusal;
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

/// Why an archive is not opened. Nothing of it has been written anywhere.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum ArchiveError {
    /// Not a zip file.
    #[error("this is not a pack archive: it is no zip file. Give the file that `redtag pack seal` writes, or a pack's folder")]
    NotAnArchive,
    /// Cut short or damaged.
    #[error("the pack archive is damaged ({reason}). Fetch it again")]
    Damaged {
        /// What does not fit.
        reason: String,
    },
    /// A name that could reach outside the pack or means different files on different systems.
    #[error("the pack archive is refused: the name \"{}\" {reason}", name.escape_debug())]
    Name {
        /// The name.
        name: String,
        /// What is wrong with it.
        reason: String,
    },
    /// An entry that is no plain file.
    #[error("the pack archive is refused: \"{}\" is {kind}; a pack holds plain files only", name.escape_debug())]
    Kind {
        /// The entry.
        name: String,
        /// What it is.
        kind: &'static str,
    },
    /// More than allowed.
    #[error("the pack archive is refused: {what}, allowed are {allowed}")]
    TooLarge {
        /// What is too large.
        what: String,
        /// The limit.
        allowed: u64,
    },
}

impl ArchiveError {
    pub(crate) fn name(name: &str, reason: &str) -> Self {
        Self::Name { name: name.to_owned(), reason: reason.to_owned() }
    }

    pub(crate) fn damaged(error: &dyn std::fmt::Display) -> Self {
        Self::Damaged { reason: error.to_string() }
    }
}

/// The target is missing and no road led to it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "rule modules are compiled for {target}, and its standard library is missing. Any one of these brings it: `rustup target add \
     {target}`; as root on Debian `apt-get install {packages}` (rustc {oldest} or newer); a Rust toolchain on the path that has \
     it. Tried: {}",
    .tried.join("; ")
)]
pub struct TargetError {
    /// What modules are compiled for.
    pub(crate) target: &'static str,
    /// Debian's packages that would do.
    pub(crate) packages: String,
    /// The oldest compiler that would.
    pub(crate) oldest: &'static str,
    /// What was tried, with what came of it.
    pub(crate) tried: Vec<String>,
}
