//! The key that says which entries are ours.

use super::folder;
use std::io::{self, Read as _, Write as _};
use std::path::Path;
use tempfile::NamedTempFile;

/// Bytes of a key.
const SIZE: usize = blake3::KEY_LEN;

/// A key nobody else has.
#[derive(Clone)]
pub struct Secret([u8; SIZE]);

impl std::fmt::Debug for Secret {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Secret")
    }
}

impl Secret {
    /// A key from bytes.
    pub const fn new(bytes: [u8; SIZE]) -> Self {
        Self(bytes)
    }

    /// A key for this process alone: what is kept under it is of no use to the next.
    ///
    /// # Errors
    /// When the system gives no random bytes.
    pub fn fresh() -> io::Result<Self> {
        let mut bytes = [0; SIZE];
        getrandom::fill(&mut bytes).map_err(io::Error::other)?;
        Ok(Self(bytes))
    }

    /// The key in a file, which is made where it is missing. It must lie outside every checkout, and nobody else may read it.
    ///
    /// # Errors
    /// When it cannot be made or read, is a link, is not of this user alone, or is no key.
    pub fn of_file(path: &Path) -> io::Result<Self> {
        if path.symlink_metadata().is_err() {
            Self::make(path)?;
        }
        let file = folder::open_regular(path).ok_or_else(|| io::Error::other(format!("{} is no plain file", path.display())))?;
        folder::owned_alone(&file, path)?;
        let mut bytes = Vec::new();
        file.take(SIZE as u64 + 1).read_to_end(&mut bytes)?;
        let bytes = <[u8; SIZE]>::try_from(bytes);
        bytes.map(Self).map_err(|_| io::Error::other(format!("{} holds no key of {SIZE} bytes; remove it", path.display())))
    }

    fn make(path: &Path) -> io::Result<()> {
        let parent = path.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."));
        folder::make_private(parent)?;
        // Made by its owner alone: the system's temporary files are.
        let mut file = NamedTempFile::new_in(parent)?;
        file.write_all(&Self::fresh()?.0)?;
        match file.persist_noclobber(path) {
            Ok(_) => Ok(()),
            // Another run was quicker; its key is as good.
            Err(error) if error.error.kind() == io::ErrorKind::AlreadyExists => Ok(()),
            Err(error) => Err(error.error),
        }
    }

    pub(super) fn bytes(&self) -> &[u8; SIZE] {
        &self.0
    }
}
