//! Compiled modules kept for the next run: one private folder per user. An entry is the machine code and, beside it, a sidecar
//! with the key and the SHA-256 of that code. Anything odd about an entry makes it a miss: it is removed and made again.

use super::SandboxError;
use super::settings::CODE_SETTINGS;
use super::trusted::Artifact;
use redtag_module_builder::digest;
use sha2::{Digest, Sha256};
use std::fs;
use std::hash::{Hash, Hasher};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use tempfile::NamedTempFile;
use wasmtime::Engine;

/// Where compiled modules are kept.
pub(super) struct Cache {
    folder: PathBuf,
    /// Engine, settings and tool version as one text; part of every key.
    build: String,
}

/// The name of an entry.
pub(super) struct Key(String);

impl Cache {
    /// Opens the folder, and makes it where it is missing. Only this user may enter it.
    ///
    /// # Errors
    /// When it cannot be made, or belongs to somebody else: code kept there would not be ours.
    pub(super) fn open(folder: &Path, engine: &Engine) -> Result<Self, SandboxError> {
        make_private(folder).map_err(|reason| SandboxError::CacheFolder { folder: folder.to_owned(), reason })?;
        let mut hasher = ShaHasher(Sha256::new());
        engine.precompile_compatibility_hash().hash(&mut hasher);
        let build = format!("{}\n{CODE_SETTINGS}\n{}", env!("CARGO_PKG_VERSION"), hex(hasher.0));
        Ok(Self { folder: folder.to_owned(), build })
    }

    /// The key of a module.
    pub(super) fn key(&self, module_digest: &str) -> Key {
        Key(digest(format!("{module_digest}\n{}", self.build).as_bytes()))
    }

    /// What is kept under a key, if it is whole.
    pub(super) fn get(&self, key: &Key) -> Option<Artifact> {
        let found = self.read(key);
        if found.is_none() && self.sidecar(key).exists() {
            self.remove(key, "it is not what was put there");
        }
        found
    }

    fn read(&self, key: &Key) -> Option<Artifact> {
        let sidecar = fs::read_to_string(self.sidecar(key)).ok()?;
        // The key is in there so that another module's entry, whole but under this name, is not taken for this one.
        let (recorded_key, recorded_digest) = sidecar.trim_end().split_once(' ')?;
        if recorded_key != key.0 || !is_digest(recorded_digest) {
            return None;
        }
        fs::read(self.code(key, recorded_digest)).ok().and_then(|bytes| Artifact::kept(bytes, recorded_digest))
    }

    /// Removes an entry that is of no use: whatever file carries its key.
    pub(super) fn remove(&self, key: &Key, reason: &str) {
        tracing::debug!(entry = key.0, reason, "a compiled module in the cache is thrown away");
        let Ok(files) = fs::read_dir(&self.folder) else { return };
        for file in files.flatten() {
            if file.file_name().to_string_lossy().starts_with(&key.0) {
                // A file that is already gone is as good.
                let _ = fs::remove_file(file.path());
            }
        }
    }

    /// Keeps an artifact. Each file is written whole and then given its name, the sidecar last; code of another content has
    /// another name, so that two runs at once cannot mix their files. Failure costs time only.
    pub(super) fn put(&self, key: &Key, artifact: &Artifact) {
        let code_digest = digest(artifact.bytes());
        let sidecar = format!("{} {code_digest}\n", key.0);
        let kept = self
            .write(&self.code(key, &code_digest), artifact.bytes())
            .and_then(|()| self.write(&self.sidecar(key), sidecar.as_bytes()));
        if let Err(error) = kept {
            tracing::debug!(entry = key.0, %error, "a compiled module could not be kept");
        }
    }

    fn write(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        let mut file = NamedTempFile::new_in(&self.folder)?;
        file.write_all(bytes)?;
        file.persist(path)?;
        Ok(())
    }

    fn code(&self, key: &Key, code_digest: &str) -> PathBuf {
        self.folder.join(format!("{}-{code_digest}.compiled", key.0))
    }

    fn sidecar(&self, key: &Key) -> PathBuf {
        self.folder.join(format!("{}.sha256", key.0))
    }
}

fn is_digest(text: &str) -> bool {
    text.len() == 64 && text.bytes().all(|byte| byte.is_ascii_hexdigit())
}

/// Feeds a hashable value to SHA-256. Such a key holds on one machine and for one build, which is all it must do.
struct ShaHasher(Sha256);

impl Hasher for ShaHasher {
    fn write(&mut self, bytes: &[u8]) {
        self.0.update(bytes);
    }

    /// Not asked for: 64 bits are too few to tell code apart.
    fn finish(&self) -> u64 {
        0
    }
}

fn hex(hasher: Sha256) -> String {
    hasher.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Makes a folder only this user may enter, or sees to it that one is.
#[cfg(unix)]
pub(crate) fn make_private(folder: &Path) -> io::Result<()> {
    use std::os::unix::fs::{DirBuilderExt, MetadataExt, PermissionsExt};
    fs::DirBuilder::new().recursive(true).mode(0o700).create(folder)?;
    // Whoever owns a file made now is this user.
    let this_user = NamedTempFile::new_in(folder)?.as_file().metadata()?.uid();
    if fs::metadata(folder)?.uid() != this_user {
        return Err(io::Error::new(io::ErrorKind::PermissionDenied, "the folder belongs to another user"));
    }
    fs::set_permissions(folder, fs::Permissions::from_mode(0o700))
}

/// Makes a folder.
#[cfg(not(unix))]
pub(crate) fn make_private(folder: &Path) -> io::Result<()> {
    // The per-user folders of other systems are private already.
    fs::create_dir_all(folder)
}
