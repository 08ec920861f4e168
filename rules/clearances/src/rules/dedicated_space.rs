//! The space as wide and deep as a panel, from the floor up to 6 ft above it or to the structure, belongs to the wiring: no
//! pipe, no duct, nothing foreign runs through it.
//!
//! A pipe over a panel sweats and leaks into it, and a duct there leaves no way for the next raceway. Water in a panel kills.
//!
//! **How it is measured.** The footprint of the equipment, which is a few inches deep and not the depth of the working space,
//! from the floor to 72 in above its top or to the structural ceiling, whichever is lower. Bodies, pipes and ducts whose lines
//! the project draws are held against it; a pipe that runs in the room without a line leaves the question open, unless the
//! project says that the space is kept clear. A pipe beside it touches it and no more. Plain disconnects and inverters have no
//! such space.
//!
//! **How it is fixed.** Lead the pipe or duct around it, by the distance the finding states.

use crate::amounts::{inches, metres};
use crate::gear;
use crate::runs::Runs;
use crate::scene::{Scene, Scenes, Thing, marks};
use redtag_handbook::clearance::electrical;
use redtag_handbook::space::Solid;
use redtag_rule::prelude::*;

/// How far it reaches above the equipment.
const ABOVE: Quantity<dimensions::Length> =
    Quantity::new("above", "72 in", "How far the dedicated space reaches above the equipment.", "NEC 110.26(E)(1)(a)");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "110.26(E)(1)")],
    parameters: &[&ABOVE],
    reads: &["/spaces", "/equipment", "/electrical", "/ducts", "/gas", "/water", "/drainage"],
    ..Rule::new("clearances/dedicated-space", "Space above and below panels kept for the wiring", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let scenes = Scenes::of(inquiry);
    gear::each_indoors(
        inquiry,
        |equipment| gear::is_panelboard(inquiry, equipment),
        |equipment| {
            equipment
                .sheet("whether the space above and below it is kept free", |sheet| judge(inquiry, &scenes, equipment, sheet))
        },
    )
}

fn judge<'a>(inquiry: &Inquiry<'a>, scenes: &Scenes<'a>, equipment: &Place<'a, Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let clear = equipment.electrical.as_ref().and_then(|it| it.dedicated_space_clear);
    if clear == Some(false) {
        sheet.fault(text!("the project says that something foreign runs through the space above or below it"));
        sheet.cure(text!("lead what does not belong to the wiring around it"));
    }
    let scene = scenes.around(equipment)?;
    let thing = match (scene.thing(equipment), clear) {
        (Err(_), Some(true)) => return Ok(text!("the space above and below it is kept free, as the project states")),
        (thing, _) => thing?,
    };
    let space = &scene.space;
    let structure = space.structural_ceiling_height.as_ref().or(space.ceiling_height.as_ref()).map(|height| height.quantity());
    let top = electrical::dedicated_top(metres(thing.body.top()), inquiry.value(&ABOVE), structure);
    let zone = Solid::new(thing.body.plan(), 0.0, top.value);
    let highest = electrical::dedicated_top(metres(thing.body.top()), inquiry.value(&ABOVE), None);
    // A hung ceiling is no structure: what runs above it counts where the structure lies higher.
    let above = Solid::new(thing.body.plan(), top.value, highest.value);
    let size = text!("{} by {}, from the floor to {}", inches(thing.body.width), inches(thing.body.depth), in_unit(top, "in"));
    sheet.line("dedicated space", size, electrical::DEDICATED.text());
    let runs = Runs::of(inquiry, &scene.space);
    let hung = space.structural_ceiling_height.is_none() && top < highest;
    let over = |solid: &Solid| above.overlap(solid).is_some() && zone.overlap(solid).is_none();
    let foreign = |other: &&Thing| !std::ptr::eq(*other, thing) && !gear::is_electrical(&other.equipment);
    let bodies = scene.things.iter().filter(foreign).map(|other| &other.solid);
    if hung && runs.drawn.iter().map(|run| &run.solid).chain(bodies).any(over) {
        sheet.lack(space.missing("/structural_ceiling_height"));
    }
    for run in &runs.drawn {
        intrudes(scene, &zone, (&run.label, &run.pointer, &run.solid), sheet);
    }
    for other in scene.things.iter().filter(foreign) {
        intrudes(scene, &zone, (&other.equipment.label(), other.equipment.pointer(), &other.solid), sheet);
    }
    if !sheet.sound() {
        sheet.mark(marks(scene, "dedicated space", &zone));
    }
    if clear.is_none() {
        let strays = scene.strays(scenes, &equipment.get().id, |other| !gear::is_electrical(other));
        let untold = equipment.missing("/electrical/dedicated_space_clear");
        strays.map(|strays| strays.and(untold.clone())).into_iter().for_each(|strays| sheet.lack(strays));
        runs.astray.iter().for_each(|astray| sheet.lack(astray.clone()));
        if !runs.undrawn.is_empty() {
            let words = text!("{} pipes and ducts of this room have no line or height", runs.undrawn.len().to_string());
            sheet.line("not drawn", words, "");
            sheet.lack(untold);
        }
    }
    Ok(text!("nothing foreign between the floor and {} in its footprint", in_unit(top, "in")))
}

fn intrudes(scene: &Scene, zone: &Solid, (label, pointer, solid): (&str, &str, &Solid), sheet: &mut Sheet) {
    let Some(overlap) = zone.overlap(solid) else { return };
    let words = text!(
        "{} runs {} deep through the space above or below it, at {} above the floor",
        label,
        inches(overlap.plan),
        inches(solid.bottom)
    );
    sheet.test("foreign", words.clone(), electrical::DEDICATED.text(), false);
    sheet.fault(words);
    sheet.cure(text!("lead {} {} farther out, past the footprint, or above {}", label, inches(overlap.plan), inches(zone.top)));
    sheet.related(pointer);
    sheet.mark(marks(scene, label, solid));
}
