//! Compiled code on its way into the process: the only place where the project takes bytes on trust.
#![allow(unsafe_code)]

use redtag_module_builder::digest;
use wasmtime::Engine;
use wasmtime::component::Component;

/// Machine code of one module, known to come from our own compiler. Packs cannot make one: they carry WebAssembly only.
pub(super) struct Artifact(Vec<u8>);

impl Artifact {
    /// What our compiler has just handed back, in this process or in the child process it started.
    pub(super) fn compiled(bytes: Vec<u8>) -> Self {
        Self(bytes)
    }

    /// What the cache kept, if it is still what was put there: its SHA-256 must be the one written beside it.
    pub(super) fn kept(bytes: Vec<u8>, recorded_digest: &str) -> Option<Self> {
        (digest(&bytes) == recorded_digest).then_some(Self(bytes))
    }

    /// The bytes.
    pub(super) fn bytes(&self) -> &[u8] {
        &self.0
    }

    /// Makes the code runnable.
    ///
    /// # Errors
    /// When it was made for another engine or other settings.
    pub(super) fn load(&self, engine: &Engine) -> wasmtime::Result<Component> {
        // SAFETY: `deserialize` runs what it is given, so the bytes must come from `Engine::precompile_component`. The two
        // constructors above are the only ways to make an `Artifact`: one is handed fresh output of that call, the other
        // output kept in a folder that only this user may enter (made and checked in `cache.rs`), unchanged by its SHA-256.
        // The bytes checked are the bytes loaded: both are this one buffer. Whoever can write to that folder can already run
        // code as this user.
        unsafe { Component::deserialize(engine, &self.0) }
    }
}
