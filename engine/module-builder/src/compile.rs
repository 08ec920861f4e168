//! Compiles rule crates to components with an inner cargo run.

use crate::component::encode;
use crate::error::BuildError;
use crate::options::{Options, Profile};
use crate::run::{Ran, cargo, clean, run};
use crate::target::{Road, TARGET, find};
use crate::workspace::{Package, Workspace};
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// A rule's stack. The host maps and clears it for every review, so it is a quarter of the linker's default.
const STACK_BYTES: u32 = 256 << 10;

/// The crates of one workspace that are built together, with the road to their standard library.
struct Batch {
    workspace: Workspace,
    road: Road,
    /// Where each crate stands among those asked for.
    crates: Vec<(usize, Package)>,
}

/// Builds the crates in the folders, those of one workspace side by side; answers the components' bytes in the same order.
///
/// # Errors
/// When the target cannot be had, a crate does not compile, or what it compiles to does not keep the contract.
pub fn build_components(folders: &[PathBuf], options: &Options) -> Result<Vec<Vec<u8>>, BuildError> {
    let target_dir = std::path::absolute(&options.target_dir).map_err(BuildError::at(&options.target_dir))?;
    let options = Options { target_dir, ..options.clone() };
    let mut components = vec![Vec::new(); folders.len()];
    for batch in batches(folders, &options)? {
        for (index, package, wasm) in batch.compile(&options)? {
            let core = fs::read(&wasm).map_err(BuildError::at(&wasm))?;
            let component = encode(&core);
            components[index] = component.map_err(|reason| BuildError::Component { folder: package.folder.clone(), reason })?;
        }
    }
    Ok(components)
}

fn batches(folders: &[PathBuf], options: &Options) -> Result<Vec<Batch>, BuildError> {
    let mut batches: Vec<Batch> = Vec::new();
    for (index, folder) in folders.iter().enumerate() {
        let folder = folder.canonicalize().map_err(BuildError::at(folder))?;
        if !batches.iter().any(|batch| batch.workspace.member(&folder).is_some()) {
            let (workspace, road) = (Workspace::of(&folder)?, find(&folder, options)?);
            batches.push(Batch { workspace, road, crates: Vec::new() });
        }
        let known = batches.iter_mut().find_map(|batch| Some((batch.workspace.member(&folder)?.clone(), batch)));
        let Some((package, batch)) = known else {
            let reason = "its Cargo.toml has no [package]".to_owned();
            return Err(BuildError::Crate { folder, reason });
        };
        batch.crates.push((index, package));
    }
    Ok(batches)
}

impl Batch {
    /// Runs the inner cargo; answers the core module's file of each crate.
    fn compile(&self, options: &Options) -> Result<Vec<(usize, &Package, PathBuf)>, BuildError> {
        let (together, alone): (Vec<_>, Vec<_>) =
            self.crates.iter().map(|(_, package)| package).partition(|package| package.makes_cdylib);
        let mut ran = Vec::new();
        if !together.is_empty() {
            let mut command = cargo(&together[0].folder);
            command.args(["build", "--lib"]);
            command.args(together.iter().flat_map(|package| ["-p", &package.id]));
            ran.push(self.run(command, &together, options)?);
        }
        // A crate that does not say it is one is made one all the same; cargo does that for one crate at a time.
        for package in alone {
            let mut command = cargo(&package.folder);
            command.args(["rustc", "--lib", "--crate-type", "cdylib", "-p", &package.id]);
            ran.push(self.run(command, &[package], options)?);
        }
        let named = |(index, package): &'_ (usize, Package)| {
            let wasm = ran.iter().find_map(|ran| artifact(ran, &package.id));
            wasm.map(|wasm| (*index, wasm)).ok_or_else(|| BuildError::Compile {
                folder: package.folder.clone(),
                reason: "cargo names no .wasm file it has written".to_owned(),
                log: ran.iter().map(|ran| ran.stderr.as_str()).collect(),
            })
        };
        self.crates.iter().map(|one| named(one).map(|(index, wasm)| (index, &one.1, wasm))).collect()
    }

    fn run(&self, mut command: Command, packages: &[&Package], options: &Options) -> Result<Ran, BuildError> {
        command.args(["--quiet", "--profile", "guest", "--target", TARGET]);
        command.args(["--message-format", "json-render-diagnostics", "--target-dir"]).arg(&options.target_dir);
        for setting in self.profile(options).settings() {
            command.args(["--config", &format!("profile.guest.{setting}")]);
        }
        // A build folder set in the person's configuration could be the one the outer cargo has locked.
        command.env("CARGO_BUILD_BUILD_DIR", &options.target_dir);
        take_road(&mut command, &self.road);
        let folder = &packages[0].folder;
        let mut flags = vec![format!("-Clink-arg=-zstack-size={STACK_BYTES}")];
        flags.extend(self.workspace.remaps(&options.target_dir, &sysroot(folder, &self.road)));
        command.env("CARGO_ENCODED_RUSTFLAGS", flags.join("\u{1f}"));
        let failed = |reason: String, log: String| BuildError::Compile { folder: blamed(packages, &log), reason, log };
        let ran = run(&mut command, None).map_err(|error| failed(format!("cargo: {error}"), String::new()))?;
        if ran.status.success() { Ok(ran) } else { Err(failed(ran.complaint(), ran.stderr)) }
    }

    /// Where the standard library is built from source, each profile would build it again.
    fn profile(&self, options: &Options) -> Profile {
        match self.road {
            Road::Present => options.profile,
            Road::Debian { .. } => Profile::Release,
        }
    }
}

/// The crate cargo could not compile, where several were built together: the one it names.
fn blamed(packages: &[&Package], log: &str) -> PathBuf {
    let named = packages.iter().find(|package| log.contains(&format!("could not compile `{}`", package.name)));
    named.or(packages.first()).map(|package| package.folder.clone()).unwrap_or_default()
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
