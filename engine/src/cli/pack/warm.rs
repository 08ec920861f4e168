//! `redtag pack warm`: optimised code made ahead.

use super::super::common::{BudgetOptions, PackOptions, SandboxChoices};
use super::super::ending::{Ending, Outcome};
use super::super::output;
use crate::session::{Session, Warmed};
use std::path::PathBuf;

/// Compile the modules of packs with every optimisation and keep the code, so that no later review runs the code of the quick
/// compiler: for the image of a build machine. A review does the same behind its back, once, at the lowest priority, unless
/// REDTAG_CACHE names the folder.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// Packs, folders or archives; default: the pack built into the program.
    packs: Vec<PathBuf>,
}

impl Arguments {
    /// Compiles what is not compiled yet.
    pub fn run(&self) -> Outcome {
        let options = PackOptions {
            packs: self.packs.clone(),
            as_of: None,
            trust: None,
            replace_model_code: false,
            lock: None,
            budgets: BudgetOptions::default(),
        };
        let session = Session::open(options.settings(&SandboxChoices { no_cache: false, no_answers: true }))?;
        let (compiled, ready, failures) = match session.warm(&self.packs)? {
            Warmed::Done { compiled, ready, failures } => (compiled, ready, failures),
            Warmed::Busy => {
                output::print("another redtag is compiling the modules just now\n")?;
                return Ok(Ending::Clean);
            }
        };
        let mut said = format!("compiled {compiled} modules; {ready} are ready\n");
        failures.iter().for_each(|failure| said.push_str(&format!("  {failure}\n")));
        output::print(&said)?;
        Ok(if failures.is_empty() { Ending::Clean } else { Ending::ModuleFailed })
    }
}
