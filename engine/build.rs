//! Builds the base pack from the rule crates of this repository and puts it into the program as `base-pack.zip`.
//!
//! `REDTAG_NO_BASE_PACK=1` leaves it out, for work on the engine while a rule crate does not compile. Such a program says so
//! when it is asked for the base pack.
#![allow(clippy::print_stdout, reason = "a build script speaks to cargo by printing")]

use redtag_module_builder::{
    BuildError, Caps, Limits, Options, PROFILE, Profile, build_pack, guest_target_dir, open, pack_digest, seal_compressed,
};
use std::path::{Path, PathBuf};
use std::{env, fs, io};

const NO_BASE_PACK: &str = "REDTAG_NO_BASE_PACK";

fn main() {
    println!("cargo::rustc-check-cfg=cfg(redtag_base_pack)");
    let (Some(manifest), Some(out)) = (env::var_os("CARGO_MANIFEST_DIR"), env::var_os("OUT_DIR")) else {
        println!("cargo::error=CARGO_MANIFEST_DIR and OUT_DIR are not set: this script is run by cargo");
        return;
    };
    println!("cargo::rerun-if-env-changed={NO_BASE_PACK}");
    println!("cargo::rerun-if-env-changed={PROFILE}");
    if env::var_os(NO_BASE_PACK).is_some_and(|value| value == "1") {
        return;
    }
    let root = Path::new(&manifest).join("..");
    if let Err(error) = watch(&root) {
        println!("cargo::error=the rule crates cannot be listed: {error}");
    }
    match base_pack(&root, &PathBuf::from(out)) {
        Ok(()) => println!("cargo::rustc-cfg=redtag_base_pack"),
        Err(error) => report(&error),
    }
}

/// Builds and seals the pack. The rule crates have a target folder of their own that every profile shares: the outer cargo
/// holds the lock of its own while this script runs.
fn base_pack(root: &Path, out: &Path) -> Result<(), BuildError> {
    let target = env::var("TARGET").unwrap_or_default();
    let mut options =
        Options { progress: |step| println!("cargo::warning={step}"), ..Options::new(guest_target_dir(out, &target)) };
    // What is shipped is never built for haste, whatever the environment says.
    if env::var_os("PROFILE").is_some_and(|profile| profile == "release") {
        options.profile = Profile::Release;
    }
    let folder = out.join("base-pack");
    // Cargo's folder for this script alone; a build of an older redtag left there has no mark and would not be replaced.
    match fs::remove_dir_all(&folder) {
        Err(source) if source.kind() != io::ErrorKind::NotFound => return Err(BuildError::File { path: folder, source }),
        _ => {}
    }
    build_pack(&root.join("rules/packs/model-residential"), &folder, &Caps::default(), &options)?;
    let archive = seal_compressed(&folder)?;
    let files = open(&archive, &Limits::default())?;
    let digest = pack_digest(files.iter().map(|(name, bytes)| (name.as_str(), bytes.as_slice())));
    let write = |name: &str, bytes: &[u8]| {
        let path = out.join(name);
        fs::write(&path, bytes).map_err(|source| BuildError::File { path, source })
    };
    write("base-pack.digest", digest.as_bytes())?;
    write("base-pack.zip", &archive)
}

/// One line that says what to do, then what the compiler said, if it was the compiler.
fn report(error: &BuildError) {
    println!("cargo::error=the base pack was not built: {error}");
    for line in error.log().unwrap_or_default().lines().filter(|line| !line.trim().is_empty()) {
        println!("cargo::error={line}");
    }
}

/// Names what the pack is made of, so that the script runs again only when some of it changes: not for the tests or the
/// reference tables of a rule crate.
fn watch(root: &Path) -> io::Result<()> {
    let crates = ["schema", "rules/handbook", "rules/sdk", "rules/sdk/registry", "rules/sdk/load", "rules/sdk/space"]
        .map(|name| root.join(name));
    let families =
        fs::read_dir(root.join("rules"))?.map(|entry| entry.map(|entry| entry.path())).collect::<io::Result<Vec<_>>>()?;
    for folder in crates.iter().chain(&families).filter(|folder| folder.join("Cargo.toml").exists()) {
        ["src", "wit", "build.rs", "Cargo.toml"].iter().for_each(|part| changed(&folder.join(part)));
    }
    ["rules/packs", "Cargo.toml", "Cargo.lock", "rust-toolchain.toml"].iter().for_each(|part| changed(&root.join(part)));
    Ok(())
}

/// A path that is not there would make the script run every time.
fn changed(path: &Path) {
    if path.exists() {
        println!("cargo::rerun-if-changed={}", path.display());
    }
}
