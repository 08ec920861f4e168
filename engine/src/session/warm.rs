//! Optimised code made ahead, by hand or behind a review.

use super::{Session, SessionError};
use crate::pack::{Origin, Pack, base_pack};
use std::fs::File;
use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::sync::Arc;

/// The file that says that somebody is at it.
const AT_IT: &str = "warming";

/// What compiling ahead came to.
#[derive(Debug)]
pub enum Warmed {
    /// Another process is at it.
    Busy,
    /// It was done.
    Done {
        /// How many modules were compiled now.
        compiled: usize,
        /// How many are ready.
        ready: usize,
        /// What became of the others, a line each.
        failures: Vec<String>,
    },
}

impl Session {
    /// Compiles the modules of packs with every optimisation and keeps the code; without packs, those of the pack built into the
    /// program.
    ///
    /// # Errors
    /// Packs that cannot be opened, or no folder to keep the code in.
    pub fn warm(&self, paths: &[PathBuf]) -> Result<Warmed, SessionError> {
        let nowhere = || anyhow::anyhow!("there is no folder to keep compiled modules in; name one in REDTAG_CACHE");
        let store = self.0.settings.store()?.ok_or_else(nowhere)?;
        let at_it = File::create(store.folder().join(AT_IT)).map_err(anyhow::Error::from)?;
        if at_it.try_lock().is_err() {
            return Ok(Warmed::Busy);
        }
        let (opened, _) = super::shelf::open_all(paths, None)?;
        let mut packs: Vec<Arc<Pack>> = opened.into_iter().map(|one| one.pack).collect();
        if paths.is_empty() {
            packs.push(base_pack()?);
        }
        let (compiled, failures) = self.0.library.warm(&packs);
        let modules: usize = packs.iter().map(|pack| pack.manifest().modules.len()).sum();
        let failures: Vec<String> = failures.iter().map(ToString::to_string).collect();
        Ok(Warmed::Done { compiled, ready: modules.saturating_sub(failures.len()), failures })
    }

    /// Starts the same in a process of its own, for the packs of this session whose modules have no optimised code yet. Nobody
    /// waits for it, and whether it could be started makes no difference but time.
    pub fn warm_behind(&self) {
        let origins = self.0.library.unoptimised();
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
