//! Where the building code for larger buildings governs, a room with a large furnace or boiler needs a one-hour enclosure or sprinklers.
//!
//! The residential code for houses has no such table. In a building of three or more dwellings a room outside the dwelling
//! units whose equipment burns more than 400,000 Btu/h, or whose boiler has more than 15 psi and more than 10 hp, is parted from
//! the rest by one hour or sprinklered.
//!
//! **How it is measured.** Only in buildings of several dwellings, and only in rooms outside the units: the largest single input, or
//! the sum where the rulebook reads it so, against the limit.
//!
//! **How it is fixed.** A one-hour enclosure of the room, automatic sprinklers, or smaller equipment.

use crate::parts::{parts_of, spaces};
use redtag_handbook::fire::{IncidentalLimits, IncidentalRoom, Reading, boiler_horsepower, incidental, sources};
use redtag_rule::prelude::*;
use uom::si::f64::Power;

/// Input.
const INPUT: Quantity<dimensions::Power> =
    Quantity::new("room_input", "400,000 Btu/h", "Greatest input without an enclosure.", "IBC Table 509 (2018), 509.1 (2021)");
/// Reading.
const READING: Choice = Choice::new(
    "input_reading",
    "single-piece",
    &["single-piece", "sum"],
    "Whether each piece of equipment is held to the limit, or all in the room together.",
    "IBC Table 509 speaks of any piece; two readings are in use",
);
/// Boiler pressure.
const PRESSURE: Quantity<dimensions::Pressure> = Quantity::new(
    "boiler_pressure",
    "15 psi",
    "Greatest pressure of a boiler over the horsepower limit without an enclosure.",
    "IBC Table 509",
);
/// Boiler horsepower.
const HORSEPOWER: Number = Number::new(
    "boiler_horsepower",
    10.0,
    "Greatest output in boiler horsepower of a boiler over the pressure limit without an enclosure.",
    "IBC Table 509",
);
/// The rating.
const RATING: Quantity<dimensions::Duration> = Quantity::new("room_rating", "1 h", "Rating of the enclosure.", "IBC Table 509");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IBC", "2018", "Table 509"), cited("IBC", "2021", "509.1")],
    parameters: &[&INPUT, &READING, &PRESSURE, &HORSEPOWER, &RATING],
    reads: &["/building", "/spaces", "/equipment"],
    ..Rule::new("fire-separation/incidental-use", "Large furnace and boiler rooms", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let governs = need!(inquiry.project(), building.occupancy);
    if governs.as_ref().is_ok_and(|occupancy| **occupancy != Occupancy::MultifamilyDwelling) {
        return Vec::new();
    }
    let rooms = spaces(inquiry).into_iter().filter(|space| space.dwelling_unit.is_none());
    let judged = rooms.filter_map(|space| {
        let finding = one(inquiry, &space)?;
        match &governs {
            Ok(_) => Some(finding),
            // What the building is matters only where the room would have to be enclosed.
            Err(unresolved) if finding.outcome == Outcome::Correction => Some(space.ask(WANTED, || Err(unresolved.clone()))),
            Err(_) => None,
        }
    });
    let mut findings: Vec<Finding> = judged.collect();
    if governs.is_ok() {
        findings.extend(roomless(inquiry));
    }
    findings
}

const WANTED: &str = "whether the room must be enclosed";

/// Burners that do not say which room they stand in: each adds to some room.
fn roomless(inquiry: &Inquiry) -> Vec<Finding> {
    let lost = |one: &Place<Equipment>| one.space.is_none() && one.outdoors != Some(true) && kinds::may_burn(one);
    let every = need!(inquiry.project(), equipment).every();
    every.iter().filter(|one| lost(one)).map(|one| one.ask(WANTED, || Err(one.missing("/space")))).collect()
}

