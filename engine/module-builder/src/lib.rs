//! Turns rule source into what a review runs: finds or adds the WebAssembly target, builds rule crates, makes components of
//! them, looks at components before anything is compiled or run, and makes and reads pack archives.
//!
//! The project's own build script and `redtag pack build` both come through here, so a county's pack is built exactly as the
//! base pack is.

mod archive;
mod compile;
mod component;
mod digest;
mod error;
mod files;
mod inspect;
mod manifest;
mod pack;
mod reading;
mod refusal;
mod run;
mod target;
mod workspace;

pub use archive::{ArchiveError, Limits, names, open, read, seal};
pub use compile::{Options, build_components, guest_target_dir};
pub use component::encode;
pub use digest::{digest, pack_digest};
pub use error::BuildError;
pub use inspect::{CONTRACT, Caps, HOST_INTERFACE, Inspection, MODULE_INTERFACE, inspect, validate};
pub use pack::{BuiltPack, build_pack};
pub use refusal::{Asked, Excess, Refusal};
pub use target::{NO_APT, NO_RUSTUP, TARGET, TargetError};
