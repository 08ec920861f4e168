//! What stands guard over the packs of a run: the trust file and the lock file. Both are asked before any rule runs.

use super::error::SessionError;
use super::settings::Settings;
use crate::diagnostic::Diagnostic;
use crate::rulebook::Layers;
use crate::trust::{LockFile, Opened, TrustFile};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

/// The trust file and the lock file the options name, and the lock files found beside projects.
#[derive(Debug)]
pub struct Guard {
    trust: Option<TrustFile>,
    named: Option<Arc<LockFile>>,
    /// By the project's folder: projects of one folder share theirs.
    found: Mutex<BTreeMap<PathBuf, Found>>,
}

/// The lock file of a folder, if there is one that can be read.
type Found = Result<Option<Arc<LockFile>>, Vec<Diagnostic>>;

impl Guard {
    /// Reads the files the options name.
    pub fn open(options: &Settings) -> Result<Self, SessionError> {
        let trust = options.trust.as_deref().map(TrustFile::read).transpose()?;
        let named = options.lock.as_deref().map(LockFile::read).transpose()?.map(Arc::new);
        Ok(Self { trust, named, found: Mutex::default() })
    }

    /// The trust file the options name.
    pub fn trust(&self) -> Option<&TrustFile> {
        self.trust.as_ref()
    }

    /// The lock file that governs a project: the one the options name, else the one found beside or above it.
    pub fn lock(&self, project: Option<&Path>) -> Found {
        let (None, Some(project)) = (&self.named, project) else { return Ok(self.named.clone()) };
        let folder = project.parent().unwrap_or(Path::new("")).to_owned();
        let look = || LockFile::find(project).map(|path| LockFile::read(&path).map(Arc::new)).transpose();
        self.found.lock().unwrap_or_else(PoisonError::into_inner).entry(folder).or_insert_with(look).clone()
    }

    /// What speaks against the packs at hand, wanted or not: a pack that was tampered with says that the others need a look too.
    pub fn doubts(lock: &LockFile, at_hand: &[Opened]) -> Vec<Diagnostic> {
        let mut doubts: Vec<Diagnostic> = at_hand.iter().filter_map(|one| lock.differs(&one.pack)).collect();
        if let Some(trust) = lock.trust() {
            doubts.extend(at_hand.iter().filter_map(|one| one.seal.vouched(trust).err()).flatten());
        }
        doubts
    }

    /// What speaks against the packs of a rulebook.
    pub fn refusals(lock: &LockFile, layers: &Layers) -> Vec<Diagnostic> {
        layers.packs().iter().filter_map(|pack| lock.allows(pack).err()).collect()
    }
}
