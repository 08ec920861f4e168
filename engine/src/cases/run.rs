//! Runs cases: each asks its rule, and any other rule it expects findings of.

use super::differ::differences;
use super::{Case, Cases};
use crate::pack::Pack;
use rayon::iter::{IntoParallelRefIterator as _, ParallelIterator as _};
use redtag_schema::contract::{Finding, RuleInForce, Stage};
use redtag_schema::proof::{CaseKind, CaseResult, Gap, Proof};
use redtag_schema::rulebook::Rulebook;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// What a case asks.
#[derive(Debug, Clone)]
pub struct Question<'a> {
    /// The project as its author writes it.
    pub project: &'a Value,
    /// The rules asked about, by id, with their parameters.
    pub rules: BTreeMap<String, RuleInForce>,
    /// What can be known at this moment.
    pub stage: Stage,
    /// The day, `YYYY-MM-DD`.
    pub date: &'a str,
}

/// What answers the questions of cases: the findings of the rules asked about, as their modules answer them; or, in words, that
/// the project does not read or a module failed.
pub type Answering<'a> = dyn Fn(&Question) -> Result<Vec<Finding>, String> + Sync + 'a;

/// Runs every case of a pack. Parameters that no case notices are for [`super::perturb`] to find.
pub fn run_cases(pack: &Pack, cases: &Cases, rulebook: &Rulebook, answering: &Answering) -> Proof {
    let results = cases.cases.par_iter().map(|case| CaseResult {
        rule: case.rule.clone(),
        kind: case.kind,
        title: case.title.clone(),
        file: case.span.file.name().to_owned(),
        line: case.span.start().line,
        differences: try_case(case, rulebook, answering, None),
    });
    Proof {
        pack: pack.name().to_owned(),
        version: pack.version().to_string(),
        results: results.collect(),
        gaps: gaps(pack, cases, rulebook),
        unnoticed: None,
        failures: rulebook.failures.clone(),
    }
}

/// The rules of the pack's own modules, and which kinds of cases each lacks.
fn gaps(pack: &Pack, cases: &Cases, rulebook: &Rulebook) -> Vec<Gap> {
    let own = rulebook.rules.iter().filter(|rule| rule.shipped_by.pack == pack.name());
    let gap = own.map(|rule| {
        let id = &rule.description.id;
        let there: BTreeSet<CaseKind> = cases.cases.iter().filter(|case| case.rule == *id).map(|case| case.kind).collect();
        Gap { rule: id.clone(), kinds: CaseKind::EXPECTED.into_iter().filter(|kind| !there.contains(kind)).collect() }
    });
    gap.filter(|gap| !gap.kinds.is_empty()).collect()
}

/// Runs a case, with one parameter of its rule set to another value where that is asked; answers the differences.
pub(super) fn try_case(case: &Case, rulebook: &Rulebook, answering: &Answering, nudged: Option<(&str, &Value)>) -> Vec<String> {
    let stage = case.setting.stage.unwrap_or(Stage::Final);
    let mut rules = BTreeMap::new();
    let others = case.expected.iter().filter_map(|(expected, _)| expected.rule.as_deref());
    for id in std::iter::once(case.rule.as_str()).chain(others) {
        let Some(entry) = rulebook.rule(id).filter(|entry| entry.description.stages.contains(&stage)) else { continue };
        let mut request = entry.request();
        if id == case.rule {
            request.parameters.extend(case.parameters.clone());
            request.parameters.extend(nudged.map(|(name, value)| (name.to_owned(), value.clone())));
        }
        rules.insert(id.to_owned(), request);
    }
    let date = case.setting.date.as_deref().unwrap_or(&rulebook.date);
    // A rule that is not asked at the stage finds nothing.
    let answered =
        if rules.is_empty() { Ok(Vec::new()) } else { answering(&Question { project: &case.project, rules, stage, date }) };
    match answered {
        Ok(found) => differences(&case.rule, &case.expected, &settled(found, rulebook)),
        Err(failure) => vec![format!("the case could not be run: {failure}")],
    }
}

/// The findings at the levels their rules have in the rulebook.
fn settled(mut found: Vec<Finding>, rulebook: &Rulebook) -> Vec<Finding> {
    for finding in &mut found {
        if let Some(rule) = rulebook.rule(&finding.rule) {
            finding.outcome = rule.settle(finding.outcome);
        }
    }
    found
}
