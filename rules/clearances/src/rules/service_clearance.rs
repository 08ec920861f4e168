//! The space that an appliance's instructions ask for to service it is kept free of everything else.
//!
//! What cannot be reached is not serviced, and what is not serviced leaks, burns badly or floods.
//!
//! **How it is measured.** As deep and as wide as the instructions ask, before each side they name, the front where they name
//! none. A space as wide as the side or wider may slide along it; every place is tried. Bodies and walls may not reach into
//! it; a door open 90 degrees into the room is a body there. Above and below, over the footprint. The code's own working space
//! is another rule; the larger of the two governs.
//!
//! **How it is fixed.** Move what stands in it, by the distance the finding states.

use crate::amounts::{inches, metres};
use crate::moving::shortest;
use crate::runs::Runs;
use crate::scene::{Scene, Scenes, Thing, marks};
use crate::{gear, label};
use redtag_handbook::space::{Face, Solid, deepest};
use redtag_rule::prelude::*;

/// Height of the service space.
const HEIGHT: Quantity<dimensions::Length> = Quantity::new(
    "height",
    "30 in",
    "Least height of the service space above the floor; it goes up to the top of the appliance where that is higher.",
    "common practice, after IRC M1305.1.2",
);
/// No higher than this.
const MOST: Quantity<dimensions::Length> =
    Quantity::new("height_most", "78 in", "Greatest height that is kept free before a high appliance.", "common practice");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "M1305.1, M1307.1")],
    parameters: &[&HEIGHT, &MOST],
    reads: &["/spaces", "/openings", "/equipment", "/ducts", "/gas", "/water", "/drainage"],
    ..Rule::new("clearances/service-clearance", "Service space the instructions ask for", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let scenes = Scenes::of(inquiry);
    let all = need!(inquiry.project(), equipment).every();
    let asked = all.iter().filter(|equipment| {
        let depth = equipment.service.as_ref().and_then(|service| service.depth.as_ref());
        depth.is_some() && !gear::is_worked_on(equipment.get())
    });
    asked
        .map(|equipment| {
            if equipment.outdoors == Some(true) {
                return equipment.not_applicable(text!("stands outdoors, where nothing is drawn")).done();
            }
            equipment.sheet("whether it can be serviced", |sheet| judge(inquiry, &scenes, equipment, sheet))
        })
        .collect()
}

fn judge<'a>(inquiry: &Inquiry<'a>, scenes: &Scenes<'a>, equipment: &Place<'a, Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let depth = need!(equipment, service.depth)?;
    let scene = scenes.around(equipment)?;
    let sides = match need!(equipment, service.sides) {
        Ok(sides) if !sides.is_empty() => sides.get().clone(),
        _ => vec![Side::Front],
    };
    let thing = match (scene.thing(equipment), sides.as_slice()) {
        (Err(missing), [Side::Front]) => return stated(equipment, &depth, missing, sheet),
        (thing, _) => thing?,
    };
    sheet.want(scene.outline());
    let others = obstacles(inquiry, scene, thing, sheet);
    for side in sides {
        one_side(inquiry, (scene, thing), side, &others, sheet)?;
    }
    let strays = scene.strays(scenes, &equipment.get().id, |_| true);
    strays.into_iter().for_each(|strays| sheet.lack(strays));
    Ok(text!("{} is free where its instructions ask for it", in_unit(&depth, "in")))
}

/// Held against the clearance that the project states before it.
fn stated(equipment: &Place<Equipment>, depth: &Place<quantity::Length>, missing: Unresolved, sheet: &mut Sheet) -> Lookup<Text> {
    let front = need!(equipment, room_clearances.front).map_err(|_| missing)?;
    if !sheet.at_least("before it, as stated", &front, depth, "in", "the appliance's instructions") {
        sheet.fault(text!("{} is stated before it, its instructions ask for {}", in_unit(&front, "in"), in_unit(depth, "in")));
        sheet.cure(text!("leave {} before it", in_unit(depth, "in")));
    }
    Ok(text!("{} is stated before it", in_unit(&front, "in")))
}

/// Something in the way.
struct Other<'s> {
    label: String,
    pointer: String,
    solid: Solid,
    thing: Option<&'s Thing<'s>>,
}

