//! Helpers for the tests of rules.

use crate::module::describe_rule;
use crate::{Entry, Inquiry, Module, Rule};
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

/// Takes every fact of the named parts out of a house, one after the other, and holds the answers against those before: nothing
/// that was broken may comply, nothing may panic, no amount may be no number. Parts the module does not read are left out
/// first; so are facts named in `defaults`, which have a value where nothing is said. Answers how many findings were corrections before and how often one that complied became unresolved.
///
/// # Panics
/// When a fact that is gone cures something; the message says which.
pub fn missing_facts_never_cure(module: &Module, house: &Value, parts: &[&str], defaults: &[&str]) -> (usize, usize) {
    let house = read_parts(module, house);
    let before: BTreeMap<(&str, String), Outcome> =
        review(module, &house).into_iter().map(|(rule, found)| ((rule, about(&found)), found.outcome)).collect();
    let mut pointers = Vec::new();
    for part in parts {
        facts(&house[*part], &format!("/{part}"), &mut pointers);
    }
    pointers.retain(|pointer| !pointer.rsplit('/').next().is_some_and(|name| defaults.contains(&name)));
    let mut unresolved = 0;
    for pointer in &pointers {
        for (rule, found) in review(module, &without(&house, pointer)) {
            let was = before.get(&(rule, about(&found)));
            let cured = was == Some(&Outcome::Correction) && found.outcome == Outcome::Complies;
            assert!(!cured, "{rule} about {} complies without {pointer}", about(&found));
            unresolved += usize::from(found.outcome == Outcome::Unresolved && was == Some(&Outcome::Complies));
            let mut amounts = found.worksheet.iter().flat_map(|step| &step.text.amounts).chain(&found.summary.amounts);
            assert!(amounts.all(|amount| amount.si.is_finite()), "{rule} says what is no number without {pointer}");
        }
    }
    (before.values().filter(|outcome| **outcome == Outcome::Correction).count(), unresolved)
}

/// The house without the parts no rule of the module reads.
fn read_parts(module: &Module, house: &Value) -> Value {
    let reads = || module.entries.iter().flat_map(|entry| entry.rule.reads);
    let mut house = house.clone();
    if let Some(map) = house.as_object_mut() {
        map.retain(|name, _| name == "schema" || reads().any(|pointer| pointer[1..].split('/').next() == Some(name)));
    }
    house
}

fn review(module: &Module, house: &Value) -> Vec<(&'static str, Finding)> {
    let project: Project = serde_json::from_value(house.clone()).expect("the house of a test reads");
    let parameters = BTreeMap::new();
    let inquiry = Inquiry::new(&project, &parameters, Stage::Final, "2025-06-01");
    let of = |entry: &Entry| (entry.rule.check)(&inquiry).into_iter().map(|found| (entry.rule.id, found)).collect::<Vec<_>>();
    module.entries.iter().flat_map(of).collect()
}

fn about(found: &Finding) -> String {
    found.subject.id.clone().unwrap_or_else(|| found.subject.pointer.clone())
}

/// Pointers of everything that may be left out below a place.
fn facts(value: &Value, at: &str, into: &mut Vec<String>) {
    match value {
        Value::Object(map) => {
            for (name, inner) in map.iter().filter(|(name, _)| !["id", "kind", "x", "y"].contains(&name.as_str())) {
                into.push(format!("{at}/{name}"));
                facts(inner, &format!("{at}/{name}"), into);
            }
        }
        Value::Array(items) => items.iter().enumerate().for_each(|(index, inner)| facts(inner, &format!("{at}/{index}"), into)),
        _ => {}
    }
}

fn without(house: &Value, pointer: &str) -> Value {
    let mut house = house.clone();
    let place = pointer.rsplit_once('/').and_then(|(parent, name)| Some((house.pointer_mut(parent)?.as_object_mut()?, name)));
    if let Some((map, name)) = place {
        map.remove(name);
    }
    house
}
