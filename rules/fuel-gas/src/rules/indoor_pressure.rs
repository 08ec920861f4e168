//! Gas piping inside a building is kept to a low pressure.
//!
//! What leaks from a pipe goes with the pressure in it. Inside a dwelling the model codes hold piping to 5 psi, unless it
//! is welded or brazed, joined by listed press-connect fittings, or runs in a ventilated casing or chase. NFPA 54 lets propane have
//! 20 psi; the residential code does not.
//!
//! **How it is measured.** The pressure in each pipe is that of its zone: of the supply, or of the regulator before it. A pipe
//! counts as indoors where a space it runs through is named, unless all its ways are outdoors or underground.
//!
//! **How it is fixed.** A regulator outdoors, ahead of the wall; by a licensed fitter or the supplier.

use crate::piping::{self, Piping};
use redtag_rule::prelude::*;

/// The greatest pressure of natural gas.
const NATURAL: Quantity<dimensions::Pressure> = Quantity::new(
    "greatest_natural_gas",
    "5 psi",
    "Natural gas piping inside a building may have at most this pressure.",
    "IRC G2413.7 (IFGC 402.7), from memory",
)
.within("7 in wc", "20 psi");
/// The greatest pressure of propane.
const PROPANE: Quantity<dimensions::Pressure> = Quantity::new(
    "greatest_propane",
    "5 psi",
    "Propane piping inside a building may have at most this pressure.",
    "2018 IRC G2413.7 (IFGC 402.7), whose propane clause is about cold alone; NFPA 54 lets propane have 20 psi",
)
.within("11 in wc", "20 psi");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2018", "G2413.7"),
        remembered("IRC", "2021", "G2413.7"),
        remembered("IFGC", "2021", "402.7"),
        cited("NFPA 54", "2018", "5.5"),
    ],
    parameters: &[&NATURAL, &PROPANE],
    reads: &["/gas"],
    ..Rule::new("fuel-gas/indoor-pressure", "Gas pressure inside the building", check)
};

const WANTED: &str = "which pressure the pipe has inside the building";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    if !piping::is_drawn(inquiry) {
        return piping::nothing_drawn(inquiry);
    }
    let piping = match Piping::of(inquiry) {
        Ok(piping) => piping,
        Err(unresolved) => return vec![inquiry.project().ask(WANTED, || Err(unresolved))],
    };
    let judged = |(number, segment): (usize, &Place<GasSegment>)| {
        if is_outdoors(segment) {
            return segment.not_applicable(text!("runs outdoors")).done();
        }
        segment.sheet(WANTED, |sheet| judge(inquiry, &piping, number, sheet))
    };
    piping.segments.iter().enumerate().map(judged).collect()
}

fn is_outdoors(segment: &Place<GasSegment>) -> bool {
    let inside = segment.spaces.iter().flatten().next().is_some();
    let routes = segment.routes.iter().flatten();
    let outdoors = |route: &GasPipeRoute| matches!(route, GasPipeRoute::Outdoors | GasPipeRoute::Underground);
    !inside && routes.clone().next().is_some() && routes.clone().all(outdoors)
}

fn judge(inquiry: &Inquiry, piping: &Piping, number: usize, sheet: &mut Sheet) -> Lookup<Text> {
    let segment = &piping.segments[number];
    let fuel = need!(piping.project, gas.supply.fuel);
    let pressure = match need!(segment, pressure) {
        Ok(stated) => Ok(stated),
        // In a loop no zone is the pipe's own.
        Err(unresolved) if piping.network.is_in_loop(number) => Err(unresolved),
        Err(unresolved) => piping.zone_of(number).map_or(Err(unresolved), |zone| piping.set_at(zone)),
    };
    let (fuel, pressure) = (fuel, pressure).together()?;
    let limit = match *fuel {
        Fuel::NaturalGas => inquiry.value(&NATURAL),
        Fuel::Propane => inquiry.value(&PROPANE),
        _ => return Err(Unresolved::because(fuel.pointer(), "natural gas or propane")),
    };
    let said =
        text!("{} in it, {} is the most inside a building", piping::pressure_of(pressure.quantity()), in_unit(limit, "psi"));
    let holds = at_most(pressure.quantity(), limit);
    if !holds && excepted(segment, sheet)? {
        return Ok(said);
    }
    if !sheet.require("pressure", said.clone(), "IRC G2413.7 (IFGC 402.7)", holds) {
        piping.mark(number, sheet);
        sheet.related(pressure.pointer());
        let cure = text!("have a licensed fitter set a regulator outdoors that brings it to {} or less", in_unit(limit, "psi"));
        sheet.cure(cure);
    }
    Ok(said)
}

/// Welded and brazed pipe, pipe joined by listed press-connect fittings, and pipe in a ventilated chase may have more.
fn excepted(segment: &Place<GasSegment>, sheet: &mut Sheet) -> Lookup<bool> {
    let source = "IRC G2413.7 (IFGC 402.7), exceptions, from memory";
    if segment.vented_casing == Some(true) {
        sheet.line("exception", text!("it runs in a ventilated casing or chase"), source);
        return Ok(true);
    }
    let joint = need!(segment, joint)?;
    let sound = matches!(*joint, GasJoint::Welded | GasJoint::Brazed | GasJoint::PressConnect);
    sheet.line("exception", text!("its joints are {}", *joint), source);
    Ok(sound)
}
