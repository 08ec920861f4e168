//! Compiled modules kept for the next run. An entry is the machine code and, behind it, the version of the contract the module
//! speaks: a module whose code is kept was inspected when it was compiled, and is not inspected again.

use super::settings::{CODE_SETTINGS, Tier};
use super::trusted::Artifact;
use crate::store::{Kind, Name, Store};
use redtag_module_builder::Caps;
use semver::Version;
use std::hash::{Hash, Hasher};
use std::sync::Arc;
use wasmtime::Engine;

/// Where compiled modules of one tier are kept.
pub(super) struct Cache {
    store: Arc<Store>,
    /// Engine, settings, caps and tool version; part of every name.
    build: Name,
}

/// A module's code as it was kept.
pub(super) struct KeptCode {
    pub(super) artifact: Artifact,
    pub(super) contract: Version,
}

/// Bytes at the end of an entry that say how long the contract's version before them is.
const LENGTH: usize = 1;

impl Cache {
    /// The compiled modules in a store. A module kept under other caps would not have been inspected by these.
    pub(super) fn new(store: Arc<Store>, engine: &Engine, tier: Tier, caps: &Caps) -> Self {
        let mut hasher = BytesOf(Vec::new());
        engine.precompile_compatibility_hash().hash(&mut hasher);
        let caps = format!("{caps:?}");
        let build = [env!("CARGO_PKG_VERSION"), CODE_SETTINGS, tier.word(), &caps].map(str::as_bytes);
        let build = Name::of(build.into_iter().chain([hasher.0.as_slice()]));
        Self { store, build }
    }

    /// The name of a module's entry.
    fn name(&self, module_digest: &str) -> Name {
        Name::of([self.build.as_bytes(), module_digest.as_bytes()])
    }

    /// Whether there is something under a module's name.
    pub(super) fn has(&self, module_digest: &str) -> bool {
        self.store.has(Kind::Code, &self.name(module_digest))
    }

    /// What is kept of a module.
    pub(super) fn get(&self, module_digest: &str) -> Option<KeptCode> {
        let entry = self.store.get(Kind::Code, &self.name(module_digest))?;
        let (rest, length) = entry.bytes().split_at_checked(entry.bytes().len().checked_sub(LENGTH)?)?;
        let code = rest.len().checked_sub(usize::from(*length.first()?))?;
        let contract = std::str::from_utf8(rest.get(code..)?).ok()?.parse().ok()?;
        Some(KeptCode { artifact: Artifact::kept(entry, code), contract })
    }

    /// Keeps fresh code.
    pub(super) fn put(&self, module_digest: &str, artifact: &Artifact, contract: &Version) {
        let contract = contract.to_string();
        let Ok(length) = u8::try_from(contract.len()) else { return };
        let body = [artifact.bytes(), contract.as_bytes(), &[length]].concat();
        self.store.put(Kind::Code, &self.name(module_digest), &body);
    }

    /// Removes an entry that is of no use.
    pub(super) fn remove(&self, module_digest: &str, reason: &str) {
        self.store.remove(Kind::Code, &self.name(module_digest), reason);
    }
}

/// Takes down what a hashable value feeds to a hasher. Such bytes hold on one machine and for one build, which is all they must.
struct BytesOf(Vec<u8>);

impl Hasher for BytesOf {
    fn write(&mut self, bytes: &[u8]) {
        self.0.extend_from_slice(bytes);
    }

    /// Not asked for: 64 bits are too few to tell code apart.
    fn finish(&self) -> u64 {
        0
    }
}
