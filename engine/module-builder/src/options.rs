//! How rule modules are built, and what the environment has to say about it.

use std::path::{Path, PathBuf};
use std::time::Duration;

/// Set to 1, this environment variable keeps `rustup` from being asked for the target.
pub const NO_RUSTUP: &str = "REDTAG_NO_RUSTUP";
/// Set to 1, this environment variable keeps Debian's packages from being installed.
pub const NO_APT: &str = "REDTAG_NO_APT";

/// Set to `dev`, this environment variable builds modules for work on rules: quick to build, slower to run, never to be shipped.
pub const PROFILE: &str = "REDTAG_GUEST_PROFILE";

/// How much the compiler does for a module. It is handed to cargo setting by setting, so that a crate outside this repository,
/// which has no such profile, is built the same way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Profile {
    /// For modules that are shipped, sealed or measured.
    #[default]
    Release,
    /// For work on rules.
    Development,
}

impl Profile {
    /// The profile's settings, as they stand in a Cargo.toml.
    pub(crate) fn settings(self) -> Vec<&'static str> {
        let own = match self {
            Self::Release => ["opt-level=3", "codegen-units=1", "incremental=false"],
            Self::Development => ["opt-level=1", "codegen-units=16", "incremental=true"],
        };
        // Without optimisation across crates: what rules share is compiled once, not once for each module (measured:
        // DEVELOPERS.md). The names of functions stay: a failing rule is then named in the host's report.
        let shared = ["inherits='release'", "lto='off'", "panic='abort'", "debug=false", "strip='debuginfo'"];
        shared.into_iter().chain(own).collect()
    }
}

/// How modules are built.
#[derive(Debug, Clone)]
pub struct Options {
    /// The inner cargo's own target folder. It must not be the outer cargo's, which may be locked while we run.
    pub target_dir: PathBuf,
    /// Whether `rustup` may add the WebAssembly target.
    pub rustup: bool,
    /// Whether Debian's packages may be installed.
    pub apt: bool,
    /// How long `rustup` may take.
    pub rustup_limit: Duration,
    /// How much the compiler does.
    pub profile: Profile,
    /// Told before a slow step.
    pub progress: fn(&str),
}

impl Options {
    /// Everything allowed that the environment does not switch off ([`NO_RUSTUP`], [`NO_APT`]); the profile [`PROFILE`] asks for; 120 s
    /// for `rustup`; silent.
    pub fn new(target_dir: impl Into<PathBuf>) -> Self {
        let allowed = |switch: &str| std::env::var_os(switch).is_none_or(|value| value.is_empty() || value == "0");
        Self {
            target_dir: target_dir.into(),
            rustup: allowed(NO_RUSTUP),
            apt: allowed(NO_APT),
            rustup_limit: Duration::from_secs(120),
            profile: if std::env::var_os(PROFILE).is_some_and(|value| value == "dev") {
                Profile::Development
            } else {
                Profile::Release
            },
            progress: |_| {},
        }
    }
}

/// The folder for [`Options::target_dir`] that all profiles of an outer build share, told from a build script's `OUT_DIR`
/// and `TARGET`.
pub fn guest_target_dir(out_dir: &Path, target: &str) -> PathBuf {
    let build = out_dir.ancestors().find(|folder| folder.file_name().is_some_and(|name| name == "build"));
    let Some(folder) = build.and_then(Path::parent).and_then(Path::parent) else { return out_dir.join("guest-wasm") };
    // With `--target` the profile's folder lies one deeper, in the target's.
    let under_target = folder.file_name().is_some_and(|name| name == target);
    folder.parent().filter(|_| under_target).unwrap_or(folder).join("guest-wasm")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_profile_of_the_outer_build_shares_one_folder() {
        let folder = |out: &str| guest_target_dir(Path::new(out), "x86_64-unknown-linux-gnu");
        let shared = PathBuf::from("/t/guest-wasm");
        assert_eq!(folder("/t/debug/build/redtag-0123/out"), shared);
        assert_eq!(folder("/t/release/build/redtag-0123/out"), shared);
        assert_eq!(folder("/t/x86_64-unknown-linux-gnu/release/build/redtag-0123/out"), shared);
        assert_eq!(folder("/t/debug/build/redtag/0123/out"), shared);
        assert_eq!(folder("/elsewhere/out"), PathBuf::from("/elsewhere/out/guest-wasm"));
    }
}
