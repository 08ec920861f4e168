//! `redtag pack warm`: optimised code made ahead, by hand or behind a review.

use super::super::common::{SandboxChoices, chosen_cache};
use super::super::ending::{Ending, Outcome};
use super::super::{output, shelf};
use crate::modules::Library;
use crate::pack::{Origin, base_pack};
use std::fs::File;
use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::sync::Arc;

/// Compile the modules of packs with every optimisation and keep the code, so that no later review runs the code of the quick
/// compiler: for the image of a build machine. A review does the same behind its back, once, at the lowest priority, unless
/// REDTAG_CACHE names the folder.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// Packs, folders or archives; default: the pack built into the program.
    packs: Vec<PathBuf>,
}

/// The file that says that somebody is at it.
const AT_IT: &str = "warming";

impl Arguments {
    /// Compiles what is not compiled yet.
    pub fn run(&self) -> Outcome {
        let choices = SandboxChoices { no_cache: false, no_answers: true };
        let Some(store) = choices.store()? else {
            return Err(anyhow::anyhow!("there is no folder to keep compiled modules in; name one in REDTAG_CACHE").into());
        };
        let at_it = File::create(store.folder().join(AT_IT)).map_err(anyhow::Error::from)?;
        if at_it.try_lock().is_err() {
            output::print("another redtag is compiling the modules just now\n")?;
            return Ok(Ending::Clean);
        }
        let (opened, _) = shelf::open_all(&self.packs, None)?;
        let mut packs: Vec<_> = opened.into_iter().map(|one| one.pack).collect();
        if self.packs.is_empty() {
            packs.push(base_pack()?);
        }
        let library = choices.library()?;
        let (done, failures) = library.warm(&packs);
        let mut said = format!("compiled {done} modules; {} are ready\n", ready(&packs, failures.len()));
        failures.iter().for_each(|failure| said.push_str(&format!("  {failure}\n")));
        output::print(&said)?;
        Ok(if failures.is_empty() { Ending::Clean } else { Ending::ModuleFailed })
    }
}

fn ready(packs: &[Arc<crate::pack::Pack>], failed: usize) -> usize {
    packs.iter().map(|pack| pack.manifest().modules.len()).sum::<usize>().saturating_sub(failed)
}

/// Starts that command for the packs of a run whose modules have no optimised code yet. The run does not wait for it, and
/// whether it could be started makes no difference but time.
pub fn behind(library: &Library, choices: &SandboxChoices) {
    // A folder named by hand may be a test's or an image's; those ask for it when they want it.
    if choices.no_cache || chosen_cache().is_some() {
        return;
    }
    let origins = library.unoptimised();
    let Ok(program) = std::env::current_exe() else { return };
    let paths: Vec<&PathBuf> = origins
        .iter()
        .filter_map(|origin| match origin {
            Origin::Embedded => None,
            Origin::Folder(path) | Origin::Archive(path) => Some(path),
        })
        .collect();
    if origins.contains(&Origin::Embedded) {
        start(&program, &[]);
    }
    if !paths.is_empty() {
        start(&program, &paths);
    }
}

fn start(program: &PathBuf, packs: &[&PathBuf]) {
    // The utility of POSIX; where there is none the child runs at the usual priority.
    let mut calm = Command::new("nice");
    calm.args(["-n", "19"]).arg(program);
    for mut command in [calm, Command::new(program)] {
        command.args(["pack", "warm", "--"]).args(packs).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
        #[cfg(unix)]
        std::os::unix::process::CommandExt::process_group(&mut command, 0);
        if command.spawn().inspect_err(|error| tracing::debug!(%error, "no process to compile modules in")).is_ok() {
            return;
        }
    }
}
