//! The gas of a building can be shut off from outside.
//!
//! Whoever smells gas, and the fire department, must not go in to shut it off. If you smell gas, leave first and call from outside.
//!
//! **How it is measured.** Whether a valve for the whole building stands outdoors, at the meter, at the second-stage regulator or where the
//! pipe enters, and whether it can be reached.
//!
//! **How it is fixed.** A listed valve outdoors, by a licensed fitter or the gas supplier.

use crate::marks;
use redtag_rule::prelude::*;

const SOURCE: &str = "IRC G2420.2, G2420.3 (IFGC 409.2, 409.3)";
/// Indoors.
const INDOORS: Choice = Choice::new(
    "valve_indoors",
    "correction",
    &["correction", "advice"],
    "What a valve for the whole building that stands indoors alone is.",
    "IFGC 409.3.2 asks for outdoors where a system serves several buildings; inspectors ask it of each",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2015", "G2420.2"),
        remembered("IRC", "2021", "G2420.2"),
        remembered("IRC", "2021", "G2420.3"),
        remembered("IFGC", "2021", "409.2"),
        remembered("IFGC", "2021", "409.3"),
    ],
    parameters: &[&INDOORS],
    reads: &["/gas"],
    ..Rule::new("gas-installation/building-shutoff", "Shutoff valve of the building", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let Ok(gas) = need!(inquiry.project(), gas) else { return Vec::new() };
    if gas.supply.is_none() && gas.segments.is_none() {
        return Vec::new();
    }
    vec![crate::named::sheet(&gas, "whether the building can be shut off from outside", |sheet| judge(inquiry, &gas, sheet))]
}

fn judge(inquiry: &Inquiry, gas: &Place<Gas>, sheet: &mut Sheet) -> Lookup<Text> {
    let valves = need!(gas, valves)?;
    let ours: Vec<Place<GasValve>> = valves.items().filter(|valve| valve.kind == GasValveKind::Building).collect();
    if ours.is_empty() {
        let what =
            "the valve that shuts off the building, of kind `building`: at the meter, the second-stage regulator or the wall";
        return Err(Unresolved::because(valves.pointer(), what));
    }
    let outside = |valve: &&Place<GasValve>| valve.outdoors == Some(true) && valve.space.is_none();
    let Some(valve) = ours.iter().find(outside) else {
        let first = &ours[0];
        if first.outdoors.is_none() && first.space.is_none() {
            return Err(first.missing("/outdoors"));
        }
        let words = text!("{} stands indoors", first.id.as_str());
        sheet.related(first.pointer());
        if inquiry.value(&INDOORS) == "advice" {
            sheet.advise(text!("{}: the building cannot be shut off from outside", words));
        } else {
            sheet.require("valve", text!("{}: the building cannot be shut off from outside", words), SOURCE, false);
            sheet.cure(text!("fit a listed valve outdoors, where the pipe enters or at the meter or regulator"));
            marks::point(sheet, first.space.as_deref(), first.at.as_ref(), "shutoff valve of the building");
        }
        return Ok(Text::default());
    };
    sheet.related(valve.pointer());
    if valve.readily_accessible == Some(true) {
        return Ok(text!("{} outdoors shuts off the building", valve.id.as_str()));
    }
    let reached = need!(valve, accessible)?;
    let words = text!("{} outdoors {} be reached", valve.id.as_str(), if *reached { "can" } else { "cannot" });
    if !sheet.require("access", words, SOURCE, *reached) {
        sheet.cure_at(text!("give access to {}", valve.id.as_str()), &[(reached.pointer().to_owned(), json!(true))]);
    }
    Ok(text!("{} outdoors shuts off the building", valve.id.as_str()))
}
