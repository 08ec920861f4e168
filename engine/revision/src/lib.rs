//! Files as they were at a revision of the git repository that holds them.
//!
//! A design repository is a stranger's: a change under review may add any file. Git itself reads the objects (it is on every
//! machine that has a repository, and it is kept up by many; a library that reads objects would bring some eighty crates), and
//! it is asked so that no file of the repository decides what runs:
//!
//! - The repository is found here, by walking up to a folder that holds `.git`. Git cannot track a path of that name, so a change
//!   cannot add one. Git's own search, which also takes a folder that looks like a bare repository, is not used.
//! - Git starts with an empty environment but for the path to programs, without system and personal configuration.
//! - Only three commands run, which read objects and nothing else: no index, hook, filter, attribute, pager or external program.
//! - What is not here is not fetched: lazy fetching is off and every transport is forbidden, whatever the configuration allows.
//! - Objects are what their names say: replacements, grafts and precomputed graphs are not believed.
//! - A run ends at a limit of time and of bytes.

mod asked;
mod error;
mod object;

pub use error::RevisionError;
pub use object::Entry;

use asked::Git;
use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// How much a repository may make this program read, and how long git may take for one answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Limits {
    /// Bytes of the list of files.
    pub list_bytes: u64,
    /// Bytes of one file.
    pub file_bytes: u64,
    /// Bytes of all files of one reading.
    pub total_bytes: u64,
    /// The time of one answer.
    pub time: Duration,
}

impl Default for Limits {
    fn default() -> Self {
        Self { list_bytes: 64 << 20, file_bytes: 64 << 20, total_bytes: 256 << 20, time: Duration::from_secs(60) }
    }
}

/// One commit of the repository whose work tree holds a folder.
#[derive(Debug)]
pub struct Revision {
    git: Git,
    root: PathBuf,
    commit: String,
}

impl Revision {
    /// The commit a revision names in the repository that holds a folder.
    ///
    /// # Errors
    /// When the folder lies in no work tree, git cannot be started, or the repository knows no such revision.
    pub fn open(folder: &Path, revision: &str, limits: Limits) -> Result<Self, RevisionError> {
        let about = |source| RevisionError::Folder { folder: folder.to_owned(), source };
        let from = folder.canonicalize().map_err(about)?;
        let Some(root) = from.ancestors().find(|folder| folder.join(".git").symlink_metadata().is_ok()) else {
            return Err(RevisionError::NoRepository { folder: folder.to_owned() });
        };
        let git = Git::new(&root.join(".git"), limits);
        let commit = git.commit(revision)?;
        Ok(Self { root: root.to_owned(), git, commit })
    }

    /// The commit's name.
    pub fn commit(&self) -> &str {
        &self.commit
    }

    /// The top of the work tree.
    pub fn root(&self) -> &Path {
        &self.root
    }

    /// The path of a file or folder below the top of the work tree; `None` for one that lies elsewhere. It need not be there
    /// any more, but the folder around it must.
    pub fn path_of(&self, file: &Path) -> Option<PathBuf> {
        let folder = file.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
        let whole = folder.canonicalize().ok()?.join(file.file_name()?);
        whole.strip_prefix(&self.root).ok().map(Path::to_owned)
    }

    /// The plain files below a folder at this commit, sorted by path; paths go from the top of the work tree. Links and other
    /// repositories inside are left out.
    ///
    /// # Errors
    /// When git fails or a limit is reached.
    pub fn files(&self, below: &Path) -> Result<Vec<Entry>, RevisionError> {
        let mut folder = OsString::from(below);
        if !folder.is_empty() {
            folder.push("/");
        }
        self.git.files(&self.commit, &folder)
    }

    /// What these files hold, in their order.
    ///
    /// # Errors
    /// When git fails, an object is not here, or a limit is reached.
    pub fn read(&self, files: &[Entry]) -> Result<Vec<Vec<u8>>, RevisionError> {
        self.git.read(files)
    }
}
