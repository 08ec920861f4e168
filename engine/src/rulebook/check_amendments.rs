//! Whether every amendment speaks of a rule and a parameter that are there, may be changed by its pack, and take the value.

use super::Layers;
use super::amendment::AmendmentInLayer;
use super::shipped::{AsShipped, RuleAsShipped};
use crate::diagnostic::{Diagnostic, quoted};
use crate::modules::read_value;
use crate::pack::hint;
use redtag_schema::pack::Change;
use serde_json::Value;
use std::collections::BTreeMap;

/// Every complaint about the amendments and the bars on variances, whether or not they are law on the day.
pub(super) fn check(layers: &Layers, book: &AsShipped, amendments: &BTreeMap<&str, Vec<AmendmentInLayer>>) -> Vec<Diagnostic> {
    let mut out = Vec::new();
    for (rule, amendments) in amendments {
        for amendment in amendments {
            let place = |complaint: Diagnostic, field: &str| amendment.locate(layers, complaint, field);
            match reachable(layers, book, amendment.pack, rule, "rule") {
                Reach::Ours(shipped) => check_change(layers, book, shipped, amendment, &mut out),
                Reach::Hidden => {}
                Reach::Complaint(complaint) => out.push(place(complaint, "/rule")),
            }
        }
    }
    for (pack, layer) in layers.packs().iter().enumerate() {
        for (index, rule) in layer.manifest().no_variance.iter().enumerate() {
            if let Reach::Complaint(complaint) = reachable(layers, book, pack, rule, "rule") {
                out.push(layer.locate(complaint, &format!("/no_variance/{index}")));
            }
        }
    }
    out
}

/// What a pack finds under a rule's id.
enum Reach<'a> {
    /// A rule of its own or of a pack below.
    Ours(&'a RuleAsShipped),
    /// Perhaps a rule of a module that failed: nothing can be said.
    Hidden,
    /// Nothing it may speak of.
    Complaint(Diagnostic),
}

fn reachable<'a>(layers: &Layers, book: &'a AsShipped, pack: usize, rule: &str, what: &str) -> Reach<'a> {
    let Some(shipped) = book.rules.get(rule) else {
        let family = rule.split('/').next().unwrap_or_default();
        if book.failures.iter().any(|failure| failure.module == family) {
            return Reach::Hidden;
        }
        let known: Vec<&str> = book.rules.keys().map(String::as_str).collect();
        let message = format!("there is no {what} {} in the packs of this rulebook", quoted(rule));
        let complaint = Diagnostic::error("unknown-rule", message);
        let family: Vec<&str> = known.iter().copied().filter(|id| id.split('/').next() == Some(family)).collect();
        let complaint = match family.as_slice() {
            [] => complaint.expected("the id of a rule below, such as `redtag rulebook` lists"),
            there => complaint.expected(format!("one of the rules of that family: {}", there.join(", "))),
        };
        let complaint = hint(complaint, rule, &known);
        let alone = complaint.help.is_none() && layers.pack(pack).manifest().stands_on.is_none();
        return Reach::Complaint(if alone {
            complaint.help("this pack stands on no other: name the pack whose rules it changes in `stands_on`")
        } else {
            complaint
        });
    };
    let below = |ship: &usize| *ship == pack || layers.stands_on(pack, *ship);
    if shipped.packs.iter().any(below) {
        return Reach::Ours(shipped);
    }
    let owner = layers.pack(shipped.first());
    let message = format!("{what} `{rule}` belongs to {}, which {} does not stand on", owner.label(), layers.pack(pack).label());
    let mut complaint = Diagnostic::error("not-below", message)
        .expected("a rule of the pack itself or of a pack it stands on")
        .help(format!("let the pack stand on `{}`, or leave the rule to a pack that does", owner.name()));
    complaint.secondary.extend(owner.related(&shipped.pointer, "the rule's module"));
    Reach::Complaint(complaint)
}

fn check_change(
    layers: &Layers,
    book: &AsShipped,
    shipped: &RuleAsShipped,
    amendment: &AmendmentInLayer,
    out: &mut Vec<Diagnostic>,
) {
    match &amendment.amendment.change {
        Change::Set { parameter, value } => {
            out.extend(check_set(shipped, parameter, value).map(|(complaint, field)| amendment.locate(layers, complaint, field)));
        }
        Change::Replace { with } if *with == amendment.amendment.rule => {
            let complaint = Diagnostic::error("replaced-by-itself", format!("rule {} is replaced by itself", quoted(with)));
            out.push(amendment.locate(layers, complaint.expected("the id of another rule"), "/with"));
        }
        Change::Replace { with } => {
            if let Reach::Complaint(complaint) = reachable(layers, book, amendment.pack, with, "replacing rule") {
                out.push(amendment.locate(layers, complaint, "/with"));
            }
        }
        Change::Cite { citations, .. } if citations.is_empty() => {
            let complaint = Diagnostic::error("cites-nothing", "this amendment changes the citations and names none");
            out.push(amendment.locate(layers, complaint.expected("one citation or more"), "/citations"));
        }
        Change::Cite { .. } | Change::Withdraw | Change::Adopt | Change::Relax | Change::Require => {}
    }
}

fn check_set(shipped: &RuleAsShipped, name: &str, written: &Value) -> Option<(Diagnostic, &'static str)> {
    let rule = &shipped.description;
    let Some(parameter) = rule.parameters.iter().find(|parameter| parameter.name == name) else {
        let known: Vec<&str> = rule.parameters.iter().map(|parameter| parameter.name.as_str()).collect();
        let message = format!("rule `{}` has no parameter {}", rule.id, quoted(name));
        let complaint = Diagnostic::error("unknown-parameter", message);
        let complaint = match known.as_slice() {
            [] => complaint.expected("no `set`: the rule has no parameters"),
            known => complaint.expected(format!("one of {}", known.join(", "))),
        };
        return Some((hint(complaint, name, &known), "/parameter"));
    };
    let error = read_value(parameter, written).err()?;
    let complaint = Diagnostic::error(error.code, error.message).expected(error.expected);
    let complaint = match error.help {
        Some(help) => complaint.help(help),
        None => complaint,
    };
    Some((complaint, "/value"))
}
