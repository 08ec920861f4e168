//! Finds the standard library for WebAssembly, adds it, or builds it: three roads, tried in this order.
//!
//! 1. It lies in the active toolchain, or `rustup` adds it.
//! 2. Debian's `rustc-web` and `rust-web-src` hold a compiler and the library's source; installed where we may.
//! 3. One error that names the roads and what happened on each.

use crate::error::TargetError;
use crate::options::{NO_APT, NO_RUSTUP, Options};
use crate::run::{Ran, clean, run};
use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// What rule modules are compiled for.
pub const TARGET: &str = "wasm32-unknown-unknown";

const DEBIAN_RUSTC: &str = "/usr/bin/rustc";
const APT_GET: &str = "/usr/bin/apt-get";
const PACKAGES: [&str; 3] = ["rustc-web", "rust-web-src", "lld"];
/// The oldest compiler that builds the rule SDK.
const OLDEST: &str = env!("CARGO_PKG_RUST_VERSION");
/// A stopped installation leaves half-configured packages behind, so it gets far more time than it needs.
const APT_LIMIT: Duration = Duration::from_secs(900);

/// How the standard library is had.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Road {
    /// Ready in the active toolchain.
    Present,
    /// Built from source by Debian's compiler.
    Debian { rustc: PathBuf, linker: PathBuf },
}

fn missing(tried: Vec<String>) -> TargetError {
    TargetError { target: TARGET, packages: PACKAGES.join(" "), oldest: OLDEST, tried }
}

/// Finds the standard library for the toolchain that is active in the folder, adding it where that is allowed.
pub(crate) fn find(folder: &Path, options: &Options) -> Result<Road, TargetError> {
    let mut tried = Vec::new();
    if present(folder, &mut tried) {
        return Ok(Road::Present);
    }
    // Two builds at once must not both install: the second waits, then finds what the first has added.
    let _lock = lock(&options.target_dir);
    if present(folder, &mut Vec::new()) || by_rustup(folder, options, &mut tried) {
        return Ok(Road::Present);
    }
    by_debian(folder, options, &mut tried).ok_or_else(|| missing(tried))
}

/// Held until dropped. Without a lock (a read-only disk) the installers' own locks still serve.
fn lock(target_dir: &Path) -> Option<fs::File> {
    fs::create_dir_all(target_dir).ok()?;
    let file = fs::File::create(target_dir.join("adding-the-target.lock")).ok()?;
    file.lock().ok().map(|()| file)
}

fn present(folder: &Path, tried: &mut Vec<String>) -> bool {
    match ask(clean("rustc").current_dir(folder).args(["--print", "target-libdir", "--target", TARGET])) {
        Ok(libdir) if holds_std(Path::new(&libdir)) => true,
        Ok(libdir) => {
            tried.push(format!("the active toolchain (nothing in {libdir})"));
            false
        }
        Err(reason) => {
            tried.push(format!("the active toolchain (rustc: {reason})"));
            false
        }
    }
}

fn holds_std(libdir: &Path) -> bool {
    let Ok(entries) = fs::read_dir(libdir) else { return false };
    entries.flatten().any(|entry| {
        let name = entry.file_name();
        let name = name.to_string_lossy();
        name.starts_with("libstd-") && name.ends_with(".rlib")
    })
}

/// The output of a short command, or why there is none.
fn ask(command: &mut std::process::Command) -> Result<String, String> {
    let ran = run(command, Some(Duration::from_secs(60))).map_err(|failed| failed.to_string())?;
    ran.text().ok_or_else(|| ran.complaint())
}

fn by_rustup(folder: &Path, options: &Options, tried: &mut Vec<String>) -> bool {
    if !options.rustup {
        tried.push(format!("rustup (switched off by {NO_RUSTUP})"));
        return false;
    }
    (options.progress)(&format!("adding the standard library for {TARGET} with rustup"));
    match run(clean("rustup").current_dir(folder).args(["target", "add", TARGET]), Some(options.rustup_limit)) {
        Err(failed) => tried.push(format!("rustup ({failed})")),
        Ok(ran) if !ran.status.success() => tried.push(format!("rustup ({})", ran.complaint())),
        Ok(_) if present(folder, &mut Vec::new()) => return true,
        Ok(_) => tried.push("rustup (it added the target to a toolchain other than the active one)".to_owned()),
    }
    false
}

fn by_debian(folder: &Path, options: &Options, tried: &mut Vec<String>) -> Option<Road> {
    match debian(folder) {
        Ok(road) => return Some(road),
        Err(reason) => tried.push(format!("Debian's packages ({reason})")),
    }
    if let Err(reason) = install(options) {
        tried.push(format!("apt-get ({reason})"));
        return None;
    }
    debian(folder).map_err(|reason| tried.push(format!("Debian's packages as installed ({reason})"))).ok()
}

