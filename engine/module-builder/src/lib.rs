//! Turns rule source into what a review runs: finds or adds the WebAssembly target, builds rule crates, makes components of
//! them, looks at components before anything is compiled or run, and makes and reads pack archives.
//!
//! The project's own build script and `redtag pack build` both come through here, so a county's pack is built exactly as the
//! base pack is.

mod archive;
mod caps;
mod compile;
mod component;
mod digest;
mod error;
mod files;
mod inspect;
mod manifest;
mod options;
mod own;
mod pack;
mod reading;
mod refusal;
mod run;
mod target;
mod workspace;

pub use archive::{Limits, names, open, read, seal, seal_compressed};
pub use caps::{CONTRACT, Caps, HOST_INTERFACE, MODULE_INTERFACE};
pub use compile::build_components;
pub use component::encode;
pub use digest::{digest, pack_digest};
pub use error::{ArchiveError, BuildError, TargetError};
pub use inspect::{Inspection, inspect, validate};
pub use options::{NO_APT, NO_RUSTUP, Options, PROFILE, Profile, guest_target_dir};
pub use pack::{BuiltPack, build_pack};
pub use refusal::{Asked, Excess, Refusal};
pub use target::TARGET;
