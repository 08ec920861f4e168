//! Whether every amendment speaks of a rule and a parameter that are there, may be changed by its pack, and take the value.

use super::Layers;
use super::amendment::AmendmentInLayer;
use super::shipped::{AsShipped, Origin, RuleAsShipped};
use crate::diagnostic::{Code, Diagnostic, quoted};
use crate::modules::{ValueError, read_value};
use crate::pack::hint;
use redtag_schema::pack::Change;
use serde_json::Value;

/// Every complaint about the amendments and the bars on variances, whether or not they are law on the day.
pub(super) fn check(layers: &Layers, book: &AsShipped, amendments: &[AmendmentInLayer]) -> Vec<Diagnostic> {
    let mut out = Vec::new();
    for amendment in amendments {
        let Some(rule) = amendment.amendment.change.rule() else {
            out.extend(check_figure(layers, book, amendment));
            continue;
        };
        match rule_within_reach(layers, book, amendment.pack, rule, "rule") {
            Reach::Ours(shipped) => check_change(layers, book, shipped, amendment, &mut out),
            Reach::Hidden => {}
            Reach::Complaint(complaint) => out.push(amendment.locate(layers, complaint, "/rule")),
        }
    }
    for (pack, layer) in layers.packs().iter().enumerate() {
        for (index, rule) in layer.manifest().no_variance.iter().enumerate() {
            if let Reach::Complaint(complaint) = rule_within_reach(layers, book, pack, rule, "rule") {
                out.push(layer.locate(complaint, &format!("/no_variance/{index}")));
            }
        }
    }
    out
}

/// What a pack finds under an id.
enum Reach<'a, T> {
    /// A thing of its own or of a pack below.
    Ours(&'a T),
    /// Perhaps a thing of a module that failed: nothing can be said.
    Hidden,
    /// Nothing it may speak of.
    Complaint(Diagnostic),
}

fn rule_within_reach<'a>(layers: &Layers, book: &'a AsShipped, pack: usize, id: &str, what: &str) -> Reach<'a, RuleAsShipped> {
    match book.rules.get(id) {
        Some(rule) => owned(layers, pack, rule, &rule.origin, &format!("{what} `{id}`")),
        None => unknown(layers, book, pack, id, (what, "redtag rulebook"), book.rules.keys()),
    }
}

fn owned<'a, T>(layers: &Layers, pack: usize, thing: &'a T, origin: &Origin, name: &str) -> Reach<'a, T> {
    if origin.packs.iter().any(|ships| *ships == pack || layers.stands_on(pack, *ships)) {
        return Reach::Ours(thing);
    }
    let owner = layers.pack(origin.first());
    let message = format!("{name} belongs to {}, which {} does not stand on", owner.label(), layers.pack(pack).label());
    let kind = name.split(' ').next_back().map_or(name, |id| name.trim_end_matches(id).trim_end());
    let mut complaint = Diagnostic::error(Code::NotBelow, message)
        .expected(format!("a {kind} of the pack itself or of a pack it stands on"))
        .help(format!("let the pack stand on `{}`, or leave the {kind} to a pack that does", owner.name()));
    complaint.secondary.extend(owner.related(&origin.pointer, &format!("the {kind}'s module")));
    Reach::Complaint(complaint)
}

fn unknown<'a, T>(
    layers: &Layers,
    book: &AsShipped,
    pack: usize,
    id: &str,
    (what, listed_by): (&str, &str),
    known: impl Iterator<Item = &'a String>,
) -> Reach<'a, T> {
    let family = id.split('/').next().unwrap_or_default();
    if book.failures.iter().any(|failure| failure.module == family) {
        return Reach::Hidden;
    }
    let known: Vec<&str> = known.map(String::as_str).collect();
    let kind = if what == "figure" { "figure" } else { "rule" };
    let message = format!("there is no {what} {} in the packs of this rulebook", quoted(id));
    let complaint = Diagnostic::error(if kind == "figure" { Code::UnknownFigure } else { Code::UnknownRule }, message);
    let family: Vec<&str> = known.iter().copied().filter(|id| id.split('/').next() == Some(family)).collect();
    let complaint = match family.as_slice() {
        [] => complaint.expected(format!("the id of a {kind} below, such as `{listed_by}` lists")),
        there => complaint.expected(format!("one of the {kind}s of that family: {}", there.join(", "))),
    };
    let complaint = hint(complaint, id, &known);
    let alone = complaint.help.is_none() && layers.pack(pack).manifest().stands_on.is_none();
    Reach::Complaint(if alone {
        complaint.help(format!("this pack stands on no other: name the pack whose {kind}s it changes in `stands_on`"))
    } else {
        complaint
    })
}

