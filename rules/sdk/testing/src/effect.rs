//! Facts without effect: which fields of the schema change what some rule finds.

use crate::ask::{Family, ask};
use crate::guard::Asked;
use crate::shape::{Fact, Role, all_fields, facts, ids, values, with, without};
use redtag_rule::Rule;
use serde_json::Value;
use std::collections::BTreeSet;

pub use crate::shape::Field;

/// The fields that change a finding of the family somewhere: where one is left out or says something else.
pub(crate) fn fields_with_effect(family: &Family, asked: &[Asked]) -> BTreeSet<Field> {
    let mut found = BTreeSet::new();
    for one in asked {
        let ids = ids(&one.project);
        let said = |project: Value, rules: &[&'static Rule]| {
            let project = (family.module.read)(project).ok()?;
            let answers = |rule: &&'static Rule| ask(rule, &project, &one.parameters, one.stage, one.day.as_deref());
            serde_json::to_string(&rules.iter().map(answers).collect::<Vec<_>>()).ok()
        };
        let mut before: Vec<(Vec<&'static str>, Option<String>)> = Vec::new();
        for fact in facts(&one.project).into_iter().filter(|fact| fact.role == Role::Field) {
            let Some(field) = fact.field().filter(|field| !found.contains(field)) else { continue };
            let rules: Vec<&'static Rule> =
                one.rules.iter().copied().filter(|rule| crate::guard::reads(rule, &fact.pointer)).collect();
            if rules.is_empty() {
                continue;
            }
            let names: Vec<&'static str> = rules.iter().map(|rule| rule.id).collect();
            let as_it_is = match before.iter().find(|(known, _)| *known == names) {
                Some((_, said)) => said.clone(),
                None => {
                    let now = said(one.project.clone(), &rules);
                    before.push((names, now.clone()));
                    now
                }
            };
            if differs(&one.project, &fact, &ids, |project| said(project, &rules) != as_it_is) {
                found.insert(field);
            }
        }
    }
    found
}

fn differs(
    project: &Value,
    fact: &Fact,
    ids: &std::collections::BTreeMap<String, Vec<String>>,
    changes: impl Fn(Value) -> bool,
) -> bool {
    let Some(was) = project.pointer(&fact.pointer) else { return false };
    changes(without(project, fact)) || values(fact, was, ids).into_iter().skip(1).any(|value| changes(with(project, fact, value)))
}

/// Every field of the schema that is not marked as there for people alone, and those that are.
pub fn schema_fields() -> (BTreeSet<Field>, BTreeSet<Field>) {
    all_fields()
}
