//! With everything on, enough pressure must be left at every appliance for it to burn as it is made to.
//!
//! The sizing tables hold the drop of a whole line to a figure, half an inch of water for most houses. An appliance does not know
//! that figure, it knows its own least inlet pressure. A tankless heater that wants 8 inches of water at the end of a line, or
//! a range that wants 10 1/2 from a supply of 11, can starve on piping that every table passes.
//!
//! **How it is measured.** From the least pressure the supplier promises, or the pressure of the supply, what each pipe takes at
//! its full load is taken off, pipe by pipe, by the code's equation with the length of all fittings; corrugated tubing by its
//! own table, which bounds the drop from both sides. A regulator starts anew at its setting, provided that enough pressure
//! reaches it. What is left is held against the least inlet pressure of the rating plate, or of the conversion kit. What the
//! appliance's valve and flexible connector take is not in these figures: where little is to spare, measure with a manometer
//! while everything burns. A measured pressure goes before a computed one.
//!
//! **How it is fixed.** A larger pipe where the most is lost, which the finding names; a regulator set higher within what every
//! appliance behind it takes; a higher delivery. For a licensed fitter and the supplier.

use crate::judging::Judging;
use crate::profile::{Pressures, Tried};
use crate::{parameters, piping, sizes};
use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("IRC", "2018", "G2413.1"),
        cited("IRC", "2018", "G2413.5"),
        remembered("IRC", "2021", "G2413.5"),
        remembered("IFGC", "2021", "402.5"),
    ],
    parameters: &[&parameters::GENERIC_TUBING, &parameters::ALTITUDE_FROM, &parameters::ALTITUDE_DEMAND],
    reads: &["/equipment", "/gas", "/site"],
    ..Rule::new("fuel-gas/running-pressure", "Pressure left at every appliance with everything on", check)
};

const WANTED: &str = "whether enough pressure is left at the appliance";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    if !piping::is_drawn(inquiry) {
        return piping::nothing_drawn(inquiry);
    }
    let judging = match Judging::of(inquiry) {
        Ok(judging) => judging,
        Err(unresolved) => return vec![inquiry.project().ask(WANTED, || Err(unresolved))],
    };
    let pressures = Pressures::of(&judging);
    let mut findings = Vec::new();
    for (node, appliance) in judging.demand.appliances.iter().enumerate() {
        if let Some(appliance) = appliance {
            findings.push(appliance.sheet(WANTED, |sheet| judge(&judging, &pressures, node, appliance, sheet)));
        }
    }
    findings
}

/// The least inlet pressure for the gas supplied. That on a plate for another gas is none of it: what the burner was changed to
/// is then asked for.
fn least<'a>(project: &Place<Project>, appliance: &Place<'a, Equipment>) -> Lookup<Place<'a, quantity::Pressure>> {
    let converted = need!(appliance, fuel_burning.conversion).ok().filter(|conversion| conversion.performed != Some(false));
    match converted {
        Some(conversion) => need!(conversion, inlet_pressure_minimum),
        None if of_another_gas(project, appliance) => Err(appliance.missing("/fuel_burning/conversion")),
        None => need!(appliance, fuel_burning.plate.inlet_pressure_minimum),
    }
}

fn of_another_gas(project: &Place<Project>, appliance: &Place<Equipment>) -> bool {
    let plate = need!(appliance, fuel_burning.plate.fuel).ok().map(|fuel| *fuel);
    let supplied = need!(project, gas.supply.fuel).ok().map(|fuel| *fuel);
    plate.zip(supplied).is_some_and(|(plate, supplied)| plate != supplied)
}

fn judge(judging: &Judging, pressures: &Pressures, node: usize, appliance: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let wanted = sheet.want(least(&judging.piping.project, appliance));
    let profile = pressures.to(node, sheet);
    let enlarged = |wanted| profile.as_ref().ok().and_then(|profile| pressures.enlarged(profile, wanted));
    let measured = need!(appliance, fuel_burning.running_inlet_pressure);
    sheet.related(judging.piping.nodes[node].pointer());
    if let (Ok(measured), Some(wanted)) = (&measured, &wanted) {
        let words = text!("{} measured at the inlet with everything on, it needs {}", measured, wanted);
        if !sheet.require(
            "least inlet pressure",
            words,
            "IRC G2413.5 (IFGC 402.5)",
            at_least(measured.quantity(), wanted.quantity()),
        ) {
            cure(judging, enlarged(wanted.quantity()), wanted.quantity(), sheet);
        }
        return Ok(text!("{} measured, it needs {}", measured, wanted));
    }
    let profile = profile.as_ref().map_err(Clone::clone)?;
    let Some(wanted) = wanted else { return Ok(Text::default()) };
    let words = text!("{} left of {}, it needs {}", profile.left.words(), profile.from.words(), wanted);
    let enough = profile.left.least.is_some_and(|left| at_least(left, wanted.quantity()));
    if enough || !at_least(profile.left.most, wanted.quantity()) {
        if !sheet.require("least inlet pressure", words.clone(), "IRC G2413.5 (IFGC 402.5)", enough) {
            profile.pipes.iter().for_each(|pipe| judging.piping.mark(*pipe, sheet));
            cure(judging, enlarged(wanted.quantity()), wanted.quantity(), sheet);
        }
        return Ok(words);
    }
    sheet.line("least inlet pressure", words, "IRC G2413.5 (IFGC 402.5)");
    let pointer = format!("{}/fuel_burning/running_inlet_pressure", appliance.pointer());
    let here = Unresolved::because(pointer, "the pressure at the inlet, measured with everything on: it is too close to compute");
    Err(profile.missing.clone().unwrap_or(here))
}

fn cure(judging: &Judging, tried: Option<Tried>, wanted: uom::si::f64::Pressure, sheet: &mut Sheet) {
    let Some(tried) = tried.filter(|tried| !tried.is_empty()) else {
        return sheet.cure(text!(
            "ask for a higher delivery, or have a licensed fitter set the regulator before it higher within what all behind it take: \
             larger pipe alone does not leave {}",
            in_unit(wanted, "in wc")
        ));
    };
    let mut values = Vec::new();
    let mut named = Vec::new();
    for (segment, size) in tried {
        let place = &judging.piping.segments[segment];
        if let Some((step, value)) = sizes::written(place.material.unwrap_or_default(), size) {
            values.push((format!("{}{step}", place.pointer()), value));
            named.push(format!("{} by {size}", place.get().id));
        }
    }
    sheet.cure_at(text!("have a licensed fitter replace {}", named.join(", ")), &values);
}
