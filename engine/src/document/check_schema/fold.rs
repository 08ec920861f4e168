//! One mistake, one complaint: which of several alternatives was meant, and which findings only follow from others.

use super::mistake::{Mistake, Slip};
use crate::document::did_you_mean::did_you_mean;
use crate::document::schema_view::{SchemaView, known_fields};
use jsonschema::JsonType;
use serde_json::Value;
use std::collections::HashSet;

/// The mistakes of the alternative the author meant, given those of every alternative.
pub(super) fn choose(pointer: &str, value: &Value, mut branches: Vec<Vec<Mistake>>) -> Vec<Mistake> {
    if !value.is_null() {
        branches.retain(|branch| !only_wants_null(branch, pointer));
    }
    if let Some(options) = all_choices(&branches, pointer) {
        return vec![Mistake { pointer: pointer.to_owned(), slip: Slip::Choice { options, tag: false } }];
    }
    let (fitting, wrong_type): (Vec<_>, Vec<_>) =
        branches.into_iter().partition(|branch| wanted_types(branch, pointer).is_none());
    if fitting.is_empty() {
        return one_of_types(pointer, wrong_type);
    }
    by_tag(pointer, fitting)
}

fn only_wants_null(branch: &[Mistake], pointer: &str) -> bool {
    wanted_types(branch, pointer).is_some_and(|types| types == [JsonType::Null])
}

fn wanted_types<'a>(branch: &'a [Mistake], pointer: &str) -> Option<&'a [JsonType]> {
    branch.iter().find_map(|mistake| match &mistake.slip {
        Slip::Type(types) if mistake.pointer == pointer => Some(types.as_slice()),
        _ => None,
    })
}

/// The options together, when every alternative is a choice of values.
fn all_choices(branches: &[Vec<Mistake>], pointer: &str) -> Option<Vec<Value>> {
    let mut all = Vec::new();
    for branch in branches {
        let options = branch.iter().find_map(|mistake| match &mistake.slip {
            Slip::Choice { options, .. } if mistake.pointer == pointer => Some(options),
            _ => None,
        })?;
        all.extend(options.iter().cloned());
    }
    (!all.is_empty()).then_some(all)
}

/// No alternative takes this type of value: an amount says most about what is wanted, else all types together.
fn one_of_types(pointer: &str, branches: Vec<Vec<Mistake>>) -> Vec<Mistake> {
    let amount = |branch: &&Vec<Mistake>| {
        branch.iter().any(|mistake| mistake.pointer == pointer && matches!(mistake.slip, Slip::Amount(_)))
    };
    if let Some(branch) = branches.iter().find(amount) {
        return branch.clone();
    }
    let mut types: Vec<JsonType> = Vec::new();
    for wanted in branches.iter().filter_map(|branch| wanted_types(branch, pointer)).flatten() {
        if !types.contains(wanted) {
            types.push(*wanted);
        }
    }
    vec![Mistake { pointer: pointer.to_owned(), slip: Slip::Type(types) }]
}

/// Among alternatives of the right type: the one whose tag (`"kind": "pump"`) is right, else the choice of tags, else
/// the tag that is missing, else the alternative with the least to complain about.
fn by_tag(pointer: &str, branches: Vec<Vec<Mistake>>) -> Vec<Mistake> {
    let tags: Vec<_> = branches.iter().map(|branch| wrong_tag(branch, pointer)).collect();
    if let Some(place) = tags.iter().flatten().next().filter(|_| tags.iter().all(Option::is_some)) {
        let options = tags.iter().flatten().filter(|tag| tag.0 == place.0).map(|tag| tag.1.clone()).collect();
        return vec![Mistake { pointer: place.0.to_owned(), slip: Slip::Choice { options, tag: false } }];
    }
    let tagged: HashSet<usize> = (0..tags.len()).filter(|at| tags[*at].is_some()).collect();
    let right = branches.iter().enumerate().filter(|(at, _)| !tagged.contains(at)).map(|(_, branch)| branch);
    let right: Vec<_> = right.collect();
    if let [first, others @ ..] = right.as_slice() {
        let missing: Vec<Mistake> = first
            .iter()
            .filter(|mistake| mistake.pointer == pointer && matches!(mistake.slip, Slip::MissingField(_)))
            .filter(|mistake| others.iter().all(|branch| branch.contains(mistake)))
            .cloned()
            .collect();
        if !others.is_empty() && !missing.is_empty() {
            return missing;
        }
    }
    right.into_iter().min_by_key(|branch| branch.len()).cloned().unwrap_or_default()
}

/// The place and the one right value of a field directly inside that must have one value and has another.
fn wrong_tag<'a>(branch: &'a [Mistake], pointer: &str) -> Option<(&'a str, &'a Value)> {
    branch.iter().find_map(|mistake| match &mistake.slip {
        Slip::Choice { options, tag: true } if parent(&mistake.pointer) == Some(pointer) => {
            options.first().map(|option| (mistake.pointer.as_str(), option))
        }
        _ => None,
    })
}

fn parent(pointer: &str) -> Option<&str> {
    pointer.rsplit_once('/').map(|(parent, _)| parent)
}

/// Leaves out what only follows from another mistake, and what was found twice.
pub(super) fn tidy(found: Vec<Mistake>, view: SchemaView<'_>, document: &Value) -> Vec<Mistake> {
    let mut mistakes: Vec<Mistake> = Vec::with_capacity(found.len());
    for mut mistake in found {
        if let Slip::LeftOverField(name) = mistake.slip {
            if known_fields(&view.at(document, &mistake.pointer)).contains(&name.as_str()) {
                continue;
            }
            mistake.slip = Slip::UnknownField(name);
        }
        mistakes.push(mistake);
    }
    let places = |wanted: fn(&Slip) -> bool| -> HashSet<String> {
        mistakes.iter().filter(|mistake| wanted(&mistake.slip)).map(|mistake| mistake.pointer.clone()).collect()
    };
    let amounts = places(|slip| matches!(slip, Slip::Amount(_)));
    let types = places(|slip| matches!(slip, Slip::Type(_)));
    let misspelled = misspelled(&mistakes, view, document);
    let mut seen = HashSet::new();
    mistakes.retain(|mistake| {
        let follows = match &mistake.slip {
            Slip::Amount(_) => false,
            Slip::Type(_) => amounts.contains(&mistake.pointer),
            Slip::MissingField(name) => misspelled.contains(&(mistake.pointer.clone(), name.clone())),
            _ => amounts.contains(&mistake.pointer) || types.contains(&mistake.pointer),
        };
        !follows && seen.insert(format!("{mistake:?}"))
    });
    mistakes
}

/// Fields that are not missing but written wrongly: `widht` is one mistake, not an unknown field and a missing `width`.
fn misspelled(mistakes: &[Mistake], view: SchemaView<'_>, document: &Value) -> HashSet<(String, String)> {
    mistakes
        .iter()
        .filter_map(|mistake| {
            let Slip::UnknownField(name) = &mistake.slip else { return None };
            let meant = meant_field(name, &mistake.pointer, view, document)?;
            Some((mistake.pointer.clone(), meant.to_owned()))
        })
        .collect()
}

/// The field an unknown name probably stands for: one the object may have and does not have yet.
pub(super) fn meant_field<'s>(name: &str, pointer: &str, view: SchemaView<'s>, document: &Value) -> Option<&'s str> {
    let present = document.pointer(pointer).and_then(Value::as_object);
    let known = known_fields(&view.at(document, pointer));
    did_you_mean(name, known.into_iter().filter(|known| present.is_none_or(|fields| !fields.contains_key(*known))))
}
