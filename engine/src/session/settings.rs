//! What a session is opened with.

use super::error::SessionError;
use crate::document::Limits;
use crate::modules::{KeptAnswers, Library};
use crate::review::Budget;
use crate::sandbox::child::{COMMAND, CompileModule};
use crate::sandbox::{Compiler, Sandbox, SandboxOptions};
use crate::store::{Secret, Store};
use clap::Parser as _;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

/// What a session is opened with. The default reviews by the pack built into the program and by the packs that lie beside each
/// project, keeps nothing on disk, obeys the lock files it finds, and compiles modules nobody vouches for in a child process.
#[derive(Debug, Clone, Default)]
pub struct Settings {
    /// Packs to review by, each a folder or an archive, or folders of packs in which those are looked for that a project names.
    pub packs: Vec<PathBuf>,
    /// The day whose law is asked about, `YYYY-MM-DD`, instead of each project's application date.
    pub as_of: Option<String>,
    /// A file of allowed signers: every pack without a signature of one of them is refused.
    pub trust: Option<PathBuf>,
    /// Whether a pack may take the place of the model code built into the program by calling itself by its name.
    pub replace_model_code: bool,
    /// The lock file that governs every project, instead of the one found beside or above each.
    pub lock: Option<PathBuf>,
    /// What is kept between sessions, and where.
    pub keep: Keep,
    /// Whether a session is opened all the same where nothing can be kept there; the log says so then.
    pub keep_is_optional: bool,
    /// The file with the key by which what is kept is known again; `None`: one of the user's own, outside every checkout.
    pub key: Option<PathBuf>,
    /// How many modules run at once; `None` is one for each processor.
    pub workers: Option<usize>,
    /// How much of a document is taken in.
    pub limits: Limits,
    /// How much a run may use up.
    pub budgets: Budgets,
    /// The program that compiles modules nobody vouches for; see [`serve_compiling`].
    pub compiler: Option<PathBuf>,
}

/// How much a run may use up, beyond what each document and each call of a module may.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Budgets {
    /// Bytes of all project files that are worked on at one time; a larger one is worked on alone.
    pub held_bytes: u64,
    /// How much each module may say about one project.
    pub said: Budget,
    /// How long compiling and describing the modules nobody vouches for may take in a run, all of them together.
    pub preparing: Duration,
}

impl Default for Budgets {
    fn default() -> Self {
        Self { held_bytes: 1 << 20, said: Budget::default(), preparing: Duration::from_secs(40) }
    }
}

/// The largest project that is read, in bytes: a house with all its rooms takes some hundred thousand.
pub const PROJECT_BYTES: u64 = 1 << 20;

/// What is kept between sessions. Within one, everything is kept in memory but answers where only compiled modules are asked for.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub enum Keep {
    /// Nothing.
    #[default]
    Nothing,
    /// Compiled modules, in this folder, which is made private to the user.
    Compiled(PathBuf),
    /// Compiled modules and their answers.
    CompiledAndAnswers(PathBuf),
}

impl Keep {
    /// The same without answers.
    #[must_use]
    pub fn without_answers(self) -> Self {
        match self {
            Self::Nothing => Self::Nothing,
            Self::Compiled(folder) | Self::CompiledAndAnswers(folder) => Self::Compiled(folder),
        }
    }

    fn folder(&self) -> Option<&Path> {
        match self {
            Self::Nothing => None,
            Self::Compiled(folder) | Self::CompiledAndAnswers(folder) => Some(folder),
        }
    }
}

/// The program a session starts when it has to compile a module nobody vouches for, where [`serve_compiling`] was not called.
const INSTALLED: &str = "redtag";

static SERVES: AtomicBool = AtomicBool::new(false);

/// Lets this program compile rule modules for itself. To be called first of all in `main` by a program that embeds redtag and
/// reviews by packs that are not its own: a session starts the program anew, under limits, to compile a module nobody vouches
/// for, and this function then does it and answers with the code to end with. Without it the installed `redtag` is started.
#[must_use = "when it answers, the program has done what it was started for"]
pub fn serve_compiling() -> Option<ExitCode> {
    /// The arguments of the hidden command.
    #[derive(Debug, clap::Parser)]
    struct Child {
        #[command(flatten)]
        module: CompileModule,
    }
    SERVES.store(true, Ordering::Relaxed);
    let mut arguments = std::env::args_os().skip(1);
    if arguments.next()? != COMMAND {
        return None;
    }
    let name = std::ffi::OsString::from(COMMAND);
    match Child::try_parse_from(std::iter::once(name).chain(arguments)) {
        Ok(child) => Some(child.module.run()),
        Err(_) => Some(ExitCode::from(2)),
    }
}

impl Settings {
    fn compiling_program(&self) -> PathBuf {
        let this = || SERVES.load(Ordering::Relaxed).then(std::env::current_exe)?.ok();
        self.compiler.clone().or_else(this).unwrap_or_else(|| INSTALLED.into())
    }

    /// Where things are kept between sessions; nowhere where that is not asked for or cannot be had.
    pub(super) fn store(&self) -> Result<Option<Arc<Store>>, SessionError> {
        let Some(folder) = self.keep.folder().map(|folder| folder.join("kept")) else { return Ok(None) };
        let secret = match self.secret() {
            Ok(secret) => secret,
            Err(error) => {
                tracing::warn!("nothing is kept for the next run, because there is no key to know it again by: {error}");
                return Ok(None);
            }
        };
        match Store::open(&folder, secret) {
            Ok(store) => Ok(Some(Arc::new(store))),
            Err(error) => {
                let words = format!("nothing can be kept for the next run in {}: {error}", folder.display());
                if !self.keep_is_optional {
                    return Err(anyhow::anyhow!("{words}. Name another folder, or keep nothing").into());
                }
                tracing::warn!("{words}");
                Ok(None)
            }
        }
    }

    /// The key under which this user's entries are kept. It does not lie where they do: that folder may be restored from
    /// elsewhere.
    fn secret(&self) -> std::io::Result<Secret> {
        if let Some(file) = &self.key {
            return Secret::of_file(file);
        }
        match directories::ProjectDirs::from("", "", "redtag") {
            Some(folders) => Secret::of_file(&folders.data_local_dir().join("cache.key")),
            None => Err(std::io::Error::other("this user has no folder of their own for the key of what is kept")),
        }
    }

    /// The modules of a session, with what is kept of them.
    pub(super) fn library(&self) -> Result<Library, SessionError> {
        let store = self.store()?;
        let answers = match self.keep {
            Keep::Nothing => Some(KeptAnswers::new(None)),
            Keep::Compiled(_) => None,
            Keep::CompiledAndAnswers(_) => Some(KeptAnswers::new(store.clone())),
        };
        let compiler = Compiler::Child(self.compiling_program());
        let sandbox = Sandbox::new(SandboxOptions { store: store.clone(), compiler, ..SandboxOptions::default() });
        Ok(Library::new(sandbox).describing_from(store).keeping(answers).preparing_within(self.budgets.preparing))
    }
}
