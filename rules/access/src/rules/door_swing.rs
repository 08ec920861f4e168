//! A door into a room with appliances opens a quarter turn and is stopped by nothing that stands there.
//!
//! A door that hits a tank opens by half: nothing is carried through it, and in smoke nobody finds the way past it.
//!
//! **How it is measured.** The leaf turns about its hinge, from closed to a quarter turn, as wide as its opening; what stands in the
//! room it swings into, from the floor to headroom, may not be in its way. The angle at which it first touches is exact.
//!
//! **How it is fixed.** Move what stands in its way, hang the door at its other side, or let it swing out.

use crate::layout::{HEADROOM, Layout, STEP};
use crate::thing::Thing;
use redtag_handbook::space::{Solid, Swing};
use redtag_rule::prelude::*;
use redtag_rule::ways;
use redtag_rule_space::{Door, solid_mark};
use uom::si::angle::radian;
use uom::si::f64::Angle;

/// How far it opens.
const ANGLE: Quantity<dimensions::Angle> = Quantity::new(
    "least_angle",
    "90 deg",
    "How far a door into a room with appliances opens at least.",
    "from memory of IRC M1305.1 and R311.2, which measure with the door open",
)
.within("45 deg", "170 deg");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "M1305.1"), remembered("IRC", "2021", "R311.2")],
    parameters: &[&ANGLE],
    reads: &["/spaces", "/openings", "/equipment"],
    ..Rule::new("access/door-swing", "Doors that open past what stands there", check)
};

const WANTED: &str = "whether the door opens";
const SOURCE: &str = "IRC M1305.1 and R311.2, from memory";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let equipment = need!(inquiry.project(), equipment).every();
    let mut findings = Vec::new();
    for space in need!(inquiry.project(), spaces).every() {
        if !equipment.iter().any(|one| may_stand_in(one, &space)) {
            continue;
        }
        let layout = Layout::of(inquiry, &space);
        for door in layout.doors.iter().flatten().filter(|door| door.leaf.is_some()) {
            findings.push(door.opening.sheet(WANTED, |sheet| judge(inquiry, &layout, door, sheet)));
        }
        findings.extend(untold(inquiry, &layout));
    }
    findings
}

/// Whether something stands in a space, or may: what has a place and does not say in which space.
fn may_stand_in(one: &Equipment, space: &Space) -> bool {
    let lost = one.space.is_none() && one.placement.is_some() && one.outdoors != Some(true);
    lost || one.space.as_ref() == Some(&space.id)
}

/// The doors of a space of which nobody says where they are or how they open; those that swing elsewhere are none of them.
fn untold(inquiry: &Inquiry, layout: &Layout) -> Vec<Finding> {
    let doors = ways::openings_of(inquiry, &layout.space).unwrap_or_default().into_iter().map(|way| way.opening);
    let here = |door: &Place<Opening>| {
        let said = door.door.as_ref();
        let elsewhere = said.and_then(|said| said.swings_into.as_ref()).is_some_and(|into| *into != layout.space.id);
        let slides = said.and_then(|said| said.action).is_some_and(|action| action != DoorAction::Swinging);
        door.kind == OpeningKind::Door && !elsewhere && !slides
    };
    let lacks = |door: &Place<Opening>| {
        let own = format!("{}/", door.pointer());
        let names = |unresolved: &&Unresolved| unresolved.missing.iter().any(|missing| missing.pointer.starts_with(&own));
        match &layout.room {
            Err(unresolved) => Some(unresolved.clone()),
            Ok(_) => layout.doors.iter().filter_map(|door| door.as_ref().err()).find(names).cloned(),
        }
    };
    doors.filter(here).filter_map(|door| lacks(&door).map(|lack| door.ask(WANTED, || Err(lack)))).collect()
}

fn judge(inquiry: &Inquiry, layout: &Layout, door: &Door, sheet: &mut Sheet) -> Lookup<Text> {
    let swing = swing(door)?;
    let bodies: Vec<_> = layout.stands.iter().collect();
    let solids: Vec<Solid> = bodies.iter().map(|stand| stand.solid()).collect();
    let free = swing.free_angle(&solids);
    let opens = quantity::Angle::from_quantity(&Angle::new::<radian>(free.angle));
    let least = quantity::Angle::from_quantity(&inquiry.value(&ANGLE));
    if sheet.at_least("opens", &opens, &least, "deg", SOURCE) {
        if let Some(lacking) = layout.lacking.clone() {
            sheet.lack(lacking);
        }
        return Ok(text!("it opens {} and hits nothing", in_unit(&opens, "deg")));
    }
    let thing = free.by.and_then(|index| bodies.get(index)).map(|stand| Thing::Body(stand));
    let name = thing.map_or_else(|| "something".to_owned(), |thing| thing.label());
    sheet.fault(text!("it opens {} and hits {}, {} is the least", in_unit(&opens, "deg"), name, in_unit(&least, "deg")));
    if let Some(thing) = thing {
        thing.show(&layout.space, sheet);
    }
    if let Some(leaf) = &door.leaf {
        sheet.mark(solid_mark(&layout.space, "door, open a quarter turn", &Solid::new(leaf.clone(), 0.0, HEADROOM)));
    }
    sheet.cure(text!("move {} out of its swing, hang the door at its other side, or let it swing out", name));
    Ok(Text::default())
}

/// The leaf as something that turns.
fn swing(door: &Door) -> Lookup<Swing> {
    let hinges = need!(door.opening, door.hinges)?;
    let gap = &door.doorway;
    // Hinges are said as seen from the space that names the door; the leaf that stands open here lies at its hinge.
    let leaf = door.leaf.as_ref().map(|leaf| leaf.middle());
    let half = gap.right() * (gap.width / 2.0);
    let (left, right) = (gap.middle - half, gap.middle + half);
    let near = |end: redtag_handbook::space::Point| leaf.map_or(0.0, |at| redtag_handbook::space::norm(at - end));
    let at_left = if leaf.is_some() { near(left) < near(right) } else { *hinges == Hand::Left };
    let hinge = if at_left { left } else { right };
    let closed = if at_left { gap.right() } else { gap.right() * -1.0 };
    // Opening into the room: against the direction out of it.
    let inwards = gap.out * -1.0;
    let counterclockwise = redtag_handbook::space::dot(redtag_handbook::space::turned(closed), inwards) > 0.0;
    Ok(Swing { hinge, closed, counterclockwise, width: gap.width, bottom: STEP, top: HEADROOM })
}
