//! The files of a pack: in memory, or still in the archive the program carries.

use redtag_module_builder as builder;
use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};

/// Files by their names in the pack.
#[derive(Debug, Default)]
pub(super) struct Contents {
    files: BTreeMap<String, OnceLock<Arc<[u8]>>>,
    archive: &'static [u8],
}

impl Contents {
    /// Files that are in memory already.
    pub(super) fn of(files: BTreeMap<String, Vec<u8>>) -> Self {
        let files = files.into_iter().map(|(name, bytes)| (name, OnceLock::from(Arc::from(bytes))));
        Self { files: files.collect(), archive: &[] }
    }

    /// The files of an archive that is part of the program, each unpacked when somebody asks for it: a review whose answers are
    /// kept needs the manifest alone.
    ///
    /// # Errors
    /// When it is no archive.
    pub(super) fn packed(archive: &'static [u8]) -> Result<Self, builder::ArchiveError> {
        let names = builder::names(archive)?;
        Ok(Self { files: names.into_iter().map(|name| (name, OnceLock::new())).collect(), archive })
    }

    /// The names, sorted.
    pub(super) fn names(&self) -> impl Iterator<Item = &str> {
        self.files.keys().map(String::as_str)
    }

    /// One file.
    pub(super) fn file(&self, name: &str) -> Option<&Arc<[u8]>> {
        let slot = self.files.get(name)?;
        if let Some(bytes) = slot.get() {
            return Some(bytes);
        }
        let read = builder::read(self.archive, name);
        let bytes = read.inspect_err(|error| tracing::error!("{name} in the built-in pack cannot be read: {error}")).ok()?;
        Some(slot.get_or_init(|| Arc::from(bytes)))
    }
}
