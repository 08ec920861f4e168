//! Whatever is pulled out of an appliance for service has room to come out: filters, drawers, blowers, coils, heat exchangers,
//! cartridges, anodes.
//!
//! A filter that meets a pipe on its way out is bent, torn and then left in for good; a coil that cannot be pulled is cut out.
//! Shut off power and gas, and let hot water cool, before anything is pulled.
//!
//! **How it is measured.** A box as wide and as high as the part, from the face it comes out of, as long as it must come plus
//! room for a hand. Nothing that stands or hangs in the room and no wall may reach into it; above, not the ceiling, and below,
//! not the floor.
//!
//! **How it is fixed.** Move what is in the way by the length that is told, or turn the appliance so that the part comes out
//! where there is room.

use crate::layout::{Layout, each};
use crate::served;
use crate::thing::Thing;
use redtag_handbook::space::{Face, Room, Solid};
use redtag_rule::prelude::*;
use redtag_rule_space::{Stand, length, side, solid_mark};
use uom::si::length::meter;

/// Room for a hand.
const HAND: Quantity<dimensions::Length> =
    Quantity::new("hand_room", "2 in", "Room for a hand beyond the length a part must come.", "common practice")
        .within("0 in", "1 ft");
const SOURCE: &str = "instructions; IRC M1305.1";

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "M1305.1")],
    parameters: &[&HAND],
    reads: &["/spaces", "/openings", "/equipment", "/ducts", "/gas", "/water", "/drainage"],
    ..Rule::new("access/service-pulls", "Room to pull out filters, drawers and other parts", check)
};

const WANTED: &str = "whether its parts can be pulled out";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let concerned = |one: &Equipment| {
        let pulls = one.service.as_ref().and_then(|service| service.pulls.as_ref());
        !served::electrical(one.kind) && pulls.is_some_and(|pulls| !pulls.is_empty())
    };
    each(inquiry, concerned, WANTED, |layout, one| one.sheet(WANTED, |sheet| judge(inquiry, layout, one, sheet)))
}

fn judge<'a>(inquiry: &Inquiry<'a>, layout: &Layout<'a>, one: &Place<'a, Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let (room, stand) = (layout.room.clone(), layout.stand(one)).together()?;
    let hand = inquiry.value(&HAND).get::<meter>();
    for pull in need!(one, service.pulls)?.items() {
        if let Some((part, side, distance)) = sheet.want((need!(pull, part), need!(pull, side), need!(pull, distance)).together())
        {
            let along = distance.si() + hand;
            match *side {
                Side::Top => above(layout, &stand, (&part, along, hand), sheet),
                Side::Bottom => below(layout, &stand, (&part, along, hand), sheet),
                _ => aside(layout, &room, &stand, &pull, (*side, &part, along, hand), sheet)?,
            }
        }
    }
    if let (Some(lacking), true) = (layout.lacking.clone(), sheet.sound()) {
        sheet.lack(lacking);
    }
    Ok(text!("every part has room to come out"))
}

/// The part comes out, and a hand finds little room: nothing of the code.
fn tight(part: &str, there: f64, hand: f64, sheet: &mut Sheet) {
    sheet.advise(text!(
        "the {} comes out with {} left for a hand, {} is usual",
        part,
        in_unit(length(if there > 1e-9 { there } else { 0.0 }), "in"),
        in_unit(length(hand), "in")
    ));
}

