//! A pack's own cases, run.

use super::{Session, SessionError, day};
use crate::cases::{Question, by_modules, load, perturb, run_cases};
use crate::diagnostic::Diagnostic;
use crate::pack::Pack;
use crate::progress;
use crate::rulebook::Layers;
use anyhow::Context as _;
use redtag_schema::proof::Proof;
use std::path::PathBuf;
use std::sync::Arc;

/// Which cases are run, and how.
#[derive(Debug, Clone, Default)]
pub struct ProofOf {
    /// The pack, one of the session's; `None`: the lowest of its packs.
    pub pack: Option<PathBuf>,
    /// Only the cases of rules whose id holds this.
    pub rule: Option<String>,
    /// Whether every parameter is set to other values too, to name those whose value no case notices.
    pub perturb: bool,
}

/// What the cases of a pack came to.
#[derive(Debug)]
pub struct Proved {
    /// What became of each case.
    pub proof: Proof,
    /// What is wrong with case files.
    pub complaints: Vec<Diagnostic>,
}

impl Session {
    /// Runs the cases of a pack.
    ///
    /// # Errors
    /// Packs that cannot be used. What is wrong with cases is part of the answer.
    pub fn prove(&self, asked: &ProofOf) -> Result<Proved, SessionError> {
        let (date, _) = day::chosen(self.0.settings.as_of.as_deref(), None);
        let layers = self.0.shelf.layers(Vec::new(), None, &date)?;
        let rulebook = self.0.books.rulebook(&layers, &self.0.library)?;
        let pack = chosen(asked, &layers)?;
        let wanted = |rule: &str| asked.rule.as_deref().is_none_or(|words| rule.contains(words));
        let mut cases = load(pack, &rulebook);
        cases.cases.retain(|case| wanted(&case.rule));
        let answering = |question: &Question| by_modules(&self.0.library, &rulebook, question);
        let run = || {
            let mut proof = progress::during("running the cases", || run_cases(pack, &cases, &rulebook, &answering));
            proof.gaps.retain(|gap| wanted(&gap.rule));
            let nudge = || progress::during("trying other values of every parameter", || perturb(&cases, &rulebook, &answering));
            proof.unnoticed = asked.perturb.then(nudge);
            proof
        };
        let proof = self.0.workers.install(run);
        Ok(Proved { proof, complaints: cases.complaints })
    }
}

/// The pack that was named: the topmost of the layers, since nothing stands on it.
fn chosen<'a>(asked: &ProofOf, layers: &'a Layers) -> Result<&'a Arc<Pack>, SessionError> {
    let Some(path) = &asked.pack else { return Ok(layers.packs().first().context("there is no pack at hand")?) };
    let digest = Pack::open(path)?.digest().to_owned();
    let named = layers.packs().iter().find(|pack| pack.digest() == digest);
    Ok(named.with_context(|| format!("the pack in {} is not among the layers", path.display()))?)
}
