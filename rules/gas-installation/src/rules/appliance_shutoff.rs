//! Every gas appliance needs a shutoff valve of its own: in the same room, close by, ahead of the joint where the appliance
//! is taken off, and within reach.
//!
//! Whoever smells gas or changes a burner must be able to shut off that one appliance without looking for the valve. A valve
//! behind the union leaves the pipe open when the appliance is taken away.
//!
//! **How it is measured.** From the appliance to its valve along the pipe, 6 ft at most, as stated and no less than the straight way
//! between the two where both are drawn; whether both are in one room;
//! whether the valve comes before the union, connector or quick-disconnect. A valve at the manifold may serve instead, 50 ft
//! away at most, readily accessible and marked for good. A valve elsewhere may serve one vented decorative appliance or room
//! heater and nothing else.
//!
//! **How it is fixed.** A valve moved or added by a licensed fitter, and the piping tested again. If you smell gas, leave and
//! call from outside.

use crate::{marks, parts};
use redtag_rule::prelude::*;

const SOURCE: &str = "IRC G2420.5 (IFGC 409.5)";
const GREATEST: Quantity<dimensions::Length> = Quantity::new(
    "greatest_distance",
    "6 ft",
    "Greatest distance along the pipe from an appliance to its shutoff valve.",
    "IRC G2420.5.1 (IFGC 409.5.1); 3 ft in older plumbing codes",
)
.within("1 ft", "10 ft");
const AT_MANIFOLD: Flag = Flag::new(
    "at_manifold_allowed",
    true,
    "Whether a valve at the manifold may serve an appliance in another place.",
    "IRC G2420.5.3 (IFGC 409.5.3)",
);
const FROM_MANIFOLD: Quantity<dimensions::Length> = Quantity::new(
    "greatest_distance_from_manifold",
    "50 ft",
    "Greatest distance from an appliance to its valve at the manifold.",
    "IRC G2420.5.3 (IFGC 409.5.3)",
)
.within("6 ft", "100 ft");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "G2420.5"), cited("IFGC", "2018", "409.5")],
    parameters: &[&GREATEST, &AT_MANIFOLD, &FROM_MANIFOLD],
    reads: &["/equipment", "/gas"],
    ..Rule::new("gas-installation/appliance-shutoff", "Shutoff valve of each gas appliance", check)
};

const WANTED: &str = "whether the appliance can be shut off where it stands";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    parts::each_appliance(inquiry, |appliance| judge(inquiry, appliance))
}

fn judge(inquiry: &Inquiry, appliance: &Place<Equipment>) -> Finding {
    let valves = match need!(inquiry.project(), gas.valves) {
        Ok(valves) => valves,
        Err(unresolved) => return appliance.ask(WANTED, || Err(unresolved)),
    };
    let serves = |valve: &Place<GasValve>| {
        use GasValveKind::{Appliance, AtManifold, Remote};
        valve.equipment.as_ref() == Some(&appliance.id) && matches!(valve.kind, Appliance | AtManifold | Remote)
    };
    // The best of its valves decides: a second one does no harm.
    let found =
        valves.items().filter(serves).map(|valve| appliance.sheet(WANTED, |sheet| one(inquiry, appliance, &valve, sheet)));
    let rank = |finding: &Finding| match finding.outcome {
        Outcome::Complies => 0,
        Outcome::Unresolved => 1,
        _ => 2,
    };
    let unnamed = |valve: &Place<GasValve>| {
        use GasValveKind::{Appliance, AtManifold, Remote};
        valve.equipment.is_none() && matches!(valve.kind, Appliance | AtManifold | Remote)
    };
    if let (None, Some(valve)) = (valves.items().find(&serves), valves.items().find(unnamed)) {
        return appliance.ask(WANTED, || Err(valve.missing("/equipment")));
    }
    found.min_by_key(rank).unwrap_or_else(|| appliance.sheet(WANTED, |sheet| none(inquiry, appliance, sheet)))
}

fn none(inquiry: &Inquiry, appliance: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    // An electric heater or a diesel engine wants no gas valve: what it burns comes first.
    if !parts::is_on_gas(inquiry, appliance)? {
        return Ok(text!("it burns no gas"));
    }
    sheet.require("valve", text!("no valve of its own shuts it off"), SOURCE, false);
    sheet.cure(text!("fit a listed valve in its room, {} away at most, ahead of its union", inquiry.value(&GREATEST)));
    if let Some(outlet) = parts::outlet(inquiry, appliance) {
        sheet.related(outlet.pointer());
        marks::node(sheet, &outlet, "no shutoff valve");
    }
    Ok(Text::default())
}

