//! A regulator must pass enough gas for everything behind it, all on at once.
//!
//! A regulator has a capacity as a pipe has one. One that is too small holds its pressure while a single burner is on and lets
//! it fall when the others join; what hangs on it then starves although every pipe is large enough. A regulator kept when a
//! tankless heater or a generator was added is the usual case.
//!
//! **How it is measured.** The greatest input of every appliance behind the regulator is added up, that of the whole piping for
//! the regulator at the point of delivery, and held against the capacity on the regulator's plate or in its maker's table for the
//! pressures it works at.
//!
//! **How it is fixed.** A larger regulator, or a second one; for a licensed fitter or the gas supplier.

use crate::demand::Demand;
use crate::parameters;
use crate::piping::{self, Piping};
use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2018", "G2421.1"),
        cited("IRC", "2018", "G2413.2"),
        remembered("IFGC", "2021", "410.1"),
        remembered("IFGC", "2021", "402.2"),
    ],
    parameters: &[&parameters::ALTITUDE_FROM, &parameters::ALTITUDE_DEMAND],
    reads: &["/equipment", "/gas", "/site"],
    ..Rule::new("fuel-gas/regulator-load", "Regulators large enough for what hangs on them", check)
};

const WANTED: &str = "whether the regulator passes what hangs on it";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    if !piping::is_drawn(inquiry) {
        return piping::nothing_drawn(inquiry);
    }
    let piping = match Piping::of(inquiry) {
        Ok(piping) => piping,
        Err(unresolved) => return vec![inquiry.project().ask(WANTED, || Err(unresolved))],
    };
    let demand = Demand::of(inquiry, &piping);
    let mut findings = Vec::new();
    for (number, node) in piping.nodes.iter().enumerate() {
        if number != piping.source && piping.regulators[number].is_none() {
            continue;
        }
        if number == piping.source && node.regulator.is_none() && at_delivery(&piping) {
            findings.push(node.ask("which regulator stands there", || Err(node.missing("/regulator"))));
        }
        // A regulator nobody names is told by the rule about the graph.
        let Ok(regulator) = need!(node, regulator).and_then(|id| need!(piping.project, gas.regulators).named(&id)) else {
            continue;
        };
        findings.push(regulator.sheet(WANTED, |sheet| judge(&piping, &demand, number, &regulator, sheet)));
    }
    findings.extend(nowhere(&piping));
    if findings.is_empty() {
        findings.push(inquiry.project().not_applicable(text!("no regulator is drawn in the piping")).done());
    }
    findings
}

/// Whether the project has a regulator that may stand at the point of delivery: one before the piping that no node holds. That of
/// a service is the supplier's and stands before the meter.
fn at_delivery(piping: &Piping) -> bool {
    use GasRegulatorKind as K;
    let all = need!(piping.project, gas.regulators).every();
    let before = |one: &Place<GasRegulator>| !matches!(one.kind, K::Line | K::Appliance | K::Service);
    let held = |one: &Place<GasRegulator>| piping.nodes.iter().any(|node| node.regulator.as_ref() == Some(&one.id));
    all.iter().any(|one| before(one) && !held(one))
}

/// Regulators of the piping that no node holds: what hangs on them is not known.
fn nowhere(piping: &Piping) -> Vec<Finding> {
    let all = need!(piping.project, gas.regulators).every();
    let behind_delivery = |one: &&Place<GasRegulator>| matches!(one.kind, GasRegulatorKind::Line);
    let held = |one: &Place<GasRegulator>| piping.nodes.iter().any(|node| node.regulator.as_ref() == Some(&one.id));
    let what = |one: &Place<GasRegulator>| format!("the node at which regulator {} stands", one.id);
    let lost = all.iter().filter(behind_delivery).filter(|one| !held(one));
    lost.map(|one| one.ask(WANTED, || Err(Unresolved::because("/gas/nodes", what(one))))).collect()
}

fn judge(piping: &Piping, demand: &Demand, node: usize, regulator: &Place<GasRegulator>, sheet: &mut Sheet) -> Lookup<Text> {
    if let Some(loops) = piping.loops() {
        return Err(loops);
    }
    let load = demand.through(piping, node);
    let known = if load.missing.is_some() { "at least " } else { "" };
    let heat = in_unit(load.known, "Btu/h");
    sheet.line("load", text!("{}{} with everything behind it on", known, heat), "IRC G2413.2 (IFGC 402.2)");
    sheet.related(piping.nodes[node].pointer());
    let capacity = need!(regulator, capacity)?;
    let words = text!("{} behind it, it passes {}", in_unit(load.known, "Btu/h"), capacity);
    let enough = at_most(load.known, capacity.quantity());
    if enough && let Some(missing) = load.missing {
        return Err(missing);
    }
    if !sheet.require("capacity", words.clone(), "the regulator's plate or its maker's table", enough) {
        if let Some(at) = &piping.nodes[node].at {
            let space = piping.nodes[node].space.as_deref();
            sheet.mark(point_mark(space, regulator.get().id.clone(), [at.x.si(), at.y.si(), 0.0]));
        }
        sheet.cure(text!("have it replaced by one that passes {} at these pressures", in_unit(load.known, "Btu/h")));
    }
    Ok(words)
}
