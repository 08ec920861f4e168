//! The cases of packs, put to the modules the way projects are.

use super::Question;
use crate::document::{Limits, ProjectDocument, check_project_bytes};
use crate::modules::{Call, Library, Parts};
use redtag_schema::contract::{Finding, RuleInForce};
use redtag_schema::rulebook::Rulebook;
use std::collections::BTreeMap;

/// Answers the question of a case by the modules of a rulebook.
///
/// # Errors
/// In words: the project does not read, or a module failed.
pub fn by_modules(library: &Library, rulebook: &Rulebook, question: &Question) -> Result<Vec<Finding>, String> {
    let text = question.project.to_string();
    let document = read(&text)?;
    let mut findings = Vec::new();
    let parts = Parts::new(&document.canonical);
    for (module, rules) in by_module(rulebook, question) {
        let Question { stage, date, .. } = *question;
        let call = Call { rulebook, module, parts: &parts, stage, date, rules };
        findings.extend(call.make(library).map_err(|failure| failure.message)?);
    }
    Ok(findings)
}

/// The project of a case. Amounts and pairs of facts that a document would be refused for are let through: a rule has to answer
/// the stricter way by itself.
fn read(text: &str) -> Result<ProjectDocument, String> {
    let checked = check_project_bytes("the case's project", text.as_bytes(), &Limits::default());
    let refused = |one: &&crate::diagnostic::Diagnostic| one.is_error() && !one.code.is_about_the_facts();
    let words: Vec<String> = checked.complaints.iter().filter(refused).map(|one| one.one_line()).collect();
    checked.project.filter(|_| words.is_empty()).ok_or_else(|| words.join("; "))
}

fn by_module(rulebook: &Rulebook, question: &Question) -> BTreeMap<usize, BTreeMap<String, RuleInForce>> {
    let mut modules: BTreeMap<usize, BTreeMap<String, RuleInForce>> = BTreeMap::new();
    for (id, rule) in &question.rules {
        if let Some(entry) = rulebook.rule(id) {
            modules.entry(entry.module).or_default().insert(id.clone(), rule.clone());
        }
    }
    modules
}
