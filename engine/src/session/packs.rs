//! What the makers and keepers of packs need: building, sealing, signing, verifying, locking. None of it runs a module.

pub use crate::pack::{Pack, base_pack, read_archive};
pub use crate::trust::{
    Demands, KeyError, LOCK, LockFile, NAMESPACE, Opened, TrustFile, VARIANCE, lock, open as open_pack, sign, sign_for,
    signature_path, trust_path, verify,
};
pub use redtag_module_builder::{Caps, Options as BuildOptions, build_pack, inspect, seal};

use super::SessionError;
use crate::diagnostic::Diagnostic;
use std::path::PathBuf;

/// The packs at these paths, each a folder, an archive, or a folder of packs.
///
/// # Errors
/// Every complaint about them.
pub fn open_packs(paths: &[PathBuf], trust: Option<&TrustFile>) -> Result<Vec<Opened>, SessionError> {
    let (packs, _) = super::shelf::open_all(paths, trust).map_err(|complaints: Vec<Diagnostic>| complaints)?;
    Ok(packs)
}