fn one(inquiry: &Inquiry, appliance: &Place<Equipment>, valve: &Place<GasValve>, sheet: &mut Sheet) -> Lookup<Text> {
    sheet.related(valve.pointer());
    sheet.line("valve", text!("{}, {}", valve.id.as_str(), valve.kind), SOURCE);
    let limit = match valve.kind {
        GasValveKind::AtManifold => manifold(inquiry, valve, sheet),
        GasValveKind::Remote => remote(inquiry, appliance, valve, sheet),
        _ => beside(inquiry, appliance, valve, sheet),
    };
    if let Some(limit) = limit {
        let cure = |most| text!("move it to {} from the appliance at most", most);
        parts::no_more(sheet, need!(valve, distance), limit, ("the valve's distance", "ft"), cure, SOURCE);
        drawn(appliance, valve, limit, sheet);
    }
    if !sheet.sound() {
        marks::point(sheet, valve.space.as_deref(), valve.at.as_ref(), "shutoff valve");
    }
    Ok(text!("{} shuts it off", valve.id.as_str()))
}

/// No pipe is shorter than the straight way between the two as they are drawn, whatever is stated.
fn drawn(appliance: &Place<Equipment>, valve: &Place<GasValve>, limit: uom::si::f64::Length, sheet: &mut Sheet) {
    let Some(apart) = parts::apart(appliance, valve.at.as_ref()) else { return };
    if at_most(apart, limit) {
        return;
    }
    let words = text!("the valve is drawn {} from it in plan, {} is the most along the pipe", in_unit(apart, "ft"), limit);
    sheet.require("as drawn", words, SOURCE, false);
    sheet.cure(text!("move it to {} from the appliance at most, or draw it where it is", limit));
}

fn beside(
    inquiry: &Inquiry,
    appliance: &Place<Equipment>,
    valve: &Place<GasValve>,
    sheet: &mut Sheet,
) -> Option<uom::si::f64::Length> {
    if appliance.outdoors != Some(true) {
        let rooms = (need!(appliance, space), need!(valve, space)).together();
        if let Some((room, other)) = sheet.want(rooms) {
            let words = if *room == *other {
                text!("in the room of the appliance")
            } else {
                text!("the valve is in {}, the appliance in {}", other.as_str(), room.as_str())
            };
            if !sheet.require("room", words, SOURCE, *room == *other) {
                sheet.cure(text!("move the valve into {}, or fit another there", room.as_str()));
            }
        }
    }
    let order = ("order", text!("the valve is not ahead of the union or connector"));
    let cure = text!("put the valve ahead of the union, connector or quick-disconnect");
    parts::demand(sheet, need!(valve, upstream_of_union), order, cure, SOURCE);
    let access = ("access", text!("the valve cannot be reached"));
    parts::demand(sheet, need!(valve, accessible), access, text!("give access to the valve, or move it"), SOURCE);
    Some(inquiry.value(&GREATEST))
}

fn manifold(inquiry: &Inquiry, valve: &Place<GasValve>, sheet: &mut Sheet) -> Option<uom::si::f64::Length> {
    if !inquiry.value(&AT_MANIFOLD) {
        sheet.fault(text!("a valve at the manifold does not serve here"));
        sheet.cure(text!("fit a valve in the room of the appliance, {} away at most", inquiry.value(&GREATEST)));
        return None;
    }
    marked(valve, sheet);
    Some(inquiry.value(&FROM_MANIFOLD))
}

fn remote(
    inquiry: &Inquiry,
    appliance: &Place<Equipment>,
    valve: &Place<GasValve>,
    sheet: &mut Sheet,
) -> Option<uom::si::f64::Length> {
    use EquipmentKind::{GasFireplace, RoomHeater};
    let may = matches!(appliance.kind, GasFireplace | RoomHeater);
    let words = text!("a valve elsewhere serves vented decorative appliances and room heaters only");
    if !sheet.require("remote", words, SOURCE, may) {
        sheet.cure(text!("fit a valve in the room of the appliance"));
    }
    let others: Vec<String> = parts::behind(inquiry, valve).into_iter().filter(|id| *id != appliance.id).collect();
    if !others.is_empty() {
        sheet.require("serves one", text!("it shuts off {} as well", others.join(", ")), SOURCE, false);
        sheet.cure(text!("fit a valve of its own for each appliance"));
    }
    marked(valve, sheet);
    None
}

fn marked(valve: &Place<GasValve>, sheet: &mut Sheet) {
    let access = ("access", text!("the valve is not readily accessible"));
    parts::demand(sheet, need!(valve, readily_accessible), access, text!("clear the way to the valve"), SOURCE);
    let label = ("label", text!("nothing says which appliance the valve serves"));
    parts::demand(sheet, need!(valve, identified), label, text!("mark the valve for good with the appliance it serves"), SOURCE);
}
