//! What is kept for the next run: compiled modules, what modules say of themselves, their answers. One folder per user, one file
//! per entry.
//!
//! An entry is believed only when this user's own program wrote it: it carries a keyed hash (BLAKE3) under a [`Secret`] that lies
//! outside every checkout, so that a folder restored from elsewhere, or committed by a stranger, is a folder of misses. Entries
//! are written whole and then given their name, are regular files and never links, and old ones are removed only when their
//! names are of our own form.

mod entry;
mod folder;
mod secret;

pub use entry::{Authentic, Kind, Name};
pub use secret::Secret;

use entry::LARGEST;
use std::fs::{self, File};
use std::io::{self, Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::sync::Once;
use std::time::{Duration, SystemTime};
use tempfile::NamedTempFile;

/// Entries nobody asked for so long are thrown away.
const OLDEST: Duration = Duration::from_hours(30 * 24);
/// How long an entry's time of last use may lag behind.
const LAG: Duration = Duration::from_hours(24);

/// A folder of entries.
#[derive(Debug)]
pub struct Store {
    folder: PathBuf,
    secret: Secret,
    swept: Once,
}

impl Store {
    /// Opens the folder, and makes it where it is missing. Only this user may enter it.
    ///
    /// # Errors
    /// When it cannot be made, is a link, or belongs to somebody else.
    pub fn open(folder: &Path, secret: Secret) -> io::Result<Self> {
        folder::make_private(folder)?;
        Ok(Self { folder: folder.to_owned(), secret, swept: Once::new() })
    }

    /// The folder.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// What is kept under a name, if this user's program put it there and it is whole. Anything odd is a miss and is removed.
    pub fn get(&self, kind: Kind, name: &Name) -> Option<Authentic> {
        let path = self.path(kind, name);
        let file = folder::open_regular(&path)?;
        let found = self.read(&file, kind, name);
        if found.is_some() {
            touch(&path, &file);
        } else {
            tracing::debug!(entry = %path.display(), "an entry is not what was put there and is thrown away");
            // One that is already gone is as good.
            let _ = fs::remove_file(&path);
        }
        found
    }

    /// Whether there is an entry, not looked into.
    pub fn has(&self, kind: Kind, name: &Name) -> bool {
        self.path(kind, name).is_file()
    }

    /// Keeps something: written whole, then given its name. Failure costs time only.
    pub fn put(&self, kind: Kind, name: &Name, body: &[u8]) {
        self.swept.call_once(|| self.sweep());
        if let Err(error) = self.write(kind, name, body) {
            tracing::debug!(entry = name.hex(), %error, "an entry could not be kept");
        }
    }

    /// Removes an entry that is of no use.
    pub fn remove(&self, kind: Kind, name: &Name, reason: &str) {
        tracing::debug!(entry = name.hex(), reason, "an entry is thrown away");
        let _ = fs::remove_file(self.path(kind, name));
    }

    fn read(&self, file: &File, kind: Kind, name: &Name) -> Option<Authentic> {
        let size = file.metadata().ok()?.len();
        if size > LARGEST {
            return None;
        }
        let mut bytes = Vec::with_capacity(usize::try_from(size).ok()? + 1);
        file.take(LARGEST).read_to_end(&mut bytes).ok()?;
        Authentic::check(bytes, &self.secret, kind, name)
    }

    fn write(&self, kind: Kind, name: &Name, body: &[u8]) -> io::Result<()> {
        let mut file = NamedTempFile::new_in(&self.folder)?;
        file.write_all(body)?;
        file.write_all(self.secret.mark(kind, name, body).as_bytes())?;
        file.persist(self.path(kind, name))?;
        Ok(())
    }

    /// Throws away what was not asked for in a long time, if its name is of our form.
    fn sweep(&self) {
        let Ok(files) = fs::read_dir(&self.folder) else { return };
        for file in files.flatten().filter(|file| entry::is_ours(&file.file_name().to_string_lossy())) {
            let about = file.path().symlink_metadata().ok().filter(fs::Metadata::is_file);
            let age = about.and_then(|about| about.modified().ok()?.elapsed().ok());
            if age.is_some_and(|age| age > OLDEST) {
                let _ = fs::remove_file(file.path());
            }
        }
    }

    fn path(&self, kind: Kind, name: &Name) -> PathBuf {
        self.folder.join(format!("{}.{}", name.hex(), kind.ending()))
    }
}

/// Notes that the entry was of use, so that it is not swept away.
fn touch(path: &Path, file: &File) {
    let used = file.metadata().and_then(|about| about.modified()).ok();
    if used.and_then(|used| used.elapsed().ok()).is_some_and(|age| age > LAG) {
        let _ = File::options().append(true).open(path).and_then(|file| file.set_modified(SystemTime::now()));
    }
}

#[cfg(test)]
mod tests;
