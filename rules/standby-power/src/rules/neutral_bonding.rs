//! Neutral and ground are joined once while the standby source runs: at the service, or at the source, never at both.
//!
//! With two joints the ground carries current all the time, and ground-fault devices trip or stay silent. With none, a fault
//! does not trip a breaker and every metal case may be live.
//!
//! **How it is measured.** Where the transfer equipment switches the neutral, the source is a separately derived system and its
//! neutral must be bonded there; where it does not, the neutral stays bonded at the service and the source must not bond it again.
//! An inverter that joins them by itself while it runs as an island counts as bonded.
//!
//! **How it is fixed.** A floating neutral at the source, or transfer equipment that switches the neutral.

use crate::{loads, source};
use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2014", "250.30"), cited("NEC", "2014", "702.7(C)"), remembered("NEC", "2020", "250.34")],
    parameters: &[],
    reads: &["/electrical"],
    ..Rule::new("standby-power/neutral-bonding", "Bonding of the neutral", check)
};

const WANTED: &str = "whether its neutral is bonded once";
const SOURCE: &str = "NEC 250.30";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let mut findings: Vec<Finding> = loads::transfers(inquiry)
        .iter()
        .map(|transfer| transfer.sheet(WANTED, |sheet| judge(inquiry, transfer, sheet)))
        .collect();
    // A generator at an inlet is a second source of the same wiring: it goes with the first transfer.
    if let Some(transfer) = loads::transfers(inquiry).first() {
        for generator in need!(inquiry.project(), electrical.generators).every() {
            let alternate = |transfer: &Place<Transfer>| transfer.alternate.as_deref() == Some(generator.id.as_str());
            if loads::transfers(inquiry).iter().any(alternate) {
                continue;
            }
            findings.push(generator.sheet(WANTED, |sheet| {
                let (switched, bonded) = (need!(transfer, switches_neutral), need!(generator, neutral_bonded)).together()?;
                sheet.related(transfer.pointer());
                Ok(once(transfer, &switched, (&bonded, &generator.label()), sheet))
            }));
        }
    }
    findings
}

fn judge<'a>(inquiry: &Inquiry<'a>, transfer: &Place<'a, Transfer>, sheet: &mut Sheet) -> Lookup<Text> {
    let source = source::of(inquiry, transfer)?;
    sheet.related(source.pointer());
    let bonded = match &source {
        source::Source::Generator(generator) => need!(generator, neutral_bonded),
        source::Source::Inverter(inverter) => need!(inverter, neutral_bonded),
    };
    let (switched, bonded) = (need!(transfer, switches_neutral), bonded).together()?;
    Ok(once(transfer, &switched, (&bonded, &source.label()), sheet))
}

fn once(at: &Place<Transfer>, switches: &Place<bool>, (bonded, source): (&Place<bool>, &str), sheet: &mut Sheet) -> Text {
    let switched = **switches;
    let transfer = if switched { "the transfer switches the neutral" } else { "the transfer does not switch the neutral" };
    let joined = if **bonded { "bonds it" } else { "does not bond it" };
    let bonds = u32::from(!switched) + u32::from(**bonded);
    let count = match bonds {
        0 => "no bond: a fault trips nothing",
        1 => "one bond",
        _ => "2 bonds: the ground carries current",
    };
    let words = text!("{} and {} {}: {}", transfer, source, joined, count);
    if !sheet.require("bonds", words.clone(), SOURCE, bonds == 1) {
        let (cure, want) =
            if bonds == 2 { ("a source with a floating neutral", false) } else { ("bond the neutral at the source", true) };
        sheet.cure_at(text!("{}", cure), &[(bonded.pointer().to_owned(), json!(want))]);
        // An island device leaves the neutral whole.
        if !matches!(at.kind, TransferKind::MicrogridInterconnect) || switched {
            let other =
                if switched { "a transfer that leaves the neutral alone" } else { "a transfer that switches the neutral" };
            sheet.cure_at(text!("{}", other), &[(switches.pointer().to_owned(), json!(!switched))]);
        }
    }
    words
}
