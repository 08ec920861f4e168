//! Batteries of a dwelling must be listed as a system, with everything that belongs to it, and not only as cells or modules.
//!
//! A listed battery beside an inverter it was never tested with is no listed system: nobody knows what happens when one of the
//! two fails. Stored energy burns hot, long, and gives off gas that explodes and poisons.
//!
//! **How it is measured.** The listing of the storage system names UL 9540; the inverter has a listing of its own or lies
//! inside that of the system. A fire test by UL 9540A is not a listing: it only supports smaller distances. A battery that belongs to no described system cannot be judged.
//!
//! **How it is fixed.** A listed combination of battery and inverter, installed by its instructions by a licensed
//! electrician.

use crate::units;
use redtag_rule::prelude::*;

/// The standard.
const STANDARD: Choice = Choice::new(
    "standard",
    "UL 9540",
    &["UL 9540", "any listing"],
    "The standard the system must be listed to.",
    "IRC R328.2, confirmed by a state amendment that prints it",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "R328.2"), remembered("NEC", "2020", "706.5")],
    parameters: &[&STANDARD],
    reads: &["/equipment", "/electrical/storage", "/electrical/inverters"],
    ..Rule::new("energy-storage/listing", "Listed as a system", check)
};

const WANTED: &str = "whether it is listed as a system";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let systems = units::systems(inquiry);
    let mut findings: Vec<Finding> =
        systems.iter().map(|system| system.sheet(WANTED, |sheet| judge(inquiry, system, sheet))).collect();
    findings.extend(strays(inquiry));
    findings
}

fn judge<'a>(inquiry: &Inquiry<'a>, system: &Place<'a, StorageSystem>, sheet: &mut Sheet) -> Lookup<Text> {
    if let Some(listed) = sheet.want(need!(system, listing.listed)) {
        let words = if *listed { "listed as a system" } else { "not listed as a system" };
        if !sheet.require("listing", text!("{}", words), "IRC R328.2", *listed) {
            sheet.cure(text!("put in a listed system of battery and inverter"));
        } else {
            standard(inquiry, system, sheet);
        }
    }
    if let Some(inverter) = sheet.want(need!(system, inverter)) {
        let inverter = need!(inquiry.project(), electrical.inverters).named(&inverter)?;
        if let Some(listed) = sheet.want(need!(inverter, listing.listed)) {
            let words = if *listed { "listed" } else { "not listed" };
            if !sheet.require("inverter", text!("inverter {} is {}", inverter.id, words), "IRC R328.2", *listed) {
                sheet.related(inverter.pointer());
                sheet.cure(text!("put in an inverter listed to UL 1741, or one inside the system's listing"));
            }
        }
    }
    Ok(text!("listed as a system"))
}

/// The standard of the listing.
fn standard(inquiry: &Inquiry, system: &Place<StorageSystem>, sheet: &mut Sheet) {
    let asked = inquiry.value(&STANDARD);
    if asked == "any listing" {
        return;
    }
    let Some(named) = sheet.want(need!(system, listing.standard)) else { return };
    let holds = names(&named, asked);
    let words = text!("listed to {}, {} is asked for", named.as_str(), asked);
    if !sheet.require("standard", words, "IRC R328.2", holds) {
        sheet.cure(text!("put in a system listed to {}", asked));
    }
}

/// Whether a listing names a standard: `UL9540`, `ANSI/CAN/UL 9540:2023`, `UL 9540 and UL 1973` name UL 9540; `UL 9540A` is a test
/// method and does not.
fn names(listing: &str, standard: &str) -> bool {
    let upper = listing.to_ascii_uppercase();
    let words: Vec<&str> = upper.split(|one: char| !one.is_ascii_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let asked: Vec<&str> = standard.split_whitespace().collect();
    words.windows(asked.len()).any(|run| run == &asked[..]) || words.contains(&asked.concat().as_str())
}

/// Batteries that belong to no system.
fn strays(inquiry: &Inquiry) -> Vec<Finding> {
    let list = need!(inquiry.project(), electrical.storage)
        .map_or("/electrical/storage".to_owned(), |list| format!("{}/{}", list.pointer(), list.len()));
    let ask = |battery: Place<Equipment>| {
        battery.ask(WANTED, || Err(Unresolved::because(list.clone(), "the storage system this battery is a unit of")))
    };
    units::strays(inquiry).into_iter().map(ask).collect()
}
