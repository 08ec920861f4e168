//! Runs other programs: with a time limit, never with a prompt, and with their words kept for the person who has to read them.

use std::ffi::OsStr;
use std::io::{self, Read, Seek};
use std::path::Path;
use std::process::{Child, Command, ExitStatus, Stdio};
use std::thread;
use std::time::{Duration, Instant};

/// What a program left behind.
#[derive(Debug)]
pub(crate) struct Ran {
    pub(crate) status: ExitStatus,
    pub(crate) stdout: Vec<u8>,
    pub(crate) stderr: String,
}

/// Why a program did not end by itself.
#[derive(Debug)]
pub(crate) enum Failed {
    /// It could not be started.
    Start(io::Error),
    /// It was ended at the limit.
    Limit(Duration),
}

impl std::fmt::Display for Failed {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Start(error) if error.kind() == io::ErrorKind::NotFound => out.write_str("the program is not here"),
            Self::Start(error) => write!(out, "it could not be started ({error})"),
            Self::Limit(limit) => write!(out, "no answer in {} s", limit.as_secs()),
        }
    }
}

impl Ran {
    /// What it printed, as text, where it succeeded.
    pub(crate) fn text(&self) -> Option<String> {
        self.status.success().then(|| String::from_utf8_lossy(&self.stdout).trim().to_owned())
    }

    /// The line of its complaint that says most: the first that calls itself an error, else the last.
    pub(crate) fn complaint(&self) -> String {
        let mut lines = self.stderr.lines().map(str::trim).filter(|line| !line.is_empty());
        let error = lines.clone().find(|line| line.starts_with("error") || line.starts_with("E:"));
        error.or_else(|| lines.next_back()).map_or_else(|| self.status.to_string(), str::to_owned)
    }
}

/// Runs to the end, or to the limit where there is one. Output goes through files: a pipe that a grandchild holds open
/// would keep us waiting after the child was ended.
pub(crate) fn run(command: &mut Command, limit: Option<Duration>) -> Result<Ran, Failed> {
    let (mut stdout, mut stderr) = (file()?, file()?);
    command.stdin(Stdio::null());
    command.stdout(stdout.try_clone().map_err(Failed::Start)?).stderr(stderr.try_clone().map_err(Failed::Start)?);
    let mut child = command.spawn().map_err(Failed::Start)?;
    let status = match limit {
        None => child.wait().map_err(Failed::Start)?,
        Some(limit) => wait(&mut child, limit)?,
    };
    let (stdout, stderr) = (read(&mut stdout).map_err(Failed::Start)?, read(&mut stderr).map_err(Failed::Start)?);
    Ok(Ran { status, stdout, stderr: String::from_utf8_lossy(&stderr).into_owned() })
}

fn wait(child: &mut Child, limit: Duration) -> Result<ExitStatus, Failed> {
    let start = Instant::now();
    loop {
        if let Some(status) = child.try_wait().map_err(Failed::Start)? {
            return Ok(status);
        }
        if start.elapsed() >= limit {
            let _ = child.kill();
            let _ = child.wait();
            return Err(Failed::Limit(limit));
        }
        thread::sleep(Duration::from_millis(20));
    }
}

fn file() -> Result<std::fs::File, Failed> {
    tempfile::tempfile().map_err(Failed::Start)
}

fn read(file: &mut std::fs::File) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    file.rewind()?;
    file.read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// Variables of an outer cargo run that would change what an inner one builds. What says where packages come from stays.
pub(crate) fn is_foreign(name: &OsStr) -> bool {
    const KEPT: [&str; 6] = ["CARGO_HOME", "CARGO_NET_", "CARGO_HTTP_", "CARGO_REGISTRY_", "CARGO_REGISTRIES_", "CARGO_SOURCE_"];
    const TAKEN: [&str; 17] = [
        "RUSTC",
        "RUSTC_WRAPPER",
        "RUSTC_WORKSPACE_WRAPPER",
        "RUSTC_LINKER",
        "RUSTC_BOOTSTRAP",
        "RUSTDOC",
        "RUSTFLAGS",
        "RUSTDOCFLAGS",
        "TARGET",
        "HOST",
        "OUT_DIR",
        "PROFILE",
        "OPT_LEVEL",
        "DEBUG",
        "NUM_JOBS",
        "MAKEFLAGS",
        "MFLAGS",
    ];
    let name = name.to_string_lossy();
    let foreign = name.starts_with("CARGO") || name.starts_with("DEP_") || TAKEN.contains(&name.as_ref());
    // The linker of the host builds the procedural macros of the inner run too.
    let linker = name.starts_with("CARGO_TARGET_") && name.ends_with("_LINKER") && !name.contains("WASM32");
    foreign && !linker && !KEPT.iter().any(|kept| name.starts_with(kept))
}

/// A command in the environment of the person, not of the build that called us.
pub(crate) fn clean(program: impl AsRef<OsStr>) -> Command {
    let mut command = Command::new(program);
    for (name, _) in std::env::vars_os().filter(|(name, _)| is_foreign(name)) {
        command.env_remove(name);
    }
    command
}

/// The cargo that runs us, else the one on the path.
pub(crate) fn cargo(folder: &Path) -> Command {
    let mut command = clean(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.current_dir(folder);
    command
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_program_that_hangs_is_ended_at_the_limit() {
        let start = Instant::now();
        let failed = run(Command::new("sleep").arg("30"), Some(Duration::from_millis(200)));
        assert!(matches!(failed, Err(Failed::Limit(_))), "{failed:?}");
        assert!(start.elapsed() < Duration::from_secs(10));
    }

    #[test]
    fn a_program_that_is_not_here_is_said_to_be_missing() {
        let failed = run(&mut Command::new("no-such-program-of-ours"), None);
        assert_eq!(failed.map(|_| ()).map_err(|error| error.to_string()), Err("the program is not here".to_owned()));
    }

    #[test]
    fn the_line_that_calls_itself_an_error_is_the_complaint() {
        let ran = run(
            Command::new("sh").args(["-c", "echo warming up >&2; echo 'error: no network' >&2; echo help >&2; exit 1"]),
            None,
        );
        let ran = ran.expect("sh runs");
        assert_eq!(ran.complaint(), "error: no network");
        assert_eq!(ran.text(), None);
    }

    #[test]
    fn an_inner_build_keeps_where_packages_come_from_and_drops_the_outer_build() {
        let foreign = |name: &str| is_foreign(OsStr::new(name));
        for kept in [
            "CARGO_HOME",
            "CARGO_NET_OFFLINE",
            "CARGO_REGISTRIES_OURS_INDEX",
            "CARGO_SOURCE_CRATES_IO_REPLACE_WITH",
            "PATH",
            "RUSTUP_HOME",
            "RUSTUP_TOOLCHAIN",
            "CARGO_TARGET_X86_64_UNKNOWN_LINUX_GNU_LINKER",
        ] {
            assert!(!foreign(kept), "{kept}");
        }
        for dropped in [
            "CARGO",
            "CARGO_TARGET_DIR",
            "CARGO_ENCODED_RUSTFLAGS",
            "CARGO_MANIFEST_DIR",
            "CARGO_BUILD_TARGET",
            "RUSTC",
            "RUSTC_WRAPPER",
            "RUSTFLAGS",
            "OUT_DIR",
            "DEP_Z_ROOT",
            "PROFILE",
            "CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER",
        ] {
            assert!(foreign(dropped), "{dropped}");
        }
    }
}
