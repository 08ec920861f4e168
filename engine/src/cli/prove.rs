//! `redtag prove`: a pack's own cases.

use super::common::{PackOptions, SandboxChoices, TextOrJson, json, style};
use super::ending::{Ending, Outcome, Stop};
use super::shelf::Shelf;
use super::{Terminal, day, output};
use crate::cases::{Cases, Question, by_modules, load, perturb, run_cases};
use crate::diagnostic::render_all;
use crate::modules::Library;
use crate::pack::Pack;
use crate::rulebook::{Layers, resolve};
use crate::{progress, report};
use anyhow::Context as _;
use redtag_schema::proof::Proof;
use redtag_schema::rulebook::Rulebook;
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
        let library = self.sandbox.library_without_answers()?;
        let rulebook = resolve(&layers, &library.descriptions(layers.packs()))?;
        let pack = self.chosen(&layers)?;
        let cases = self.cases(pack, &rulebook);
        let proof = self.prove(pack, &cases, &rulebook, &library);
        if !cases.complaints.is_empty() {
            let _ = std::io::stderr().write_all(render_all(&cases.complaints, terminal.complaints).as_bytes());
        }
        let text = match self.format {
            TextOrJson::Text => report::proof::render(&proof, &style(terminal, false)),
            TextOrJson::Json => json(&proof)?,
        };
        output::print(&text)?;
        Ok(ending(&cases, &proof))
    }

    /// The pack that was named: the topmost of the layers, since nothing stands on it.
    fn chosen<'a>(&self, layers: &'a Layers) -> Result<&'a Arc<Pack>, Stop> {
        let Some(path) = &self.pack else { return Ok(layers.packs().first().context("there is no pack at hand")?) };
        let digest = Pack::open(path)?.digest().to_owned();
        let named = layers.packs().iter().find(|pack| pack.digest() == digest);
        Ok(named.with_context(|| format!("the pack in {} is not among the layers", path.display()))?)
    }

    /// The cases that are wanted.
    fn cases(&self, pack: &Pack, rulebook: &Rulebook) -> Cases {
        let mut cases = load(pack, rulebook);
        cases.cases.retain(|case| self.wanted(&case.rule));
        cases
    }

    fn wanted(&self, rule: &str) -> bool {
        self.rule.as_deref().is_none_or(|words| rule.contains(words))
    }

    fn prove(&self, pack: &Pack, cases: &Cases, rulebook: &Rulebook, library: &Library) -> Proof {
        let answering = |question: &Question| by_modules(library, rulebook, question);
        let mut proof = progress::during("running the cases", || run_cases(pack, cases, rulebook, &answering));
        proof.gaps.retain(|gap| self.wanted(&gap.rule));
        let nudge = || progress::during("trying other values of every parameter", || perturb(cases, rulebook, &answering));
        proof.unnoticed = self.perturb.then(nudge);
        proof
    }
}

fn ending(cases: &Cases, proof: &Proof) -> Ending {
    let unnoticed = proof.unnoticed.as_ref().is_some_and(|list| !list.is_empty());
    if !proof.failures.is_empty() {
        Ending::ModuleFailed
    } else if !cases.could_be_read() {
        Ending::Wrong
    } else if unnoticed || !proof.holds() {
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
