//! Compiles rule crates to components with an inner cargo run.

use crate::component::encode;
use crate::error::BuildError;
use crate::run::{Ran, cargo, clean, run};
use crate::target::{NO_APT, NO_RUSTUP, Road, TARGET, find};
use crate::workspace::Workspace;
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Duration;

/// The profile of rule modules. It is handed to cargo here and nowhere else, so that a crate outside this repository, which
/// has no such profile, is built the same way. One profile only: where the standard library is built from source, each
/// profile builds it again.
const PROFILE: [&str; 8] = [
    "inherits='release'",
    "opt-level=3",
    "lto='fat'",
    "codegen-units=1",
    "panic='abort'",
    "debug=false",
    // Keeps the names of functions: a failing rule is then named in the host's report.
    "strip='debuginfo'",
    "incremental=false",
];

/// A rule's stack. The host maps and clears it for every review, so it is a quarter of the linker's default.
const STACK_BYTES: u32 = 256 << 10;

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
    /// Told before a slow step.
    pub progress: fn(&str),
}

impl Options {
    /// Everything allowed that the environment does not switch off ([`NO_RUSTUP`], [`NO_APT`]); 120 s for `rustup`; silent.
    pub fn new(target_dir: impl Into<PathBuf>) -> Self {
        let allowed = |switch: &str| std::env::var_os(switch).is_none_or(|value| value.is_empty() || value == "0");
        Self {
            target_dir: target_dir.into(),
            rustup: allowed(NO_RUSTUP),
            apt: allowed(NO_APT),
            rustup_limit: Duration::from_secs(120),
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

/// Builds the crates in the folders; answers the components' bytes in the same order.
///
/// # Errors
/// When the target cannot be had, a crate does not compile, or what it compiles to does not keep the contract.
pub fn build_components(folders: &[PathBuf], options: &Options) -> Result<Vec<Vec<u8>>, BuildError> {
    let target_dir = std::path::absolute(&options.target_dir).map_err(BuildError::at(&options.target_dir))?;
    let options = Options { target_dir, ..options.clone() };
    let mut workspaces: Vec<(Workspace, Road)> = Vec::new();
    let mut components = Vec::new();
    for folder in folders {
        let folder = folder.canonicalize().map_err(BuildError::at(folder))?;
        if !workspaces.iter().any(|(workspace, _)| workspace.member(&folder).is_some()) {
            workspaces.push((Workspace::of(&folder)?, find(&folder, &options)?));
        }
        let known = workspaces.iter().find_map(|(workspace, road)| Some((workspace, road, workspace.member(&folder)?)));
        let Some((workspace, road, package)) = known else {
            let reason = "its Cargo.toml has no [package]".to_owned();
            return Err(BuildError::Crate { folder, reason });
        };
        let wasm = compile(&folder, workspace, road, package, &options)?;
        let core = fs::read(&wasm).map_err(BuildError::at(&wasm))?;
        components.push(encode(&core).map_err(|reason| BuildError::Component { folder, reason })?);
    }
    Ok(components)
}

/// Runs the inner cargo; answers the core module's file.
fn compile(folder: &Path, workspace: &Workspace, road: &Road, package: &str, options: &Options) -> Result<PathBuf, BuildError> {
    // `cargo rustc --crate-type` rather than `cargo build`: a crate that is also an `rlib` gets no link-time optimisation.
    let mut command = cargo(folder);
    command.args([
        "rustc",
        "--quiet",
        "--lib",
        "--crate-type",
        "cdylib",
        "--profile",
        "guest",
        "--target",
        TARGET,
        "-p",
        package,
    ]);
    command.args(["--message-format", "json-render-diagnostics", "--target-dir"]).arg(&options.target_dir);
    for setting in PROFILE {
        command.args(["--config", &format!("profile.guest.{setting}")]);
    }
    // A build folder set in the person's configuration could be the one the outer cargo has locked.
    command.env("CARGO_BUILD_BUILD_DIR", &options.target_dir);
    take_road(&mut command, road);
    let mut flags = vec![format!("-Clink-arg=-zstack-size={STACK_BYTES}")];
    flags.extend(workspace.remaps(&options.target_dir, &sysroot(folder, road)));
    command.env("CARGO_ENCODED_RUSTFLAGS", flags.join("\u{1f}"));
    let failed = |reason: String, log: String| BuildError::Compile { folder: folder.to_owned(), reason, log };
    let ran = run(&mut command, None).map_err(|error| failed(format!("cargo: {error}"), String::new()))?;
    if !ran.status.success() {
        return Err(failed(ran.complaint(), ran.stderr));
    }
    artifact(&ran, package).ok_or_else(|| failed("cargo names no .wasm file it has written".to_owned(), ran.stderr))
}

fn take_road(command: &mut Command, road: &Road) {
    if let Road::Debian { rustc, linker } = road {
        command.arg("-Zbuild-std=std,panic_abort").env("RUSTC", rustc).env("RUSTC_BOOTSTRAP", "1");
        command.env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER", linker);
    }
}

/// The toolchain's folder; where it is not told, a folder that no path starts with.
fn sysroot(folder: &Path, road: &Road) -> PathBuf {
    let rustc = match road {
        Road::Present => Path::new("rustc"),
        Road::Debian { rustc, .. } => rustc,
    };
    let ran = run(clean(rustc).current_dir(folder).args(["--print", "sysroot"]), None);
    ran.ok().and_then(|ran| ran.text()).map_or_else(|| PathBuf::from("/no-sysroot"), PathBuf::from)
}

/// The .wasm file among the artifacts cargo reports for a package.
fn artifact(ran: &Ran, package: &str) -> Option<PathBuf> {
    let messages = ran.stdout.split(|byte| *byte == b'\n').filter_map(|line| serde_json::from_slice::<Value>(line).ok());
    let ours = messages.filter(|message| message["reason"] == "compiler-artifact" && message["package_id"] == package);
    let files = ours.filter_map(|message| message["filenames"].as_array().cloned()).flatten();
    files.filter_map(|file| file.as_str().map(PathBuf::from)).find(|file| file.extension().is_some_and(|ending| ending == "wasm"))
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
