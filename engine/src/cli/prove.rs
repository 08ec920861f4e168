//! `redtag prove`: a pack's own cases.

use super::common::{PackOptions, SandboxChoices, TextOrJson, json, style};
use super::ending::{Ending, Outcome, Stop};
use super::shelf::Shelf;
use super::{Terminal, day, output};
use crate::diagnostic::{Diagnostic, render_all};
use crate::pack::cases::{Cases, load, perturb, run_cases};
use crate::pack::{Layers, Pack, Rulebook, rulebook};
use crate::review::{CaseRunner, Library, Proof};
use crate::{progress, report};
use anyhow::Context as _;
use std::io::Write as _;
use std::path::PathBuf;
use std::sync::Arc;

/// Run the cases of a pack.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The built pack, its folder or archive; default: the pack built into the program.
    pack: Option<PathBuf>,
    #[command(flatten)]
    packs: PackOptions,
    /// Only the cases of rules whose id holds this.
    #[arg(long, value_name = "WORDS")]
    rule: Option<String>,
    /// Also set every parameter to other values and name those whose value no case notices.
    #[arg(long)]
    perturb: bool,
    /// For people or for programs.
    #[arg(long, value_enum, default_value = "text")]
    format: TextOrJson,
    #[command(flatten)]
    sandbox: SandboxChoices,
}

impl Arguments {
    /// Runs the cases and prints what became of them.
    pub fn run(&self, terminal: Terminal) -> Outcome {
        let mut options = self.packs.clone();
        options.packs.extend(self.pack.clone());
        let shelf = Shelf::open(&options)?;
        let (date, _) = day::chosen(options.as_of.as_deref(), None);
        let layers = shelf.layers(Vec::new(), None, &date)?;
        let library = Library::new(self.sandbox.sandbox()?);
        library.load_all(layers.packs());
        let rulebook = rulebook(&layers, &library)?;
        let proof = self.prove(self.chosen(&layers)?, &rulebook, &library);
        if !proof.report.complaints.is_empty() {
            let _ = std::io::stderr().write_all(render_all(&proof.report.complaints, terminal.complaints).as_bytes());
        }
        let text = match self.format {
            TextOrJson::Text => report::proof::render(&proof, &style(terminal, false)),
            TextOrJson::Json => json(&proof)?,
        };
        output::print(&text)?;
        Ok(ending(&proof))
    }

    /// The pack that was named: the topmost of the layers, since nothing stands on it.
    fn chosen<'a>(&self, layers: &'a Layers) -> Result<&'a Arc<Pack>, Stop> {
        let Some(path) = &self.pack else { return Ok(layers.packs().first().context("there is no pack at hand")?) };
        let digest = Pack::open(path)?.digest().to_owned();
        let named = layers.packs().iter().find(|pack| pack.digest() == digest);
        Ok(named.with_context(|| format!("the pack in {} is not among the layers", path.display()))?)
    }

    fn prove(&self, pack: &Pack, rulebook: &Rulebook, library: &Library) -> Proof {
        let mut cases = load(pack, rulebook);
        let wanted = |rule: &str| self.rule.as_deref().is_none_or(|words| rule.contains(words));
        cases.cases.retain(|case| wanted(&case.rule));
        let runner = CaseRunner { library, rulebook };
        let mut report = progress::during("running the cases", || run_cases(pack, &cases, rulebook, &runner));
        report.gaps.retain(|gap| wanted(&gap.rule));
        let nudge = || progress::during("trying other values of every parameter", || perturb(&cases, rulebook, &runner));
        Proof {
            pack: pack.name().to_owned(),
            version: pack.version().to_string(),
            report,
            unnoticed: self.perturb.then(nudge),
            failures: rulebook.failures.clone(),
        }
    }
}

fn ending(proof: &Proof) -> Ending {
    let unnoticed = proof.unnoticed.as_ref().is_some_and(|list| !list.is_empty());
    if !proof.failures.is_empty() {
        Ending::ModuleFailed
    } else if proof.report.complaints.iter().any(Diagnostic::is_error) {
        Ending::Wrong
    } else if unnoticed || !proof.report.holds() {
        Ending::Corrections
    } else {
        Ending::Clean
    }
}

/// What the cases of a rule show, in words, in all layers.
pub fn titles(layers: &Layers, rulebook: &Rulebook, rule: &str) -> Vec<String> {
    let all: Vec<Cases> = layers.packs().iter().map(|pack| load(pack, rulebook)).collect();
    let cases = all.iter().flat_map(|cases| &cases.cases).filter(|case| case.rule == rule);
    cases.map(|case| format!("{}: {}", case.kind, case.title)).collect()
}
