//! The child process that compiles a module nobody vouches for: `redtag compile-module`, hidden, started by redtag itself. It
//! limits itself before it looks at the module, so a module made to exhaust the compiler ends this process and no other.

use super::settings;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use tempfile::NamedTempFile;

/// The name of the hidden command.
pub const COMMAND: &str = "compile-module";

/// Compiles one module under limits, for the redtag that started it.
#[derive(Debug, Clone, clap::Args)]
pub struct CompileModule {
    /// The module, a WebAssembly component.
    #[arg(long)]
    pub input: PathBuf,
    /// Where the machine code goes.
    #[arg(long)]
    pub output: PathBuf,
    /// Bytes of address space.
    #[arg(long)]
    pub memory_bytes: u64,
    /// Seconds of processor time.
    #[arg(long)]
    pub cpu_seconds: u64,
    /// How hard to try.
    #[arg(long, value_enum)]
    pub tier: settings::Tier,
}

impl CompileModule {
    /// Does it. What is wrong with the module is written beside the output, for the process that waits.
    pub fn run(&self) -> ExitCode {
        let compiled = self.compile().and_then(|code| write(&self.output, &code).map_err(|error| error.to_string()));
        match compiled {
            Ok(()) => ExitCode::SUCCESS,
            Err(reason) => {
                // Without the note the waiting process still sees that it failed.
                let _ = write(&reason_file(&self.output), reason.as_bytes());
                ExitCode::FAILURE
            }
        }
    }

    fn compile(&self) -> Result<Vec<u8>, String> {
        // Before the limits: the engine's settings follow the address space of the process that will run the code.
        let engine = settings::engine(self.tier).map_err(|error| format!("{error:#}"))?;
        self.limit_this_process().map_err(|error| format!("the limits of compiling could not be set: {error}"))?;
        let module = fs::read(&self.input).map_err(|error| error.to_string())?;
        engine.precompile_component(&module).map_err(|error| format!("{error:#}"))
    }

    #[cfg(unix)]
    fn limit_this_process(&self) -> io::Result<()> {
        use rlimit::Resource;
        lower(Resource::CORE, 0, 0)?;
        lower(Resource::CPU, self.cpu_seconds, self.cpu_seconds.saturating_add(1))?;
        // macOS knows this limit by name only; there the clock of the waiting process remains.
        let limited = lower(Resource::AS, self.memory_bytes, self.memory_bytes);
        if cfg!(target_os = "linux") { limited } else { Ok(()) }
    }

    #[cfg(not(unix))]
    fn limit_this_process(&self) -> io::Result<()> {
        // The clock of the waiting process is the limit here.
        Ok(())
    }
}

/// Sets a limit, never above the one already in force.
#[cfg(unix)]
fn lower(resource: rlimit::Resource, soft: u64, hard: u64) -> io::Result<()> {
    let (_, ceiling) = resource.get()?;
    resource.set(soft.min(ceiling), hard.min(ceiling))
}

/// Where the child leaves word of what is wrong with a module.
pub(super) fn reason_file(output: &Path) -> PathBuf {
    output.with_extension("reason")
}

fn write(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut file = NamedTempFile::new_in(folder)?;
    file.write_all(bytes)?;
    file.persist(path)?;
    Ok(())
}