fn obstacles<'s>(inquiry: &Inquiry, scene: &'s Scene<'s>, thing: &Thing, sheet: &mut Sheet) -> Vec<Other<'s>> {
    let bodies = scene.things.iter().filter(|other| other.equipment.get().id != thing.equipment.get().id).map(|other| {
        let pointer = other.equipment.pointer().to_owned();
        Other { label: other.equipment.label(), pointer, solid: other.solid.clone(), thing: Some(other) }
    });
    // A pipe that feeds it is in nobody's way; ducts and other pipes that are drawn are.
    let runs = Runs::of(inquiry, &scene.space);
    runs.undrawn_clear(&scene.space, sheet);
    let runs = runs.drawn.into_iter().filter(|run| run.solid.overlap(&thing.solid).is_none());
    let runs = runs.map(|run| Other { label: run.label, pointer: run.pointer, solid: run.solid, thing: None });
    // A door of which nobody says where or how it opens may stand in the way.
    let doors = scene.room.iter().flat_map(|room| redtag_rule_space::doors(inquiry, &scene.space, room));
    let doors: Vec<_> = doors.filter_map(|door| sheet.want(door)).collect();
    let leaves = doors.into_iter().filter_map(|door| {
        let solid = Solid::new(door.leaf?, 0.0, 2.0);
        Some(Other { label: door.opening.label(), pointer: door.opening.pointer().to_owned(), solid, thing: None })
    });
    bodies.chain(runs).chain(leaves).collect()
}

fn one_side(inquiry: &Inquiry, (scene, thing): (&Scene, &Thing), side: Side, others: &[Other], sheet: &mut Sheet) -> Lookup<()> {
    let equipment = &thing.equipment;
    let depth = need!(equipment, service.depth)?.quantity();
    let solids: Vec<Solid> = others.iter().map(|other| other.solid.clone()).collect();
    let Some(upright) = redtag_rule_space::side(side) else {
        let over = if side == Side::Top { thing.body.above(depth.value) } else { thing.body.below(Some(depth.value)) };
        if let Some((at, overlap)) = deepest(&over, &solids) {
            let words = text!(
                "{} reaches {} into the {} its instructions ask for {}",
                others[at].label,
                inches(overlap.height),
                in_unit(depth, "in"),
                label::place(side)
            );
            tell(scene, (&others[at], &over), words, sheet);
            sheet.cure(text!("move {} out of it", others[at].label));
        }
        return Ok(());
    };
    let face = thing.face(upright)?;
    let width = equipment.service.as_ref().and_then(|service| service.width.as_ref()).map_or(face.width, |width| width.si());
    let top = thing.body.top().clamp(inquiry.value(&HEIGHT).value, inquiry.value(&MOST).value.max(inquiry.value(&HEIGHT).value));
    let found = face.find_space((width, depth.value), (0.0, top), face.width.min(width), scene.room.as_ref(), &solids);
    let Err(blocked) = found else {
        let words = text!("{} wide and {} deep is free {}", inches(width), in_unit(depth, "in"), label::place(side));
        sheet.test("service space", words, "the appliance's instructions", true);
        return Ok(());
    };
    let other = blocked.by.and_then(|by| others.get(by));
    let what = other.map_or_else(|| "the wall".to_owned(), |other| other.label.clone());
    let deep =
        other.and_then(|other| other.solid.overlap(&blocked.zone)).map_or(depth.value - blocked.depth, |overlap| overlap.plan);
    let words = text!(
        "{} is free {}, its instructions ask for {}: {} reaches {} into that",
        inches(blocked.depth),
        label::place(side),
        in_unit(depth, "in"),
        what,
        inches(deep)
    );
    sheet.test("service space", words.clone(), "the appliance's instructions", false);
    match other {
        Some(other) => {
            tell(scene, (other, &blocked.zone), words, sheet);
            cure(scene, &face, (other, &blocked.zone), (width, depth.value), sheet);
        }
        None => {
            sheet.fault(words);
            sheet.mark(marks(scene, "service space", &blocked.zone));
            sheet.cure(text!("move it {} away from the wall", in_unit(metres(depth.value - blocked.depth), "in")));
        }
    }
    Ok(())
}

fn tell(scene: &Scene, (other, zone): (&Other, &Solid), words: Text, sheet: &mut Sheet) {
    sheet.fault(words);
    sheet.related(&other.pointer);
    sheet.mark(marks(scene, "service space", zone));
    sheet.mark(marks(scene, &other.label, &other.solid));
}

fn cure(scene: &Scene, face: &Face, (other, zone): (&Other, &Solid), (width, depth): (f64, f64), sheet: &mut Sheet) {
    let ways = [face.out, face.along, face.along * -1.0];
    let found = other.thing.and_then(|body| {
        let tries = ways.map(|way| way * (zone.plan.extent(way).1 - body.solid.plan.extent(way).0));
        shortest(scene, body, &tries, |there| zone.overlap(there).is_none())
    });
    match found {
        Some(found) => sheet.cure_at(text!("move {} {}", other.label, found.words), &found.values),
        None => sheet.cure(text!("keep {} by {} free of {}", inches(width), inches(depth), other.label)),
    }
}
