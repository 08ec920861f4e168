//! Sources joined ahead of the service disconnect give no more than the service conductors carry.
//!
//! Ahead of the main nothing but the utility's fuse protects the conductors to the street. What a source gives there adds to
//! nothing the house can switch off.
//!
//! **How it is measured.** The continuous output current of all sources joined to the supply side of a service, together, except what
//! a listed power control system holds lower, against the rating of the service.
//!
//! **How it is fixed.** Smaller sources, a power control system, a larger service. The utility and a licensed electrician do this work.

use redtag_rule::prelude::*;
use uom::si::f64::ElectricCurrent;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "705.11(A)")],
    reads: &["/electrical/services", "/electrical/inverters"],
    ..Rule::new("panels/supply-side", "Sources ahead of the service disconnect", check)
};

const WANTED: &str = "whether the service carries the sources ahead of its disconnect";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let services = need!(inquiry.project(), electrical.services).every();
    let (mut sources, mut open) = (Vec::new(), None);
    for inverter in need!(inquiry.project(), electrical.inverters).every() {
        match ahead(&inverter) {
            Ok(true) => sources.push(inverter),
            Ok(false) => {}
            Err(unresolved) => open = Unresolved::joined(open, unresolved),
        }
    }
    // Which source hangs on which service the file cannot say: each service is held against all of them.
    let judged = |service: &Place<ElectricalService>| match (&sources[..], &open) {
        ([], None) => service.not_applicable(text!("no source is joined ahead of its disconnect")).done(),
        _ => service.sheet(WANTED, |sheet| {
            open.iter().for_each(|unresolved| sheet.lack(unresolved.clone()));
            judge(service, &sources, sheet)
        }),
    };
    services.iter().map(judged).collect()
}

/// Whether an inverter is joined ahead of the service disconnect. One that feeds through a breaker of a panel, or never
/// beside the utility, is not.
fn ahead(inverter: &Place<Inverter>) -> Lookup<bool> {
    if inverter.interconnection.is_none() && (inverter.circuit.is_some() || inverter.interactive == Some(false)) {
        return Ok(false);
    }
    need!(inverter, interconnection).map(|kind| *kind == InterconnectionKind::SupplySide)
}

fn judge(service: &Place<ElectricalService>, sources: &[Place<Inverter>], sheet: &mut Sheet) -> Lookup<Text> {
    let output = |inverter: &Place<Inverter>| {
        let held = need!(inverter, power_control_current).or_else(|_| need!(inverter, output_current));
        held.map(|current| current.quantity())
    };
    let each = sources.iter().map(output).collect::<Vec<_>>().together();
    let (rating, each) = (need!(service, rating), each).together()?;
    for (source, current) in sources.iter().zip(&each) {
        sheet.line(&source.id, text!("{}", *current), "its rated output, or as a power control system holds it");
    }
    let sum = each.into_iter().fold(ElectricCurrent::default(), |sum, one| sum + one);
    let words = text!("sources ahead of the disconnect give {}, the service has {}", sum, rating);
    if !sheet.require("output", words.clone(), "NEC 705.11(A)", at_most(sum, rating.quantity())) {
        sheet.cure(text!("use sources of {} together at most, or a larger service", rating));
    }
    Ok(words)
}
