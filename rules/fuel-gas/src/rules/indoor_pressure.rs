//! Gas piping inside a building is kept to a low pressure.
//!
//! What leaks from a pipe goes with the pressure in it. Inside a dwelling the model codes hold piping to 5 psi, unless it is
//! welded, or runs in a ventilated chase, or is otherwise let by; propane piping to 20 psi in NFPA 54, which many jurisdictions
//! do not follow indoors.
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
    "IRC G2413.6 (IFGC 402.6), from memory; its exceptions for welded pipe and ventilated chases are read",
)
.within("7 in wc", "20 psi");
/// The greatest pressure of propane.
const PROPANE: Quantity<dimensions::Pressure> = Quantity::new(
    "greatest_propane",
    "5 psi",
    "Propane piping inside a building may have at most this pressure.",
    "IRC G2413.6 (IFGC 402.6), from memory; NFPA 54 2018 section 5.5 lets propane have 20 psi",
)
.within("11 in wc", "20 psi");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2018", "G2413.6"),
        remembered("IRC", "2021", "G2413.6"),
        remembered("IFGC", "2021", "402.6"),
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
    let said = text!("{} in it, {} is the most inside a building", in_unit(pressure.quantity(), "psi"), in_unit(limit, "psi"));
    if !sheet.require("pressure", said.clone(), "IRC G2413.6 (IFGC 402.6)", at_most(pressure.quantity(), limit)) {
        piping.mark(number, sheet);
        sheet.related(pressure.pointer());
        let cure = text!("have a licensed fitter set a regulator outdoors that brings it to {} or less", in_unit(limit, "psi"));
        sheet.cure(cure);
    }
    Ok(said)
}
