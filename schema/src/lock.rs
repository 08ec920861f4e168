//! The lock file of a repository, `redtag.lock`: which packs its projects are reviewed by, to the byte.

use crate::review::Tool;
use serde::{Deserialize, Serialize};

/// The number in the `schema` field of a lock file.
pub const SCHEMA: u32 = 1;

/// The lock file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema), schemars(deny_unknown_fields))]
pub struct Lock {
    /// Version of this document; 1.
    pub schema: u32,
    /// The program that wrote it; the pack built into it is locked too.
    pub tool: Tool,
    /// The trust file, relative to the lock file, folders written with `/`. Where it is named, every pack needs a signature of
    /// one of its keys, in a line that names the pack.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub trust: Option<String>,
    /// Names of packs on which every project below the lock file's folder must stand. A project that drops one is refused.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub required: Vec<String>,
    /// A file of allowed signers, relative to the lock file: where it is named, a variance settles nothing without a signature of
    /// one of its keys.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub variance_signers: Option<String>,
    /// The packs, sorted by name and version.
    pub packs: Vec<LockedPack>,
}

/// One pack that may be used.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema), schemars(deny_unknown_fields))]
pub struct LockedPack {
    /// Its name.
    pub name: String,
    /// Its version.
    #[cfg_attr(feature = "json-schema", schemars(with = "String"))]
    pub version: semver::Version,
    /// The contract its modules need.
    pub contract: String,
    /// SHA-256 over the names and SHA-256s of its files: the same for a folder and its archive.
    #[cfg_attr(feature = "json-schema", schemars(extend("pattern" = "^[0-9a-f]{64}$")))]
    pub digest: String,
    /// SHA-256 of its archive's bytes, as other programs compute it; absent for the pack built into the program.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "json-schema", schemars(extend("pattern" = "^[0-9a-f]{64}$")))]
    pub archive_sha256: Option<String>,
}
