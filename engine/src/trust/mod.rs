//! Whom a pack comes from and whether it is the one that was agreed on: signatures, the trust file, the lock file. All of it
//! works offline.
//!
//! [`open`] reads a pack with its signature. [`TrustFile`] says whose signatures count. [`LockFile`] pins the packs of a
//! repository.

mod lock;
mod open;
mod patterns;
mod signature;
mod signers;

#[cfg(test)]
pub(crate) mod tests;

pub use lock::{Demands, LOCK, LockFile, lock, trust_path};
pub use open::{Opened, Seal, Vouched, open, signature_path};
pub use signature::{KeyError, NAMESPACE, SignatureError, Signed, VARIANCE, sign, sign_for, verify, verify_for};
pub use signers::{Distrust, Signer, TrustFile};
