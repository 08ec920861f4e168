//! Helpers for the tests of rules.

use crate::module::describe_rule;
use crate::{Inquiry, Module, Rule};
use redtag_schema::contract::{Finding, Outcome, ParameterKind, RuleDescription, Stage};
use redtag_schema::project::Project;
use serde_json::Value;
use std::collections::BTreeMap;

/// Runs a rule with its default parameters on a project written as its author writes it, at the final stage.
///
/// # Panics
/// When the project does not read as one: the test is wrong.
pub fn findings(rule: &Rule, project: Value) -> Vec<Finding> {
    findings_with(rule, project, &[])
}

/// The same with parameters set, each written as the canonical form asks.
///
/// # Panics
/// When the project does not read as one: the test is wrong.
pub fn findings_with(rule: &Rule, project: Value, set: &[(&str, Value)]) -> Vec<Finding> {
    let project: Project = serde_json::from_value(project).expect("the project of a test reads");
    let parameters: BTreeMap<String, Value> = set.iter().map(|(name, value)| ((*name).to_owned(), value.clone())).collect();
    (rule.check)(&Inquiry::new(&project, &parameters, Stage::Final, "2025-01-01"))
}

/// The outcomes of findings, by subject id.
pub fn outcomes(findings: &[Finding]) -> Vec<(&str, Outcome)> {
    findings.iter().map(|finding| (finding.subject.id.as_deref().unwrap_or(&finding.subject.pointer), finding.outcome)).collect()
}

/// What every module promises: each rule is named after its file, explained, cited, sure of its parameters, and has cases.
///
/// # Panics
/// When a rule breaks a promise; the message says which.
pub fn assert_whole(module: &Module) {
    let mut ids: Vec<&str> = module.entries.iter().map(|entry| entry.rule.id).collect();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), module.entries.len(), "two rules of {} share an id", module.name);
    for entry in module.entries {
        let rule = entry.rule;
        let expected = format!("{}/{}", module.name, entry.file.replace('_', "-"));
        assert_eq!(rule.id, expected, "a rule is named after its module and file");
        assert!(entry.purpose.len() > 80, "{expected}: the doc comment of the file is the product text and says too little");
        assert!(!entry.cases.is_empty(), "{expected}: there is no case file {}.md beside the rule", entry.file);
        assert!(!rule.citations.is_empty(), "{expected} cites nothing");
        assert!(!rule.reads.is_empty(), "{expected} reads nothing");
        assert!(rule.reads.iter().all(|pointer| pointer.starts_with('/')), "{expected} reads something that is no JSON pointer");
        assert!(!rule.stages.is_empty(), "{expected} is asked at no stage");
        assert_parameters(rule);
    }
    assert_figures(module);
}

/// A value several rules read is one figure, and one figure is the same in all of them: a county that sets it in one place must
/// not leave it standing in another.
fn assert_figures(module: &Module) {
    let rules: Vec<RuleDescription> = module.entries.iter().map(|entry| describe_rule(module.name, entry)).collect();
    let all = || rules.iter().flat_map(|rule| rule.parameters.iter().map(move |parameter| (rule.id.as_str(), parameter)));
    for (rule, parameter) in all() {
        let mut twins = all().filter(|(other, twin)| {
            *other > rule && twin.name == parameter.name && twin.purpose == parameter.purpose && twin.default == parameter.default
        });
        let alone = twins.find(|(_, twin)| twin.figure.is_none() || parameter.figure.is_none());
        let name = &parameter.name;
        assert!(
            alone.is_none(),
            "{rule} and {} both read {name}: declare it once for the family and say `.figure()`, or say in its purpose what \
             tells them apart",
            alone.map_or("", |(other, _)| other)
        );
        let others = all().filter(|(_, other)| parameter.figure.is_some() && other.figure == parameter.figure);
        for (other, twin) in others {
            assert_eq!(twin, parameter, "{rule} and {other} say different things of the figure {name}");
        }
    }
}

fn assert_parameters(rule: &Rule) {
    for parameter in rule.parameters {
        let described = parameter.describe();
        let name = format!("{} parameter {}", rule.id, described.name);
        assert!(!described.source.is_empty() && described.purpose.len() > 10, "{name} says too little");
        if let ParameterKind::Quantity(kind) = described.kind {
            for words in [Some(&described.default), described.least.as_ref(), described.most.as_ref()].into_iter().flatten() {
                let read = kind.parse(words.as_str().unwrap_or_default());
                assert!(read.is_ok(), "{name}: {words} does not read: {read:?}");
            }
        }
        let words = described.default.as_array().cloned().unwrap_or_else(|| vec![described.default.clone()]);
        if matches!(described.kind, ParameterKind::Choice | ParameterKind::Choices) {
            let known = |word: &Value| described.choices.iter().any(|choice| Some(choice.as_str()) == word.as_str());
            assert!(words.iter().all(known), "{name}: the default is none of the choices");
        }
    }
}
