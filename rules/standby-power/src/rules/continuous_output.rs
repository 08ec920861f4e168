//! What runs at one time must stay within what the source gives for hours, on each leg too.
//!
//! An inverter that is overloaded shuts down within minutes; one whose two 120 V legs are unevenly loaded does so at half its
//! output.
//!
//! **How it is measured.** The running power of everything backed up, of loads that never run together the largest. On each leg
//! the loads of that leg and half of those at 240 V, against the share of the output one leg of the inverter or generator can
//! carry. An inverter gives no more than the batteries behind it give.
//!
//! **How it is fixed.** Fewer loads, load management, loads moved to the other leg, or a larger inverter.

use crate::{loads, source};
use redtag_rule::prelude::*;
use redtag_rule_load::kva;
use uom::si::f64::{Power, Ratio};
use uom::si::ratio::ratio;

/// A leg.
const LEG: Quantity<dimensions::Ratio> = Quantity::new(
    "leg_share",
    "50 %",
    "Share of the output one leg carries where the source does not say.",
    "common practice; from memory of inverter data sheets",
)
.within("25 %", "100 %");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2023", "702.4(A)"), remembered("maker's instructions", "", "continuous output, load on each leg")],
    parameters: &[&LEG],
    reads: &["/equipment", "/electrical"],
    ..Rule::new("standby-power/continuous-output", "Continuous output of the standby source", check)
};

const WANTED: &str = "whether it carries what runs at one time";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    loads::transfers(inquiry).iter().map(|transfer| transfer.sheet(WANTED, |sheet| judge(inquiry, transfer, sheet))).collect()
}

fn judge<'a>(inquiry: &Inquiry<'a>, transfer: &Place<'a, Transfer>, sheet: &mut Sheet) -> Lookup<Text> {
    let (source, backed) = (source::of(inquiry, transfer), loads::on(inquiry, transfer)).together()?;
    let given = source.continuous(inquiry, sheet)?;
    sheet.related(source.pointer());
    redtag_rule_load::whole(inquiry, sheet);
    let each = backed.iter().map(loads::running).collect::<Vec<_>>().together()?;
    let kept = loads::coincident(&backed, |load| loads::running(load).unwrap_or_default());
    for (load, power) in backed.iter().zip(&each) {
        let counts = kept.iter().any(|other| other.id == load.id);
        let note = if counts { "" } else { ", never with another of its group" };
        sheet.line(&load.id, text!("{}{}", in_unit(*power, "W"), note), "the load list");
    }
    let sum = kept.iter().fold(Power::default(), |sum, load| sum + loads::running(load).unwrap_or_default());
    let words = text!("{} run at one time, {} is the most {} gives for hours", in_unit(sum, "kW"), kva(given), source.label());
    if !sheet.require("sum", words.clone(), "its plate", at_most(sum, given)) {
        sheet.cure(text!("run {} less at one time, or a source of {} at least", in_unit(sum - given, "kW"), kva(sum)));
    }
    let usual = inquiry.value(&LEG);
    match &source {
        source::Source::Inverter(inverter) if inverter.split_phase == Some(false) => {}
        source::Source::Inverter(inverter) => {
            let share = inverter.leg_share.as_ref().map_or(usual, |share| share.quantity());
            legs(inquiry, &kept, share, given, sheet);
        }
        source::Source::Generator(_) => legs(inquiry, &kept, usual, given, sheet),
    }
    Ok(words)
}

/// Each leg against its share. Loads whose leg is not said matter only where they could make a difference.
fn legs(inquiry: &Inquiry, kept: &[Place<Load>], share: Ratio, given: Power, sheet: &mut Sheet) {
    let most = given * share;
    let (mut a, mut b) = (Power::default(), Power::default());
    let mut open = Vec::new();
    for load in kept {
        let running = loads::running(load).unwrap_or_default();
        match load.leg {
            Some(Leg::A) => a += running,
            Some(Leg::B) => b += running,
            Some(Leg::Both) => (a, b) = (a + running / 2.0, b + running / 2.0),
            _ if loads::voltage(inquiry, load).is_ok_and(|volts| volts.get::<uom::si::electric_potential::volt>() > 200.0) => {
                (a, b) = (a + running / 2.0, b + running / 2.0);
            }
            _ => open.push((load, running)),
        }
    }
    let floating = open.iter().fold(Power::default(), |sum, (_, power)| sum + *power);
    for (name, leg) in [("leg a", a), ("leg b", b)] {
        let words = text!("{} on {}, {} is the most one leg carries", in_unit(leg, "kW"), name, kva(most));
        if !sheet.require(name, words, "the plate of the source", at_most(leg, most)) {
            let over = Ratio::new::<ratio>(leg.value / given.value.max(f64::MIN_POSITIVE));
            sheet.line("share", text!("{} of its output", over), "");
            sheet.cure(text!("move {} of 120 V loads to the other leg", in_unit(leg - most, "kW")));
        } else if !at_most(leg + floating, most) {
            for (load, _) in &open {
                sheet.lack(load.missing("/leg"));
            }
        }
    }
}
