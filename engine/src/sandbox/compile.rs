//! Compiling: here, or in a child process with limits of its own.

use super::child::{COMMAND, reason_file};
use super::failure::{CompileExcess, ModuleFailure};
use super::limits::CompileLimits;
use super::settings::Tier;
use super::trusted::Artifact;
use super::words::{printable, shortened};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::sync::OnceLock;
use std::thread;
use std::time::{Duration, Instant};
use wasmtime::Engine;

/// Compiles in this process; nothing limits it but the caps checked before.
///
/// The compiler shares its work out over threads. They are its own, and a thread that is in none of the caller's pools waits for
/// them: a worker of the caller's that waited here itself would meanwhile take up other work of its pool, which may wait for this
/// very module.
pub(super) fn here(module: &str, engine: &Engine, wasm: &[u8]) -> Result<Artifact, ModuleFailure> {
    let compile = || match workers() {
        Some(workers) => workers.install(|| engine.precompile_component(wasm)),
        None => engine.precompile_component(wasm),
    };
    let compiled = thread::scope(|scope| {
        let thread = thread::Builder::new().name("redtag-compile".to_owned()).spawn_scoped(scope, compile)?;
        thread.join().map_err(|_| io::Error::other("the compiler itself failed"))
    });
    let compiled = compiled.map_err(|error| ModuleFailure::internal(module, error))?;
    compiled.map(Artifact::compiled).map_err(|error| invalid(module, &format!("{error:#}")))
}

/// The threads of the compiler; without them it works on one.
fn workers() -> Option<&'static rayon::ThreadPool> {
    static WORKERS: OnceLock<Option<rayon::ThreadPool>> = OnceLock::new();
    let make = || rayon::ThreadPoolBuilder::new().thread_name(|number| format!("redtag-compile-{number}")).build().ok();
    WORKERS.get_or_init(make).as_ref()
}

/// Compiles in a child process.
pub(super) fn in_child(
    module: &str,
    program: &Path,
    tier: Tier,
    limits: &CompileLimits,
    wasm: &[u8],
) -> Result<Artifact, ModuleFailure> {
    let internal = |what: &str, error: io::Error| ModuleFailure::internal(module, format_args!("{what}: {error}"));
    let folder = tempfile::tempdir().map_err(|error| internal("no folder for compiling", error))?;
    let (input, output) = (folder.path().join("module.wasm"), folder.path().join("module.compiled"));
    fs::write(&input, wasm).map_err(|error| internal("the module could not be handed to the compiler", error))?;
    let child = start(program, tier, limits, &input, &output)
        .map_err(|error| internal(&format!("{} could not be started to compile it", program.display()), error))?;
    match Waiting(child).until(limits.wall_clock) {
        Ok(None) => Err(exceeded(module, CompileExcess::WallClock(limits.wall_clock))),
        Ok(Some(status)) if status.success() => {
            fs::read(&output).map(Artifact::compiled).map_err(|error| internal("the compiled module could not be read", error))
        }
        Ok(Some(status)) => Err(failed(module, limits, &output, status)),
        Err(error) => Err(internal("the compiler could not be waited for", error)),
    }
}

fn start(program: &Path, tier: Tier, limits: &CompileLimits, input: &Path, output: &PathBuf) -> io::Result<Child> {
    Command::new(program)
        .arg(COMMAND)
        .arg("--input")
        .arg(input)
        .arg("--output")
        .arg(output)
        .arg("--memory-bytes")
        .arg(limits.memory_bytes.to_string())
        .arg("--cpu-seconds")
        .arg(limits.cpu_seconds.to_string())
        .arg("--tier")
        .arg(tier.word())
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
}

/// A child that does not outlive the wait for it.
struct Waiting(Child);

impl Waiting {
    /// How it ended, or `None` when the time is over.
    fn until(&mut self, limit: Duration) -> io::Result<Option<ExitStatus>> {
        let end = Instant::now() + limit;
        let mut pause = Duration::from_millis(1);
        loop {
            if let Some(status) = self.0.try_wait()? {
                return Ok(Some(status));
            }
            let left = end.saturating_duration_since(Instant::now());
            if left.is_zero() {
                return Ok(None);
            }
            thread::sleep(pause.min(left));
            pause = (pause * 2).min(Duration::from_millis(20));
        }
    }
}

impl Drop for Waiting {
    fn drop(&mut self) {
        // Both fail only when it has ended already.
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// Names the end of a child that did not succeed. It leaves word when the module is wrong; without word it was cut short.
fn failed(module: &str, limits: &CompileLimits, output: &Path, status: ExitStatus) -> ModuleFailure {
    if let Ok(reason) = fs::read_to_string(reason_file(output)) {
        return invalid(module, &reason);
    }
    let excess = match ended_by_clock(status) {
        true => CompileExcess::Processor(limits.cpu_seconds),
        false => CompileExcess::Memory { limit: limits.memory_bytes, ended: status.to_string() },
    };
    exceeded(module, excess)
}

/// Whether the system ended it for its processor time: SIGXCPU at the limit, SIGKILL a second later (POSIX setrlimit; the
/// numbers are those of Linux and macOS, from memory of signal(7)).
#[cfg(unix)]
fn ended_by_clock(status: ExitStatus) -> bool {
    use std::os::unix::process::ExitStatusExt;
    matches!(status.signal(), Some(24 | 9))
}

#[cfg(not(unix))]
fn ended_by_clock(_status: ExitStatus) -> bool {
    false
}

fn exceeded(module: &str, exceeded: CompileExcess) -> ModuleFailure {
    ModuleFailure::CompileLimit { module: module.to_owned(), exceeded }
}

/// The compiler's words about a module.
pub(super) fn invalid(module: &str, reason: &str) -> ModuleFailure {
    ModuleFailure::Invalid { module: module.to_owned(), reason: shortened(&printable(reason), 1_000) }
}
