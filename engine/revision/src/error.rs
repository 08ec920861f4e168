//! Why an earlier state cannot be told.

use std::io;
use std::path::PathBuf;

/// Why an earlier state cannot be told.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum RevisionError {
    /// The folder cannot be looked at.
    #[error("{} cannot be looked at: {source}", folder.display())]
    Folder {
        /// The folder.
        folder: PathBuf,
        /// Why.
        source: io::Error,
    },
    /// There is no `.git` in the folder or above it.
    #[error("{} is not a git repository, nor is any folder above it: run this in a checkout, or name an earlier report in JSON instead of a revision", folder.display())]
    NoRepository {
        /// The folder.
        folder: PathBuf,
    },
    /// Git is not here.
    #[error("git cannot be started ({0}): install it, or name an earlier report in JSON instead of a revision")]
    NoGit(io::Error),
    /// The repository knows no such revision.
    #[error(
        "the repository knows no revision \"{}\", and there is no file of this name; a shallow clone lacks older revisions, which \
         `git fetch --unshallow` brings", revision.escape_debug()
    )]
    Unknown {
        /// What was asked for.
        revision: String,
    },
    /// Git complained.
    #[error("git could not read the repository: {0}")]
    Git(String),
    /// A file's content is not in this clone.
    #[error("{} is not in this clone, and nothing is fetched during a review: fetch it before", path.display())]
    Absent {
        /// The file.
        path: PathBuf,
    },
    /// More than this program reads.
    #[error("the repository at this revision is too large to compare with: {what} is more than {allowed} bytes")]
    TooLarge {
        /// What is too large.
        what: String,
        /// The limit.
        allowed: u64,
    },
    /// Git took too long.
    #[error("git gave no answer in {0} s")]
    Time(u64),
}
