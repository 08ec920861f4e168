//! `redtag prove`: a pack's own cases.

use super::common::{PackOptions, SandboxChoices, TextOrJson, json, style};
use super::ending::{Ending, Outcome};
use super::{Terminal, output};
use crate::session::{Diagnostic, ProofOf, Proved, Session, render_all};
use redtag_report as report;
use std::io::Write as _;
use std::path::PathBuf;

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
        let mut settings = self.packs.settings(&self.sandbox);
        settings.packs.extend(self.pack.clone());
        // What is proved is named, and judges no house.
        settings.replace_model_code = true;
        // A case is seldom asked twice.
        settings.keep = settings.keep.without_answers();
        let session = Session::open(settings)?;
        let asked = ProofOf { pack: self.pack.clone(), rule: self.rule.clone(), perturb: self.perturb };
        let Proved { proof, complaints } = session.prove(&asked)?;
        if !complaints.is_empty() {
            let _ = std::io::stderr().write_all(render_all(&complaints, terminal.complaints).as_bytes());
        }
        let text = match self.format {
            TextOrJson::Text => report::proof::render(&proof, &style(terminal, false)),
            TextOrJson::Json => json(&proof)?,
        };
        output::print(&text)?;
        let unnoticed = proof.unnoticed.as_ref().is_some_and(|list| !list.is_empty());
        Ok(if !proof.failures.is_empty() {
            Ending::ModuleFailed
        } else if complaints.iter().any(Diagnostic::is_error) {
            Ending::Wrong
        } else if unnoticed || !proof.holds() {
            Ending::Corrections
        } else {
            Ending::Clean
        })
    }
}
