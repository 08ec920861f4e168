//! The door or hinged cover of electrical equipment must open at least 90 degrees in its working space.
//!
//! A door that stops half way leaves somebody to reach around it past live parts, and hides the directory of the breakers. Only
//! licensed people open the cover behind it.
//!
//! **How it is measured.** The leaf, as wide as the equipment unless the project says otherwise, swings about its hinge; the
//! first thing it meets, and the angle at which it does, are worked out exactly. Where the side of the hinges is not stated,
//! both are tried. A stated angle of less than 90 degrees fails as well.
//!
//! **How it is fixed.** Move what stops it, or hang the door at the other side where the maker offers that.

use crate::amounts::{inches, metres};
use crate::moving::shortest;
use crate::scene::{Scene, Scenes, Thing, marks};
use crate::{gear, surface};
use redtag_handbook::space::{Face, FreeAngle, Side, Solid, Swing};
use redtag_rule::Part;
use redtag_rule::prelude::*;
use uom::si::angle::radian;

/// How far it must open.
const OPENS: Quantity<dimensions::Angle> =
    Quantity::new("opens", "90 deg", "How far doors and hinged covers of electrical equipment must open.", "NEC 110.26(A)(2)");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "110.26(A)(2)")],
    parameters: &[&OPENS],
    reads: &["/spaces", "/equipment", "/electrical"],
    ..Rule::new("clearances/electrical-doors", "Doors of electrical equipment open 90 degrees", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let scenes = Scenes::of(inquiry);
    gear::each_indoors(
        inquiry,
        |equipment| gear::is_worked_on(equipment) && has_door(inquiry, equipment),
        |equipment| equipment.sheet("whether its door opens far enough", |sheet| judge(inquiry, &scenes, equipment, sheet)),
    )
}

/// A panel has a door; of other gear somebody must say so.
fn has_door(inquiry: &Inquiry, equipment: &Equipment) -> bool {
    let said = equipment
        .electrical
        .as_ref()
        .is_some_and(|it| it.door_opens.is_some() || it.door_hinges.is_some() || it.door_width.is_some());
    equipment.kind == EquipmentKind::Panel || said || gear::panel(inquiry, equipment).is_some()
}

fn judge<'a>(inquiry: &Inquiry<'a>, scenes: &Scenes<'a>, equipment: &Place<'a, Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let least = inquiry.value(&OPENS).get::<radian>();
    let scene = scenes.around(equipment)?;
    let panel = gear::panel(inquiry, equipment);
    let of_panel = panel.as_ref().and_then(|panel| need!(panel, door_opens).ok());
    let stated = need!(equipment, electrical.door_opens).ok().or(of_panel);
    if let Some(stated) = &stated {
        let words = text!("its door opens {}, {} is the least", in_unit(stated, "deg"), degrees(least));
        if !sheet.require("door, as stated", words, "NEC 110.26(A)(2)", at_least(stated.si(), least)) {
            sheet.cure(text!("have its door open {} at least", degrees(least)));
        }
    }
    let thing = scene.thing(equipment)?;
    let face = thing.face(Side::Front)?;
    sheet.want(scene.outline());
    let hinges = equipment.electrical.as_ref().and_then(|it| it.door_hinges);
    let hands = match hinges {
        Some(Hand::Left) => vec![true],
        Some(Hand::Right) => vec![false],
        _ => vec![true, false],
    };
    let others: Vec<&Thing> = scene.things.iter().filter(|other| !std::ptr::eq(*other, thing)).collect();
    let solids = solids(scene, &others);
    let tried: Vec<(Swing, FreeAngle)> =
        hands.iter().map(|&left| leaf(thing, &face, left)).map(|leaf| (leaf, leaf.free_angle(&solids))).collect();
    let opens = |free: &FreeAngle| at_least(free.angle, least);
    let free = tried.iter().filter(|(_, free)| opens(free)).count();
    if let (0, Some((leaf, stopped))) = (free, tried.iter().max_by(|a, b| a.1.angle.total_cmp(&b.1.angle))) {
        fault(scene, &others, (leaf, stopped), least, sheet);
    } else if free < tried.len() {
        sheet.lack(equipment.missing("/electrical/door_hinges"));
    }
    let strays = scene.strays(scenes, &equipment.get().id, |_| true);
    strays.into_iter().for_each(|strays| sheet.lack(strays));
    Ok(text!("its door opens {} and more", degrees(least)))
}

fn degrees(radians: f64) -> Part {
    in_unit(quantity::Angle::from_si(radians), "deg")
}

fn leaf(thing: &Thing, face: &Face, hinged_left: bool) -> Swing {
    let mut leaf = face.cover(hinged_left);
    let stated = thing.equipment.electrical.as_ref().and_then(|it| it.door_width.as_ref());
    leaf.width = stated.map_or(leaf.width, |width| width.si());
    leaf
}

/// The bodies, then the walls.
fn solids(scene: &Scene, others: &[&Thing]) -> Vec<Solid> {
    let walls = scene.room.iter().flat_map(|room| room.walls()).map(|wall| surface::thin(wall, f64::from(u16::MAX)));
    others.iter().map(|other| other.solid.clone()).chain(walls).collect()
}

fn fault(scene: &Scene, others: &[&Thing], (leaf, stopped): (&Swing, &FreeAngle), least: f64, sheet: &mut Sheet) {
    let by = stopped.by.and_then(|by| others.get(by));
    let what = by.map_or_else(|| "the wall".to_owned(), |other| other.equipment.label());
    let (opens, wanted) = (degrees(stopped.angle), degrees(least));
    sheet.test(
        "door",
        text!("{} stops it at {}, {} is the least", what, opens.clone(), wanted.clone()),
        "NEC 110.26(A)(2)",
        false,
    );
    sheet.fault(text!(
        "its door opens {}, {} is the least: {} stands in the way of the {} leaf",
        opens,
        wanted,
        what,
        inches(leaf.width)
    ));
    let sweep = leaf.sector(least);
    let stands = leaf.leaf(stopped.angle);
    let free_edge = stands.corners().last().copied().unwrap_or(leaf.hinge);
    sheet.mark(redtag_rule_space::line_between(&scene.space, "door", leaf.hinge, free_edge, leaf.bottom));
    sheet.mark(marks(scene, "room its door needs", &sweep));
    let Some(other) = by else {
        sheet.cure(text!("move it {} at least from the wall beside it", in_unit(metres(leaf.width), "in")));
        return;
    };
    sheet.related(other.equipment.pointer());
    sheet.mark(marks(scene, &what, &other.solid));
    let out = leaf.leaf(std::f64::consts::FRAC_PI_2);
    let ways = [0, 1].map(|corner| out.corners().get(corner).copied().unwrap_or(leaf.hinge));
    let away = (ways[1] - ways[0]) / leaf.width.max(1e-9);
    let tries =
        [away, leaf.closed, leaf.closed * -1.0].map(|way| way * (sweep.plan.extent(way).1 - other.solid.plan.extent(way).0));
    let free = |there: &Solid| at_least(leaf.free_angle(std::slice::from_ref(there)).angle, least);
    match shortest(scene, other, &tries, free) {
        Some(found) => sheet.cure_at(text!("move {} {}", what, found.words), &found.values),
        None => sheet.cure(text!("keep {} before it free of {}", in_unit(metres(leaf.width), "in"), what)),
    }
}
