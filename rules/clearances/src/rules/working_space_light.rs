//! Panels and service equipment indoors need light to work by, and a switch that a hand can work: a motion sensor alone will
//! not do.
//!
//! A sensor that loses sight of somebody who works behind an open cover leaves him in the dark before live parts.
//!
//! **How it is measured.** A luminaire in the room; one that lights the equipment, or another of the same room as an adjacent
//! source. At least one of them must have a switch that is not automatic only. A sensor with a switch that overrides it is
//! enough.
//!
//! **How it is fixed.** Hang a luminaire at the working space, or give its sensor an override.

use crate::gear;
use redtag_rule::prelude::*;

/// Older editions let a sensor alone do.
const SENSOR_ALONE: Flag =
    Flag::new("sensor_alone", false, "Whether light at the working space may be controlled by a sensor alone.", "NEC 110.26(D)");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "110.26(D)")],
    parameters: &[&SENSOR_ALONE],
    reads: &["/spaces", "/equipment", "/electrical"],
    ..Rule::new("clearances/working-space-light", "Light at the working space", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    gear::each_indoors(
        inquiry,
        |equipment| gear::is_panelboard(inquiry, equipment),
        |equipment| equipment.sheet("whether there is light to work by", |sheet| judge(inquiry, equipment, sheet)),
    )
}

fn judge(inquiry: &Inquiry, equipment: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let id = need!(equipment, space)?;
    let space = inquiry.space(&id)?;
    let luminaires: Vec<Place<Luminaire>> = need!(space, luminaires)?.items().collect();
    if luminaires.is_empty() {
        sheet.fault(text!("there is no luminaire in its room"));
        sheet.cure(text!("hang a luminaire at its working space, with a switch at the entry"));
        return Ok(Text::default());
    }
    let lights = |luminaire: &&Place<Luminaire>| luminaire.lights.iter().flatten().any(|lit| *lit == equipment.get().id);
    let own: Vec<&Place<Luminaire>> = luminaires.iter().filter(lights).collect();
    let chosen: Vec<&Place<Luminaire>> = if own.is_empty() { luminaires.iter().collect() } else { own.clone() };
    let words = if own.is_empty() { "an adjacent source in the same room" } else { "a luminaire that lights it" };
    sheet.line("light", text!("{}: {}", words, chosen.first().map_or("", |luminaire| luminaire.id.as_str())), "NEC 110.26(D)");
    if inquiry.value(&SENSOR_ALONE) {
        return Ok(text!("lit by {}", words));
    }
    let controls: Vec<Lookup<bool>> = chosen.iter().map(|luminaire| by_hand(inquiry, luminaire)).collect();
    if controls.iter().any(|control| control == &Ok(true)) {
        return Ok(text!("lit by {}, with a switch that a hand can work", words));
    }
    let untold: Vec<Unresolved> = controls.into_iter().filter_map(Result::err).collect();
    if untold.is_empty() {
        sheet.fault(text!("its light is controlled by a sensor alone"));
        sheet.cure(text!("give the sensor a switch that overrides it"));
    }
    untold.into_iter().for_each(|untold| sheet.lack(untold));
    Ok(Text::default())
}

/// Whether a hand can work the switch of a luminaire.
fn by_hand(inquiry: &Inquiry, luminaire: &Place<Luminaire>) -> Lookup<bool> {
    let id = need!(luminaire, switch)?;
    let spaces = need!(inquiry.project(), spaces).every();
    let switches = spaces.iter().flat_map(|space| need!(space, switches).every());
    let found = switches.into_iter().find(|switch| switch.get().id == *id.get());
    let switch = found.ok_or_else(|| Unresolved::at(id.pointer()))?;
    match switch.kind {
        SwitchKind::Manual | SwitchKind::AutomaticWithOverride => Ok(true),
        SwitchKind::Automatic => Ok(false),
        SwitchKind::Unrecognised => Err(switch.missing("/kind")),
    }
}
