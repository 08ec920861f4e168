//! The breaker or fuse ahead of a panel is no larger than what the panel's bus and its service stand.
//!
//! A bus is protected by nothing but the device ahead of it. Where that lets more through than the bus is made for, its bars heat at
//! every stab, behind the cover, and no breaker in the panel knows.
//!
//! **How it is measured.** The main of the panel, or where it has none of its own the breaker of its feeder or of the circuit that
//! feeds it, against the rating of its bus. Where the panel holds the service disconnect, its main against the rating of the
//! service: the conductors from the utility were chosen for that.
//!
//! **How it is fixed.** A smaller main, a panel with a larger bus, a larger service. The utility and a licensed electrician do this work.

use crate::circuits;
use redtag_rule::prelude::*;
use uom::si::f64::ElectricCurrent;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "408.36"), remembered("NEC", "2020", "230.90(A)")],
    reads: &["/electrical/panels", "/electrical/services", "/electrical/feeders"],
    ..Rule::new("panels/bus-protection", "What protects a panel's bus", check)
};

const WANTED: &str = "whether the device ahead of it protects its bus";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    circuits::panels(inquiry).iter().map(|panel| panel.sheet(WANTED, |sheet| judge(inquiry, panel, sheet))).collect()
}

fn judge<'a>(inquiry: &Inquiry<'a>, panel: &Place<'a, Panel>, sheet: &mut Sheet) -> Lookup<Text> {
    let (device, bus) = (ahead(inquiry, panel), need!(panel, bus_rating)).together()?;
    let words = text!("a device of {} is ahead of a bus of {}", device, bus);
    if !sheet.require("bus", words.clone(), "NEC 408.36", at_most(device, bus.quantity())) {
        sheet.cure(text!("use a device of {} at most, or a panel with a bus of {} at least", bus, device));
    }
    if let Some(service) = service(inquiry, panel)
        && let Some(rating) = sheet.want(need!(service, rating))
    {
        let words = text!("its main is {}, the service has {}", device, rating);
        if !sheet.require("service", words, "from memory of NEC 230.90(A)", at_most(device, rating.quantity())) {
            sheet.related(service.pointer());
            sheet.cure(text!("use a main of {} at most, or a larger service with its conductors", rating));
        }
    }
    Ok(words)
}

/// The device that protects the bus: the panel's own main, else that of its feeder, else that of the circuit that feeds it.
fn ahead<'a>(inquiry: &Inquiry<'a>, panel: &Place<'a, Panel>) -> Lookup<ElectricCurrent> {
    let main = match need!(panel, main) {
        Ok(main) => return Ok(main.quantity()),
        Err(unresolved) => unresolved,
    };
    let feeders = need!(inquiry.project(), electrical.feeders).every();
    if let Some(feeder) = feeders.iter().find(|feeder| feeder.to.as_ref() == Some(&panel.id)) {
        return need!(feeder, overcurrent).map(|device| device.quantity());
    }
    let feeding = |circuit: &Place<Circuit>| redtag_rule_load::circuit::serves(circuit, &panel.id);
    match circuits::every(inquiry).iter().find(|circuit| feeding(circuit)) {
        Some(circuit) => need!(circuit, overcurrent).map(|device| device.quantity()),
        None => Err(main),
    }
}

/// The service whose disconnect a panel holds.
fn service<'a>(inquiry: &Inquiry<'a>, panel: &Place<'a, Panel>) -> Option<Place<'a, ElectricalService>> {
    let services = need!(inquiry.project(), electrical.services).every();
    let named = services.iter().find(|service| panel.fed_from.as_ref() == Some(&service.id));
    if named.is_some() || panel.service_equipment != Some(true) {
        return named.cloned();
    }
    if let [only] = &services[..] { Some(only.clone()) } else { None }
}