/// Debian's compiler, if it and the library's source are here and new enough.
fn debian(folder: &Path) -> Result<Road, String> {
    let about = ask(clean(DEBIAN_RUSTC).arg("-vV")).map_err(|reason| format!("{DEBIAN_RUSTC}: {reason}"))?;
    let release = field(&about, "release").unwrap_or_default();
    if !new_enough(&release) {
        return Err(format!("{DEBIAN_RUSTC} is version {release}, {OLDEST} is the oldest that will do"));
    }
    let sysroot = PathBuf::from(ask(clean(DEBIAN_RUSTC).args(["--print", "sysroot"]))?);
    let source = sysroot.join("lib/rustlib/src/rust/library/Cargo.toml");
    if !source.exists() {
        return Err("the standard library's source is not here: rust-web-src".to_owned());
    }
    let linker = linker(folder, &sysroot).ok_or("no linker for WebAssembly is here: lld")?;
    Ok(Road::Debian { rustc: DEBIAN_RUSTC.into(), linker })
}

/// The linker that comes with a compiler fits it; Debian's own may be older than its compiler, so it comes last.
fn linker(folder: &Path, debian: &Path) -> Option<PathBuf> {
    let about = ask(clean("rustc").current_dir(folder).arg("-vV")).unwrap_or_default();
    let host = field(&about, "host").unwrap_or_default();
    let active = ask(clean("rustc").current_dir(folder).args(["--print", "sysroot"])).map(PathBuf::from).ok();
    let beside = |sysroot: &Path| sysroot.join("lib/rustlib").join(&host).join("bin/rust-lld");
    let candidates = [active.as_deref().map(beside), Some(beside(debian)), Some("/usr/bin/wasm-ld".into())];
    candidates.into_iter().flatten().find(|path| path.exists())
}

/// A line `name: value` of `rustc -vV`.
fn field(about: &str, name: &str) -> Option<String> {
    about.lines().find_map(|line| line.strip_prefix(name)?.strip_prefix(": ").map(str::to_owned))
}

fn new_enough(release: &str) -> bool {
    let number = |text: &str| {
        let mut parts = text.split(['.', '-']).map(|part| part.parse::<u64>().ok());
        Some((parts.next()??, parts.next()??))
    };
    matches!((number(release), number(OLDEST)), (Some(found), Some(oldest)) if found >= oldest)
}

fn install(options: &Options) -> Result<(), String> {
    if !options.apt {
        return Err(format!("switched off by {NO_APT}"));
    }
    if !Path::new(APT_GET).exists() {
        return Err("not a Debian machine".to_owned());
    }
    if !is_root() {
        return Err("not run as root".to_owned());
    }
    (options.progress)(&format!("installing Debian's {} to build the standard library for {TARGET}", PACKAGES.join(", ")));
    // An update that fails may still leave a list that serves; the installation tells.
    let _ = run(apt_get().arg("update"), Some(APT_LIMIT));
    // Never at the price of a package that is here, such as another compiler.
    let mut command = apt_get();
    command.args(["install", "-y", "--no-install-recommends", "--no-remove"]).args(PACKAGES);
    let ran: Ran = run(&mut command, Some(APT_LIMIT)).map_err(|failed| failed.to_string())?;
    if ran.status.success() { Ok(()) } else { Err(ran.complaint()) }
}

fn apt_get() -> std::process::Command {
    let mut command = clean(APT_GET);
    command.env("DEBIAN_FRONTEND", "noninteractive").args(["-o", "DPkg::Lock::Timeout=300"]);
    command
}

#[cfg(unix)]
fn is_root() -> bool {
    use std::os::unix::fs::MetadataExt as _;
    fs::metadata("/proc/self").is_ok_and(|process| process.uid() == 0)
}

#[cfg(not(unix))]
fn is_root() -> bool {
    false
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_compiler_older_than_the_sdk_needs_will_not_do() {
        assert!(new_enough("1.95.0") && new_enough("1.96.0-nightly") && new_enough("2.0.0"));
        assert!(!new_enough("1.85.0") && !new_enough("1.9.0") && !new_enough(""));
    }

    #[test]
    fn the_error_is_one_line_that_names_every_road() {
        let text = missing(vec!["rustup (no answer in 120 s)".to_owned()]).to_string();
        assert_eq!(text.lines().count(), 1);
        for road in
            ["rustup target add wasm32-unknown-unknown", "apt-get install rustc-web rust-web-src lld", "on the path", "no answer"]
        {
            assert!(text.contains(road), "{text}");
        }
    }

    #[test]
    fn a_library_folder_without_the_library_is_not_enough() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        assert!(!holds_std(folder.path()) && !holds_std(&folder.path().join("missing")));
        fs::write(folder.path().join("libstd-0123.rlib"), "").expect("a file");
        assert!(holds_std(folder.path()));
    }
}
