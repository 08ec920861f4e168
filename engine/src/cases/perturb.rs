//! Whether the cases would notice a parameter that is read wrongly, or not at all: each is nudged both ways, and some case
//! must then no longer find what it expects.

use super::run::{Answering, try_case};
use super::{Case, Cases};
use rayon::iter::{IntoParallelIterator as _, IntoParallelRefIterator as _, ParallelIterator as _};
use redtag_schema::contract::{ParameterDescription, ParameterKind, value_words};
use redtag_schema::proof::Unnoticed;
use redtag_schema::quantity::{Kind, System};
use redtag_schema::rulebook::{RuleEntry, Rulebook};
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// How far a number is nudged, up and down.
const FACTOR: f64 = 1.5;

/// Nudges every parameter of every rule that has cases, within the range it may have. Cases that do not hold as they are do not
/// count.
pub fn perturb(cases: &Cases, rulebook: &Rulebook, answering: &Answering) -> Vec<Unnoticed> {
    let holding: Vec<&Case> =
        cases.cases.par_iter().filter(|case| try_case(case, rulebook, answering, None).is_empty()).collect();
    let rules: BTreeSet<&str> = cases.cases.iter().map(|case| case.rule.as_str()).collect();
    let pairs: Vec<(&RuleEntry, &ParameterDescription)> = rules
        .into_iter()
        .filter_map(|id| rulebook.rule(id))
        .flat_map(|rule| rule.description.parameters.iter().map(move |parameter| (rule, parameter)))
        .collect();
    pairs.into_par_iter().filter_map(|(rule, parameter)| unnoticed(rule, parameter, &holding, rulebook, answering)).collect()
}

fn unnoticed(
    rule: &RuleEntry,
    parameter: &ParameterDescription,
    holding: &[&Case],
    rulebook: &Rulebook,
    answering: &Answering,
) -> Option<Unnoticed> {
    let value = &rule.parameters.iter().find(|entry| entry.name == parameter.name)?.value;
    let mut tried = BTreeSet::new();
    for case in holding.iter().filter(|case| case.rule == rule.description.id) {
        for nudged in nudges(parameter, case.parameters.get(&parameter.name).unwrap_or(value)) {
            if !try_case(case, rulebook, answering, Some((&parameter.name, &nudged))).is_empty() {
                return None;
            }
            tried.insert(value_words(&nudged));
        }
    }
    Some(Unnoticed {
        rule: rule.description.id.clone(),
        parameter: parameter.name.clone(),
        value: value_words(value),
        tried: tried.into_iter().collect(),
    })
}

/// Other values the parameter may have, in canonical form.
fn nudges(parameter: &ParameterDescription, value: &Value) -> Vec<Value> {
    match parameter.kind {
        ParameterKind::Quantity(kind) => numbers(value.get("si"), |bound| bound_of(kind, bound), parameter)
            .into_iter()
            .filter(|si| *si >= 0.0 || kind.may_be_negative())
            .map(|si| json!({ "si": si, "unit": kind.si_unit(), "written": kind.print(si, System::UsCustomary, None) }))
            .collect(),
        ParameterKind::Number => numbers(Some(value), Value::as_f64, parameter).into_iter().map(Value::from).collect(),
        ParameterKind::Flag => value.as_bool().map(|flag| Value::Bool(!flag)).into_iter().collect(),
        ParameterKind::Choice => {
            let others = parameter.choices.iter().map(|choice| json!(choice));
            others.filter(|choice| choice != value).collect()
        }
        ParameterKind::Choices => parameter.choices.iter().map(|choice| toggled(value, choice)).collect(),
    }
}

fn bound_of(kind: Kind, bound: &Value) -> Option<f64> {
    kind.parse(bound.as_str()?).ok()
}

/// The number times and by the factor, kept within the bounds; for a zero, the bounds themselves.
fn numbers(value: Option<&Value>, bound: impl Fn(&Value) -> Option<f64>, parameter: &ParameterDescription) -> Vec<f64> {
    let Some(now) = value.and_then(Value::as_f64) else { return Vec::new() };
    let least = parameter.least.as_ref().and_then(&bound).unwrap_or(f64::NEG_INFINITY);
    let most = parameter.most.as_ref().and_then(&bound).unwrap_or(f64::INFINITY);
    let wanted = if now == 0.0 { [least, most] } else { [now / FACTOR, now * FACTOR] };
    let within = wanted.into_iter().map(|number| number.max(least).min(most));
    within.filter(|number| number.is_finite() && *number != now).collect()
}

/// The list with one choice put in or taken out.
fn toggled(value: &Value, choice: &str) -> Value {
    let mut list: Vec<Value> = value.as_array().cloned().unwrap_or_default();
    match list.iter().position(|word| word == choice) {
        Some(at) => drop(list.remove(at)),
        None => list.push(json!(choice)),
    }
    Value::Array(list)
}