/// Whether a figure that is set is there, may be set by the pack, and takes the value.
fn check_figure(layers: &Layers, book: &AsShipped, amendment: &AmendmentInLayer) -> Option<Diagnostic> {
    let Change::SetFigure { figure: id, value } = &amendment.amendment.change else { return None };
    let reach = match book.figures.get(id) {
        Some(figure) => owned(layers, amendment.pack, figure, &figure.origin, &format!("figure `{id}`")),
        None => unknown(layers, book, amendment.pack, id, ("figure", "redtag rulebook"), book.figures.keys()),
    };
    match reach {
        Reach::Hidden => None,
        Reach::Complaint(complaint) => Some(amendment.locate(layers, complaint, "/figure")),
        Reach::Ours(shipped) => {
            let complaint = unreadable(read_value(&shipped.description.as_parameter(id), value).err()?);
            Some(amendment.locate(layers, complaint, "/value"))
        }
    }
}

fn check_change(
    layers: &Layers,
    book: &AsShipped,
    shipped: &RuleAsShipped,
    amendment: &AmendmentInLayer,
    out: &mut Vec<Diagnostic>,
) {
    match &amendment.amendment.change {
        Change::Set { parameter, value, .. } => {
            out.extend(check_set(shipped, parameter, value).map(|(complaint, field)| amendment.locate(layers, complaint, field)));
        }
        Change::Replace { rule, with } if with == rule => {
            let complaint = Diagnostic::error(Code::ReplacedByItself, format!("rule {} is replaced by itself", quoted(with)));
            out.push(amendment.locate(layers, complaint.expected("the id of another rule"), "/with"));
        }
        Change::Replace { with, .. } => {
            if let Reach::Complaint(complaint) = rule_within_reach(layers, book, amendment.pack, with, "replacing rule") {
                out.push(amendment.locate(layers, complaint, "/with"));
            }
        }
        Change::Cite { citations, .. } if citations.is_empty() => {
            let complaint = Diagnostic::error(Code::CitesNothing, "this amendment changes the citations and names none");
            out.push(amendment.locate(layers, complaint.expected("one citation or more"), "/citations"));
        }
        Change::SetFigure { .. }
        | Change::Cite { .. }
        | Change::Withdraw { .. }
        | Change::Adopt { .. }
        | Change::Relax { .. }
        | Change::Require { .. } => {}
    }
}

fn check_set(shipped: &RuleAsShipped, name: &str, written: &Value) -> Option<(Diagnostic, &'static str)> {
    let rule = &shipped.description;
    let Some(parameter) = rule.parameters.iter().find(|parameter| parameter.name == name) else {
        let known: Vec<&str> = rule.parameters.iter().map(|parameter| parameter.name.as_str()).collect();
        let message = format!("rule `{}` has no parameter {}", rule.id, quoted(name));
        let complaint = Diagnostic::error(Code::UnknownParameter, message);
        let complaint = match known.as_slice() {
            [] => complaint.expected("no `set`: the rule has no parameters"),
            known => complaint.expected(format!("one of {}", known.join(", "))),
        };
        return Some((hint(complaint, name, &known), "/parameter"));
    };
    Some((unreadable(read_value(parameter, written).err()?), "/value"))
}

fn unreadable(error: ValueError) -> Diagnostic {
    let complaint = Diagnostic::error(error.code, error.message).expected(error.expected);
    match error.help {
        Some(help) => complaint.help(help),
        None => complaint,
    }
}
