//! Compiled code on its way into the process: the only place where the project takes bytes on trust.
#![allow(unsafe_code)]

use crate::store::Authentic;
use wasmtime::Engine;
use wasmtime::component::Component;

/// Machine code of one module, known to come from our own compiler. Packs cannot make one: they carry WebAssembly only.
pub(super) enum Artifact {
    /// What our compiler has just handed back, in this process or in the child process it started.
    Compiled(Compiled),
    /// What this user's own program kept.
    Kept(Authentic, usize),
}

/// Fresh output of the compiler.
pub(super) struct Compiled(Vec<u8>);

impl Artifact {
    /// Fresh output of `Engine::precompile_component`, here or in the child process.
    pub(super) fn compiled(bytes: Vec<u8>) -> Self {
        Self::Compiled(Compiled(bytes))
    }

    /// The first `length` bytes of an entry of kind code. Only this module's neighbour `cache` puts such entries.
    pub(super) fn kept(entry: Authentic, length: usize) -> Self {
        Self::Kept(entry, length)
    }

    /// The bytes.
    pub(super) fn bytes(&self) -> &[u8] {
        match self {
            Self::Compiled(Compiled(bytes)) => bytes,
            Self::Kept(entry, length) => entry.bytes().get(..*length).unwrap_or_default(),
        }
    }

    /// Makes the code runnable.
    ///
    /// # Errors
    /// When it was made for another engine or other settings.
    pub(super) fn load(&self, engine: &Engine) -> wasmtime::Result<Component> {
        // SAFETY: `deserialize` runs what it is given, so the bytes must come from `Engine::precompile_component`. The two
        // constructors above are the only ways to make an `Artifact`: one is handed fresh output of that call, the other an
        // entry of the store that carries the keyed hash of this user's secret, which lies outside every checkout and which
        // the store alone makes (`store/entry.rs`); what goes in there is fresh output too. The bytes checked are the bytes
        // loaded: both are this one buffer. Whoever knows the secret can already run code as this user.
        unsafe { Component::deserialize(engine, self.bytes()) }
    }
}
