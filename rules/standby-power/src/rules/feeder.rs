//! The feeder of a standby panel carries its load, its breaker protects it, and the panel's bus stands its breaker.
//!
//! The panel that lives through the outage is often fed by a feeder chosen for the outage alone; on utility power it carries
//! the same loads for years.
//!
//! **How it is measured.** Feeders to and from transfer equipment, from inverters and generators, and to standby panels: ampacity
//! (as stated, or of copper by the table at the rating of the terminals) against the breaker, the next standard size allowed; the
//! breaker against the Article 220 load of what is transferred; the panel's bus against the breaker.
//!
//! **How it is fixed.** Larger conductors, a breaker that fits, a panel with a larger bus.

use crate::{demand, loads, source};
use redtag_handbook::load as trade;
use redtag_handbook::raceway::{largest_device, next_standard};
use redtag_rule::prelude::*;
use redtag_rule_load::circuit;
use uom::si::f64::ElectricCurrent;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2023", "215.2"), cited("NEC", "2023", "240.4(B)"), cited("NEC", "2023", "408.36")],
    parameters: &[&demand::METHOD, &demand::VEHICLE],
    reads: &["/equipment", "/electrical"],
    ..Rule::new("standby-power/feeder", "Feeder of the standby panel", check)
};

const WANTED: &str = "whether it carries the standby panel";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let every = need!(inquiry.project(), electrical.feeders).every();
    let transfers = loads::transfers(inquiry);
    every
        .iter()
        .map(|feeder| {
            let beside = |transfer: &&Place<Transfer>| {
                [&feeder.from, &feeder.to].into_iter().any(|end| end.as_deref() == Some(transfer.id.as_str()))
                    || (feeder.to.is_some() && feeder.to == transfer.feeds)
                    || (feeder.from.is_some() && feeder.from == transfer.alternate)
            };
            match transfers.iter().find(beside) {
                Some(transfer) => feeder.sheet(WANTED, |sheet| judge(inquiry, feeder, transfer, sheet)),
                None if feeder.to.is_none() && !transfers.is_empty() => feeder.ask(WANTED, || Err(feeder.missing("/to"))),
                None => feeder.not_applicable(text!("feeds no standby panel")).done(),
            }
        })
        .collect()
}

fn judge<'a>(
    inquiry: &Inquiry<'a>,
    feeder: &Place<'a, Feeder>,
    transfer: &Place<'a, Transfer>,
    sheet: &mut Sheet,
) -> Lookup<Text> {
    sheet.related(transfer.pointer());
    let breaker = need!(feeder, overcurrent)?;
    if let Some(ampacity) = sheet.want(carried(feeder, &breaker)) {
        let wire = need!(feeder, conductors).and_then(|set| circuit::wire(&set));
        let most = match wire {
            Ok((size, metal)) => largest_device(size, metal, ampacity, true),
            Err(_) => next_standard(ampacity).unwrap_or(ampacity),
        };
        let words = text!("its conductors carry {}, its breaker is {}, {} is the most", ampacity, breaker, most);
        if !sheet.require("conductors", words, "NEC 240.4(B), Table 310.16", at_most(breaker.quantity(), most)) {
            sheet.cure(text!("conductors for {} at least, or a breaker of {}", breaker, most));
        }
    }
    bus(inquiry, transfer, &breaker, sheet);
    // A generator or an inverter alone is held by its own output, whatever the loads.
    if feeder.from == transfer.alternate {
        return Ok(text!("its conductors and its breaker fit"));
    }
    let backed = loads::on(inquiry, transfer)?;
    redtag_rule_load::whole(inquiry, sheet);
    let load = demand::of(inquiry, &backed, Some(breaker.quantity()), sheet)?;
    let current = trade::current(load, source::line_to_line());
    let words = text!("its breaker is {}, the load of the standby panel {}", breaker, current);
    if !sheet.require("load", words.clone(), "NEC 215.2, Article 220", at_least(breaker.quantity(), current)) {
        sheet.cure(text!("a feeder for {} at least, or fewer loads on the panel", next_standard(current).unwrap_or(current)));
    }
    Ok(words)
}

/// What its conductors carry.
fn carried(feeder: &Place<Feeder>, breaker: &Place<redtag_rule::schema::quantity::Current>) -> Lookup<ElectricCurrent> {
    circuit::ampacity(&need!(feeder, conductors)?, Some(breaker.quantity()))
}

fn bus<'a>(
    inquiry: &Inquiry<'a>,
    transfer: &Place<'a, Transfer>,
    breaker: &Place<redtag_rule::schema::quantity::Current>,
    sheet: &mut Sheet,
) {
    let panel = need!(transfer, feeds).and_then(|id| need!(inquiry.project(), electrical.panels).named(&id));
    let Some(bus) = sheet.want(panel.and_then(|panel| need!(panel, bus_rating))) else { return };
    let words = text!("the bus of the standby panel stands {}, the breaker of its feeder is {}", bus, breaker);
    if !sheet.require("bus", words, "NEC 408.36", at_least(bus.quantity(), breaker.quantity())) {
        sheet.cure(text!("a panel with a bus of {} at least", breaker));
    }
}
