//! Two working spaces may lie over each other, since one person works at a time; a clearance to what can burn may not hold what
//! burns, and where another appliance stands in it both listings decide.
//!
//! **How it is measured.** Every space that work or heat asks for in a room is drawn before the middle of its equipment: the
//! working spaces of electrical equipment, the service spaces that instructions ask for, the clearances of labels. Where two of
//! them overlap, the finding says by how much and that they may. Where the body of one appliance stands in the label's
//! clearance of another, it points that out: a metal jacket does not burn, but either maker may ask for more.
//!
//! **How it is fixed.** Nothing, where two working spaces overlap. Else read both instructions, or move one of the two.

use crate::amounts::inches;
use crate::scene::{Scene, Scenes, Thing, marks};
use crate::{gear, label, surface};
use redtag_handbook::space::{self, Solid};
use redtag_rule::prelude::*;

/// Depth of the electrical working spaces that are drawn.
const DEPTH: Quantity<dimensions::Length> = Quantity::new(
    "electrical_depth",
    "36 in",
    "Depth of the electrical working spaces that are drawn.",
    "NEC Table 110.26(A)(1)",
);
/// Width of the electrical working spaces that are drawn.
const WIDTH: Quantity<dimensions::Length> =
    Quantity::new("electrical_width", "30 in", "Width of the electrical working spaces that are drawn.", "NEC 110.26(A)(2)");
/// Height of all of them.
const HEIGHT: f64 = 1.9812;

/// The rule.
pub const RULE: Rule = Rule {
    level: Level::Advice,
    citations: &[cited("NEC", "2020", "110.26(A)(2)"), remembered("IRC", "2021", "M1305.1, M1306.1")],
    parameters: &[&DEPTH, &WIDTH],
    reads: &["/spaces", "/equipment"],
    ..Rule::new("clearances/shared-spaces", "Spaces that overlap", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let scenes = Scenes::of(inquiry);
    scenes
        .rooms()
        .filter_map(|scene| {
            let zones = zones(inquiry, scene);
            let untold = untold(scene);
            (zones.len() + untold.len() > 1).then(|| {
                scene.space.sheet("which spaces overlap", |sheet| {
                    untold.into_iter().for_each(|missing| sheet.lack(missing));
                    judge(scene, &zones, sheet)
                })
            })
        })
        .collect()
}

/// What is missing of the places of equipment that asks for a space.
fn untold(scene: &Scene) -> Vec<Unresolved> {
    let asks = |equipment: &Equipment| {
        gear::is_worked_on(equipment) || equipment.service.as_ref().is_some_and(|service| service.depth.is_some())
    };
    let unplaced = scene.unplaced.iter().filter(|(equipment, _)| asks(equipment)).map(|(_, missing)| missing.clone());
    let placed = scene.things.iter().filter(|thing| asks(&thing.equipment));
    unplaced.chain(placed.filter_map(|thing| thing.face(space::Side::Front).err())).collect()
}

/// A space that work asks for.
struct Zone<'s> {
    thing: &'s Thing<'s>,
    what: &'static str,
    solid: Solid,
}

fn zones<'s>(inquiry: &Inquiry, scene: &'s Scene<'s>) -> Vec<Zone<'s>> {
    let (depth, width) = (inquiry.value(&DEPTH).value, inquiry.value(&WIDTH).value);
    let mut zones = Vec::new();
    for thing in &scene.things {
        let Ok(face) = thing.face(space::Side::Front) else { continue };
        if gear::is_worked_on(&thing.equipment) {
            let solid = face.zone(depth, width.max(thing.body.width), 0.0, (0.0, HEIGHT));
            zones.push(Zone { thing, what: "working space", solid });
        } else if let Some(service) = thing.equipment.service.as_ref().filter(|service| service.depth.is_some()) {
            let deep = service.depth.as_ref().map_or(0.0, |depth| depth.si());
            let wide = service.width.as_ref().map_or(face.width, |width| width.si());
            zones.push(Zone { thing, what: "service space", solid: face.zone(deep, wide, 0.0, (0.0, HEIGHT)) });
        }
    }
    zones
}

fn judge(scene: &Scene, zones: &[Zone], sheet: &mut Sheet) -> Lookup<Text> {
    let mut shared = 0;
    for (at, zone) in zones.iter().enumerate() {
        for other in &zones[at + 1..] {
            let Some(overlap) = zone.solid.overlap(&other.solid) else { continue };
            shared += 1;
            let (one, two) = (zone.thing.equipment.label(), other.thing.equipment.label());
            let words = text!(
                "the {} of {} and the {} of {} share {}, which they may",
                zone.what,
                one,
                other.what,
                two,
                inches(overlap.plan)
            );
            sheet.test("shared", words, "common practice: one person works at a time", true);
        }
    }
    for thing in scene.things.iter().filter(|thing| label::concerns(&thing.equipment)) {
        bodies(scene, thing, sheet);
    }
    Ok(text!("{} spaces, {} pairs of them overlap, as they may", zones.len().to_string(), shared.to_string()))
}

/// Bodies that do not burn in the clearance of a label.
fn bodies(scene: &Scene, thing: &Thing, sheet: &mut Sheet) {
    let closet = label::is_closet(scene.space.kind);
    for side in label::SIDES {
        let (Some(upright), Ok(Some(wanted))) = (redtag_rule_space::side(side), label::wanted(&thing.equipment, side, closet))
        else {
            continue;
        };
        if wanted.value <= 0.0 {
            continue;
        }
        let face = thing.body.face(upright);
        let zone = face.zone(wanted.value, face.width, 0.0, (thing.body.base, thing.body.top()));
        let others = scene.things.iter().filter(|other| other.equipment.get().id != thing.equipment.get().id);
        for other in others.filter(|other| surface::body_burns(&other.equipment) == Ok(false)) {
            let Some(overlap) = zone.overlap(&other.solid) else { continue };
            let (one, two) = (other.equipment.label(), thing.equipment.label());
            let words = text!(
                "{} stands {} in the clearance {} of {}: read both instructions",
                one,
                inches(overlap.plan),
                label::place(side),
                two
            );
            sheet.advise(words);
            sheet.related(other.equipment.pointer());
            sheet.mark(marks(scene, &format!("clearance of {two}"), &zone));
            sheet.mark(marks(scene, &one, &other.solid));
        }
    }
}