fn one(inquiry: &Inquiry, space: &Place<Space>) -> Option<Finding> {
    let burns = |equipment: &Place<Equipment>| equipment.space.as_deref() == Some(&space.id) && kinds::may_burn(equipment);
    let burners: Vec<Place<Equipment>> = need!(inquiry.project(), equipment).every().into_iter().filter(burns).collect();
    if burners.is_empty() {
        return None;
    }
    Some(space.sheet(WANTED, |sheet| judge(inquiry, space, &burners, sheet)))
}

fn judge(inquiry: &Inquiry, space: &Place<Space>, burners: &[Place<Equipment>], sheet: &mut Sheet) -> Lookup<Text> {
    let source = sources::INCIDENTAL.text();
    let limits = IncidentalLimits {
        input: inquiry.value(&INPUT),
        pressure: inquiry.value(&PRESSURE),
        horsepower: inquiry.value(&HORSEPOWER),
    };
    let inputs: Vec<Lookup<Power>> = burners
        .iter()
        .map(|burner| kinds::burns(burner).and_then(|_| need!(burner, fuel_burning.plate.input)).map(|input| input.quantity()))
        .collect();
    let reading = if inquiry.value(&READING) == "sum" { Reading::Sum } else { Reading::SinglePiece };
    let (counted, over) = incidental(&IncidentalRoom { inputs: inputs.together()? }, reading, &limits);
    sheet.line("input", text!("{} counts, {} is the most without an enclosure", counted, limits.input), source);
    let boilers: Vec<Lookup<bool>> =
        burners.iter().filter(|burner| burner.kind == EquipmentKind::Boiler).map(|boiler| large(boiler, &limits)).collect();
    if !over && !boilers.together()?.into_iter().any(|large| large) {
        return Ok(text!("{} and no large boiler: no enclosure is asked for", counted));
    }
    if space.sprinklered == Some(true) {
        return Ok(text!("sprinklered"));
    }
    let sprinklered = need!(space, sprinklered).map(|_| ());
    let assemblies = need!(space, assemblies)?;
    let rating = inquiry.value(&RATING);
    let enclosing = parts_of(space).into_iter().filter(|part| {
        !matches!(part.assembly.beyond.as_ref().map(|beyond| beyond.kind), Some(BeyondKind::Outdoors | BeyondKind::Ground))
    });
    let mut any = false;
    for part in enclosing {
        any = true;
        let Some(claimed) = sheet.want(need!(part.assembly, fire_rating)) else { continue };
        let words = text!("{} is rated {}, {} is asked for, or sprinklers", part.assembly.label(), claimed, rating);
        let holds = at_least(claimed.quantity(), rating);
        if holds {
            sheet.test("enclosure", words, source, true);
        } else if sprinklered.is_ok() {
            sheet.require("enclosure", words, source, false);
        } else {
            sheet.want(sprinklered.clone());
        }
    }
    if !any {
        return Err(Unresolved::because(assemblies.pointer(), "the walls and ceiling that enclose the room"));
    }
    sheet.cure(text!("enclose the room by {}, or sprinkler it", rating));
    Ok(text!("enclosed by {}", rating))
}

/// Whether a boiler has more pressure and more horsepower than the limits.
fn large(boiler: &Place<Equipment>, limits: &IncidentalLimits) -> Lookup<bool> {
    let output = need!(boiler, fuel_burning.plate.output).or_else(|_| need!(boiler, fuel_burning.plate.input))?.quantity();
    if boiler_horsepower(output) <= limits.horsepower {
        return Ok(false);
    }
    let relief = need!(boiler, relief)?;
    let pressures: Vec<Lookup<Place<quantity::Pressure>>> = relief.items().map(|valve| need!(valve, pressure)).collect();
    let pressures = pressures.together()?;
    if pressures.is_empty() {
        return Err(Unresolved::because(relief.pointer(), "the pressure of the boiler's relief valve"));
    }
    Ok(pressures.iter().any(|pressure| !at_most(pressure.quantity(), limits.pressure)))
}