/// A part that comes out of an upright face.
fn aside<'a>(
    layout: &Layout<'a>,
    room: &Room,
    stand: &Stand<'a>,
    pull: &Pull,
    (of, part, along, hand): (Side, &str, f64, f64),
    sheet: &mut Sheet,
) -> Lookup<()> {
    let Some(upright) = side(of) else { return Ok(()) };
    let face = stand.face(upright)?;
    let width = pull.width.as_ref().map_or(face.width, |width| width.si());
    let bottom = stand.body.base + pull.base.as_ref().map_or(0.0, |base| base.si());
    let top = pull.height.as_ref().map_or(stand.body.top(), |height| bottom + height.si());
    // What is pulled out of a narrow face is taken at its middle.
    let narrow = Face { width, ..face };
    let bodies = layout.others(&stand.equipment);
    let (things, solids) = layout.solids(&bodies, Some(stand));
    let free = match narrow.find_space((width, along), (bottom, top), width, Some(room), &solids) {
        Ok(_) => {
            sheet.test(part, text!("{} of room to come out", in_unit(length(along), "in")), SOURCE, true);
            return Ok(());
        }
        Err(blocked) => blocked,
    };
    if at_least(length(free.depth), length(along - hand)) {
        tight(part, free.depth - (along - hand), hand, sheet);
        return Ok(());
    }
    let thing = free.by.and_then(|index| things.get(index).copied());
    sheet.at_least(part, &length(free.depth), &length(along), "in", SOURCE);
    blocked(layout, (part, along, free.depth), thing, &free.zone, sheet);
    if let Some(thing @ Thing::Body(_)) = thing {
        thing.move_cure(layout, face.out * (along - free.depth), length(along - free.depth), sheet);
    }
    Ok(())
}

fn blocked(layout: &Layout, (part, wanted, free): (&str, f64, f64), thing: Option<Thing>, zone: &Solid, sheet: &mut Sheet) {
    let name = thing.map_or_else(|| "a wall".to_owned(), |thing| thing.label());
    sheet.fault(text!(
        "the {} has {} to come out, {} is the least: {} is in the way",
        part,
        in_unit(length(free), "in"),
        in_unit(length(wanted), "in"),
        name
    ));
    sheet.mark(solid_mark(&layout.space, format!("{part} pulled out"), zone));
    if let Some(thing) = thing {
        thing.show(&layout.space, sheet);
    }
}

/// A part that comes out upwards: anode, filter of a heat-pump water heater.
fn above<'a>(layout: &Layout<'a>, stand: &Stand<'a>, (part, along, hand): (&str, f64, f64), sheet: &mut Sheet) {
    let zone = stand.body.above(along);
    let Some(ceiling) = sheet.want(need!(layout.space, ceiling_height)) else { return };
    let free = ceiling.si() - stand.body.top();
    let bodies = layout.others(&stand.equipment);
    let hanging = bodies.iter().filter(|other| zone.overlap(&other.solid()).is_some());
    let lowest = hanging.min_by(|a, b| a.body.base.total_cmp(&b.body.base));
    let under = lowest.map_or(free, |other| (other.body.base - stand.body.top()).max(0.0).min(free));
    if sheet.at_least(part, &length(under), &length(along), "in", SOURCE) {
        return;
    }
    if at_least(length(under), length(along - hand)) {
        return tight(part, under - (along - hand), hand, sheet);
    }
    match lowest.filter(|other| other.body.base - stand.body.top() < free) {
        Some(other) => blocked(layout, (part, along, under), Some(Thing::Body(other)), &zone, sheet),
        None => sheet.fault(text!(
            "the {} has {} to come out upwards, {} is the least: the ceiling is in the way",
            part,
            in_unit(length(under.max(0.0)), "in"),
            in_unit(length(along), "in")
        )),
    }
}

/// A part that drops out: the cartridge of a filter.
fn below<'a>(layout: &Layout<'a>, stand: &Stand<'a>, (part, along, hand): (&str, f64, f64), sheet: &mut Sheet) {
    let zone = stand.body.below(Some(along));
    let bodies = layout.others(&stand.equipment);
    let standing = bodies.iter().filter(|other| zone.overlap(&other.solid()).is_some());
    let highest = standing.max_by(|a, b| a.body.top().total_cmp(&b.body.top()));
    let free = highest.map_or(stand.body.base, |other| (stand.body.base - other.body.top()).max(0.0));
    if sheet.at_least(part, &length(free), &length(along), "in", SOURCE) {
        return;
    }
    if at_least(length(free), length(along - hand)) {
        return tight(part, free - (along - hand), hand, sheet);
    }
    match highest {
        Some(other) => blocked(layout, (part, along, free), Some(Thing::Body(other)), &zone, sheet),
        None => sheet.fault(text!(
            "the {} has {} to drop out, {} is the least: the floor is in the way",
            part,
            in_unit(length(free), "in"),
            in_unit(length(along), "in")
        )),
    }
}
