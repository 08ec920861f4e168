//! Facts without effect: which fields of the schema change what some rule finds.

use crate::ask::{Family, ask};
use crate::guard::Asked;
use crate::shape::{Fact, Role, all_fields, facts, ids, values, with, without};
use redtag_rule::Rule;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

pub use crate::shape::Field;

/// In how many places a field is tried before it counts as one without effect.
const PLACES: usize = 8;

/// The fields that change a finding of the family somewhere: where one is left out or says something else.
pub(crate) fn fields_with_effect(family: &Family, asked: &[Asked]) -> BTreeSet<Field> {
    let (mut found, mut tried) = (BTreeSet::new(), BTreeMap::<Field, usize>::new());
    // Cases first: they are small, and each is about something.
    for one in asked.iter().rev() {
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
            let places = tried.entry(field.clone()).or_default();
            if rules.is_empty() || *places >= PLACES {
                continue;
            }
            *places += 1;
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

fn differs(project: &Value, fact: &Fact, ids: &BTreeMap<String, Vec<String>>, changes: impl Fn(Value) -> bool) -> bool {
    let Some(was) = project.pointer(&fact.pointer) else { return false };
    changes(without(project, fact)) || values(fact, was, ids).into_iter().skip(1).any(|value| changes(with(project, fact, value)))
}

/// Every field of the schema that is not marked as there for people alone, and those that are.
pub fn schema_fields() -> (BTreeSet<Field>, BTreeSet<Field>) {
    all_fields()
}
