//! Figures: one value of the law that several rules read. What each is on the day, and which packs set one in a single rule.

use super::Layers;
use super::amendment::{AmendmentInLayer, uppermost};
use super::author::{amending, shipping, with_source};
use super::shipped::{AsShipped, FigureAsShipped};
use crate::diagnostic::{Code, Diagnostic};
use crate::pack::Aspect;
use redtag_schema::contract::value_words;
use redtag_schema::pack::Change;
use redtag_schema::rulebook::{Author, FigureEntry, FigureReader, ParameterEntry, RuleEntry};
use std::collections::BTreeMap;

/// Every figure with its value and the parameters that read it. The amendments have been checked.
pub(super) fn entries(
    layers: &Layers,
    shipped: &AsShipped,
    amendments: &[AmendmentInLayer],
    rules: &[RuleEntry],
) -> Vec<FigureEntry> {
    let entry = |figure: &FigureAsShipped| {
        let (written, author) = value(layers, figure, amendments);
        let readers = readers(rules, &figure.description.id).map(|(rule, parameter)| FigureReader {
            rule: rule.description.id.clone(),
            parameter: parameter.name.clone(),
            differs: (parameter.written != written).then(|| parameter.written.clone()),
        });
        let readers = readers.collect();
        FigureEntry { description: figure.description.clone(), written, author, readers }
    };
    shipped.figures.values().map(entry).collect()
}

fn value(layers: &Layers, figure: &FigureAsShipped, amendments: &[AmendmentInLayer]) -> (String, Author) {
    let about = amendments.iter().filter(|one| one.amendment.change.subject() == figure.description.id);
    let deciding = uppermost(layers, about, &Aspect::Figure);
    match deciding.first().map(|one| (one, &one.amendment.change)) {
        Some((one, Change::SetFigure { value, .. })) => {
            (value_words(value), amending(layers.pack(one.pack), one.index, one.amendment))
        }
        _ => {
            let author = shipping(layers.pack(figure.origin.first()));
            (value_words(&figure.description.default), with_source(&author, &figure.description.source))
        }
    }
}

/// The parameters that read a figure, with their rules.
fn readers<'a>(rules: &'a [RuleEntry], figure: &str) -> impl Iterator<Item = (&'a RuleEntry, &'a ParameterEntry)> {
    rules.iter().flat_map(move |rule| {
        let reads = rule.parameters.iter().filter(move |one| one.figure.as_deref() == Some(figure));
        reads.map(move |one| (rule, one))
    })
}

/// Remarks on amendments that set a figure in one rule while others that read it keep another value: seldom meant, and without
/// a word otherwise.
pub(super) fn set_in_one_rule(
    layers: &Layers,
    amendments: &BTreeMap<&str, Vec<AmendmentInLayer>>,
    rules: &[RuleEntry],
) -> Vec<Diagnostic> {
    let mut out = Vec::new();
    for rule in rules {
        for amendment in amendments.get(rule.description.id.as_str()).into_iter().flatten() {
            let Change::Set { parameter, .. } = &amendment.amendment.change else { continue };
            let Some(entry) = rule.parameters.iter().find(|entry| entry.name == *parameter) else { continue };
            let pack = layers.pack(amendment.pack).name();
            let decides = entry.author.pack == pack && entry.author.pointer.as_deref() == Some(&amendment.pointer(""));
            if let (true, Some(figure)) = (decides, &entry.figure) {
                out.extend(left_out(rules, rule, entry, figure).map(|note| amendment.locate(layers, note, "")));
            }
        }
    }
    out
}

fn left_out(rules: &[RuleEntry], rule: &RuleEntry, entry: &ParameterEntry, figure: &str) -> Option<Diagnostic> {
    let others = readers(rules, figure).filter(|(_, other)| other.value != entry.value);
    let others: Vec<String> = others.map(|(other, one)| format!("`{}` ({})", other.description.id, one.written)).collect();
    if others.is_empty() {
        return None;
    }
    let reads = if others.len() == 1 { "reads" } else { "read" };
    let message = format!(
        "this sets figure `{figure}` to {} in rule `{}` alone; {} {reads} the same figure and {} not changed",
        entry.written,
        rule.description.id,
        others.join(", "),
        if others.len() == 1 { "is" } else { "are" },
    );
    let help = format!(
        "to set it in all of them, write \"change\": \"set-figure\" and \"figure\": \"{figure}\" instead of rule and parameter"
    );
    Some(Diagnostic::note(Code::SetInOneRule, message).help(help))
}
