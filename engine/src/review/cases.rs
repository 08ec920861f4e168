//! The cases of packs, put to the modules the way projects are.

use super::library::Library;
use super::schedule::Call;
use crate::document::{Limits, read_project_bytes};
use crate::pack::Rulebook;
use crate::pack::cases::{Question, Report, Runner, Unnoticed};
use redtag_schema::contract::{Finding, RuleInForce};
use redtag_schema::review::Failure;
use serde::Serialize;
use std::collections::BTreeMap;

/// What the cases of a pack come to.
#[derive(Debug, Serialize)]
pub struct Proof {
    /// The pack.
    pub pack: String,
    /// Its version.
    pub version: String,
    /// The cases.
    #[serde(flatten)]
    pub report: Report,
    /// The parameters no case notices, where that was asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unnoticed: Option<Vec<Unnoticed>>,
    /// Modules that failed before any case was run.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub failures: Vec<Failure>,
}

/// Answers the questions of cases by the modules of a rulebook.
pub struct CaseRunner<'a> {
    /// Where the modules are.
    pub library: &'a Library,
    /// The rulebook the cases are held against.
    pub rulebook: &'a Rulebook,
}

impl Runner for CaseRunner<'_> {
    fn run(&self, question: &Question) -> Result<Vec<Finding>, String> {
        let text = question.project.to_string();
        let document = read_project_bytes("the case's project", text.as_bytes(), &Limits::default())
            .map_err(|complaints| complaints.iter().map(|one| one.one_line()).collect::<Vec<_>>().join("; "))?;
        let mut findings = Vec::new();
        for (module, rules) in self.by_module(question) {
            let Question { stage, date, .. } = *question;
            let call = Call { rulebook: self.rulebook, module, project: &document.canonical, stage, date, rules };
            findings.extend(call.make(self.library).map_err(|failure| failure.message)?);
        }
        Ok(findings)
    }
}

impl CaseRunner<'_> {
    fn by_module(&self, question: &Question) -> BTreeMap<usize, BTreeMap<String, RuleInForce>> {
        let mut modules: BTreeMap<usize, BTreeMap<String, RuleInForce>> = BTreeMap::new();
        for (id, rule) in &question.rules {
            if let Some(entry) = self.rulebook.rule(id) {
                modules.entry(entry.module).or_default().insert(id.clone(), rule.clone());
            }
        }
        modules
    }
}
