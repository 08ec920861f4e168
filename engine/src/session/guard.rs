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
    /// Whether nothing is looked for.
    asleep: bool,
}

/// The lock files of a folder, the outermost first, where all can be read and agree.
type Found = Result<Vec<Arc<LockFile>>, Vec<Diagnostic>>;

impl Guard {
    /// Reads the files the options name.
    pub fn open(options: &Settings) -> Result<Self, SessionError> {
        let trust = options.trust.as_deref().map(TrustFile::read).transpose()?;
        let named = options.lock.as_deref().map(LockFile::read).transpose()?.map(Arc::new);
        Ok(Self { trust, named, found: Mutex::default(), asleep: false })
    }

    /// None at all.
    pub fn none() -> Self {
        Self { trust: None, named: None, found: Mutex::default(), asleep: true }
    }

    /// The trust file the options name.
    pub fn trust(&self) -> Option<&TrustFile> {
        self.trust.as_ref()
    }

    /// The lock files that govern a project: the one the options name, else those found beside and above it. Each of them is
    /// obeyed: one in a folder can ask for more than that of the root, never for less.
    pub fn locks(&self, project: Option<&Path>) -> Found {
        let (None, Some(project), false) = (&self.named, project, self.asleep) else {
            return Ok(self.named.iter().cloned().collect());
        };
        // A project that is a link is governed from where it leads to as well.
        let linked = project.symlink_metadata().is_ok_and(|there| there.is_symlink());
        let place = if linked { project } else { project.parent().unwrap_or(Path::new("")) }.to_owned();
        let look = || agreeing(&LockFile::find(project));
        self.found.lock().unwrap_or_else(PoisonError::into_inner).entry(place).or_insert_with(look).clone()
    }

    /// What speaks against the packs at hand, wanted or not: a pack that was tampered with says that the others need a look too.
    pub fn doubts(lock: &LockFile, at_hand: &[Opened]) -> Vec<Diagnostic> {
        let mut doubts: Vec<Diagnostic> = at_hand.iter().filter_map(|one| lock.differs(&one.pack)).collect();
        if let Some(trust) = lock.trust() {
            doubts.extend(at_hand.iter().filter_map(|one| one.seal.vouched(trust, one.pack.name()).err()).flatten());
        }
        doubts
    }

    /// What speaks against the packs of a rulebook.
    pub fn refusals(lock: &LockFile, layers: &Layers) -> Vec<Diagnostic> {
        let mut refusals: Vec<Diagnostic> = layers.packs().iter().filter_map(|pack| lock.allows(pack).err()).collect();
        let names: Vec<&str> = layers.packs().iter().map(|pack| pack.name()).collect();
        refusals.extend(lock.lacks(&names));
        refusals
    }
}

/// Reads lock files, the outermost first, and holds the inner ones against it.
fn agreeing(paths: &[PathBuf]) -> Found {
    let locks = paths.iter().map(|path| LockFile::read(path).map(Arc::new)).collect::<Result<Vec<_>, _>>()?;
    let Some((outer, inner)) = locks.split_first() else { return Ok(locks) };
    let complaints: Vec<Diagnostic> = inner.iter().flat_map(|lock| lock.disagrees(outer)).collect();
    if complaints.is_empty() { Ok(locks) } else { Err(complaints) }
}
