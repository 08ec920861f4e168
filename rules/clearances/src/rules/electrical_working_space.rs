//! Before electrical equipment that somebody may open while it is live there must be room to work: deep enough to step back
//! from it, wide enough to stand before it, high enough to stand up, and empty.
//!
//! Who is jammed between a tank and an open panel cannot get away from a shock or an arc, and who leans over a shelf touches
//! what he does not see. Nothing is stored there, not for a day. Work on live parts belongs to licensed trades and follows the
//! adopted code.
//!
//! **How it is measured.** From the front of the equipment outwards: 36 in up to 150 V to ground, more at higher voltages
//! where the surface opposite is grounded or live; a jacket of a water heater, concrete, brick and tile count as grounded.
//! A direct-current battery or array counts with its full voltage. The width is 30 in, or that of the equipment if it is
//! wider, and may slide left or right as long as it takes in the whole equipment; every place is tried. The height is 78 in,
//! or up to the top of the equipment. Only other electrical equipment above or below may reach into it, by 6 in. Spaces of
//! several pieces may overlap. Pipes and ducts count where the project draws their lines.
//!
//! **How it is fixed.** Move what stands in it, by the distance the finding states, or move the equipment. In an existing
//! dwelling a panel or service up to 200 A may keep a lower ceiling.

use crate::amounts::metres;
use crate::runs::Runs;
use crate::scene::{Scene, Scenes, Thing};
use crate::workspace::{Asked, Obstacle, What, ahead, search};
use crate::{gear, label, surface, voltage};
use redtag_handbook::clearance::electrical::{self, Condition, Depths};
use redtag_handbook::space::{Face, Side, Solid, TOUCHING};
use redtag_rule::prelude::*;
use redtag_rule::schema::project as p;
use uom::si::f64::{ElectricPotential, Length};

/// The least depth.
const DEPTH: Quantity<dimensions::Length> = Quantity::new(
    "depth",
    "36 in",
    "Depth of the working space up to 150 V to ground, and at any voltage with nothing grounded or live opposite.",
    "NEC Table 110.26(A)(1)",
);
/// Up to 600 V, grounded.
const DEPTH_600_GROUNDED: Quantity<dimensions::Length> = Quantity::new(
    "depth_600_grounded",
    "42 in",
    "Depth of the working space from 151 V to 600 V to ground before a grounded surface.",
    "NEC Table 110.26(A)(1)",
);
/// Up to 600 V, live.
const DEPTH_600_LIVE: Quantity<dimensions::Length> = Quantity::new(
    "depth_600_live",
    "48 in",
    "Depth of the working space from 151 V to 600 V to ground with live parts on both sides.",
    "NEC Table 110.26(A)(1)",
);
/// Up to 1,000 V, grounded.
const DEPTH_1000_GROUNDED: Quantity<dimensions::Length> = Quantity::new(
    "depth_1000_grounded",
    "48 in",
    "Depth of the working space from 601 V to 1,000 V to ground before a grounded surface.",
    "NEC Table 110.26(A)(1)",
);
/// Up to 1,000 V, live.
const DEPTH_1000_LIVE: Quantity<dimensions::Length> = Quantity::new(
    "depth_1000_live",
    "60 in",
    "Depth of the working space from 601 V to 1,000 V to ground with live parts on both sides.",
    "NEC Table 110.26(A)(1)",
);
/// The least width.
const WIDTH: Quantity<dimensions::Length> =
    Quantity::new("width", "30 in", "Least width of the working space.", "NEC 110.26(A)(2)");
/// The least height.
const HEIGHT: Quantity<dimensions::Length> =
    Quantity::new("height", "78 in", "Least height of the working space.", "NEC 110.26(A)(3)");
/// What other gear may take.
const REACH: Quantity<dimensions::Length> = Quantity::new(
    "electrical_reach",
    "6 in",
    "How far other electrical equipment above or below may reach into the working space.",
    "NEC 110.26(A)(3)",
);
/// Low ceilings that were there before.
const EXISTING_RATING: Quantity<dimensions::Current> = Quantity::new(
    "existing_headroom_rating",
    "200 A",
    "Up to this rating a panel or service in an existing dwelling may have less headroom.",
    "NEC 110.26(A)(3) exception",
);

/// Work behind dead-front equipment.
const REAR: Quantity<dimensions::Length> = Quantity::new(
    "rear_depth",
    "30 in",
    "Depth of the space at another side of dead-front equipment that must be reached there, for work on parts that are not live.",
    "NEC 110.26(A)(1)(a)",
);
/// Old gear across an aisle.
const EXISTING_FACING: Flag = Flag::new(
    "existing_dead_fronts_as_grounded",
    false,
    "Whether dead-front equipment on both sides of a space in an existing building counts as grounded and not as live, where \
     written procedures are in force.",
    "NEC 110.26(A)(1)(c)",
);
/// Low direct-current voltage.
const LOW_VOLTAGE: Quantity<dimensions::Voltage> = Quantity::new(
    "low_voltage",
    "60 V",
    "Up to this direct-current voltage the authority may permit a smaller space before batteries.",
    "NEC 110.26(A)(1)(b)",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2020", "110.26(A)"), remembered("IRC", "2021", "E3405.2")],
    parameters: &[
        &DEPTH,
        &DEPTH_600_GROUNDED,
        &DEPTH_600_LIVE,
        &DEPTH_1000_GROUNDED,
        &DEPTH_1000_LIVE,
        &WIDTH,
        &HEIGHT,
        &REACH,
        &EXISTING_RATING,
        &REAR,
        &EXISTING_FACING,
        &LOW_VOLTAGE,
    ],
    reads: &["/building", "/spaces", "/equipment", "/electrical", "/ducts", "/gas", "/water", "/drainage"],
    ..Rule::new("clearances/electrical-working-space", "Working space before electrical equipment", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let scenes = Scenes::of(inquiry);
    gear::each_indoors(inquiry, gear::is_worked_on, |equipment| {
        equipment.sheet("whether there is room to work before it", |sheet| judge(inquiry, &scenes, equipment, sheet))
    })
}

fn judge<'a>(inquiry: &Inquiry<'a>, scenes: &Scenes<'a>, equipment: &Place<'a, Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let scene = scenes.around(equipment)?;
    let volts = sheet.want(voltage::to_ground(inquiry, equipment));
    let thing = scene.thing(equipment)?;
    let face = thing.face(Side::Front)?;
    let depths = depths(inquiry);
    if volts.is_some_and(|volts| depths.at(volts, Condition::One).is_none()) {
        sheet.advise(text!("{} to ground is more than the table goes to; NEC 110.34 has its own", volts.unwrap_or_default()));
        return Ok(Text::default());
    }
    let top = metres(thing.body.top());
    let width = electrical::width(metres(thing.body.width), inquiry.value(&WIDTH));
    let height = if limited(scene) { top } else { electrical::height(top, inquiry.value(&HEIGHT)) };
    let low = |volts: ElectricPotential| at_most(volts, inquiry.value(&LOW_VOLTAGE));
    let low_voltage = equipment.kind == EquipmentKind::Battery && volts.is_some_and(low);
    let place = label::place(p::Side::Front);
    let always_live = gear::is_panelboard(inquiry, equipment)
        || matches!(
            equipment.kind,
            EquipmentKind::Disconnect | EquipmentKind::TransferSwitch | EquipmentKind::MicrogridInterconnect
        );
    let asked = Asked { scene, face, volts, depths, width, heights: (0.0, height.value), place, low_voltage, always_live };
    headroom(inquiry, &asked, equipment, sheet);
    sheet.want(scene.outline());
    let runs = Runs::of(inquiry, &scene.space);
    let before = obstacles(inquiry, &asked, thing, &runs);
    runs.undrawn_clear(&scene.space, sheet);
    let complies = search(&asked, thing, &before, sheet);
    for side in other_sides(equipment) {
        let Some(face) = redtag_rule_space::side(side).and_then(|side| sheet.want(thing.face(side))) else { continue };
        let width = electrical::width(metres(face.width), inquiry.value(&WIDTH));
        let depths = if dead_front(equipment) { even(inquiry.value(&REAR)) } else { asked.depths };
        let asked = Asked { face, depths, width, place: label::place(side), ..asked };
        search(&asked, thing, &obstacles(inquiry, &asked, thing, &runs), sheet);
    }
    if let Some(strays) = scene.strays(scenes, &equipment.get().id, |_| true) {
        sheet.lack(strays);
    }
    Ok(complies)
}

/// Sides but the front that must be reached.
fn other_sides(equipment: &Place<Equipment>) -> Vec<p::Side> {
    let sides = equipment.service.iter().flat_map(|service| service.sides.iter().flatten().copied());
    sides.filter(|side| matches!(side, p::Side::Back | p::Side::Left | p::Side::Right)).collect()
}

/// The same depth whatever is opposite.
fn even(depth: Length) -> Depths {
    Depths { least: depth, to_600_grounded: depth, to_600_live: depth, to_1000_grounded: depth, to_1000_live: depth }
}

fn depths(inquiry: &Inquiry) -> Depths {
    Depths {
        least: inquiry.value(&DEPTH),
        to_600_grounded: inquiry.value(&DEPTH_600_GROUNDED),
        to_600_live: inquiry.value(&DEPTH_600_LIVE),
        to_1000_grounded: inquiry.value(&DEPTH_1000_GROUNDED),
        to_1000_live: inquiry.value(&DEPTH_1000_LIVE),
    }
}

/// Attics and crawl spaces: there the height ends with the equipment.
fn limited(scene: &Scene) -> bool {
    matches!(scene.space.kind, SpaceKind::Attic | SpaceKind::CrawlSpace | SpaceKind::Plenum)
}

/// A dwelling that was there before: what is added to it is new.
fn was_there(inquiry: &Inquiry) -> bool {
    let work = inquiry.project().get().building.as_ref().and_then(|building| building.work);
    matches!(work, Some(Work::Alteration | Work::Replacement))
}

/// Work in a building that was there before.
fn is_existing(inquiry: &Inquiry) -> bool {
    let work = inquiry.project().get().building.as_ref().and_then(|building| building.work);
    matches!(work, Some(Work::Addition | Work::Alteration | Work::Replacement))
}

fn dead_front(equipment: &Equipment) -> bool {
    equipment.electrical.as_ref().is_some_and(|electrical| electrical.dead_front == Some(true))
}

fn headroom(inquiry: &Inquiry, asked: &Asked, equipment: &Place<Equipment>, sheet: &mut Sheet) {
    let space = &asked.scene.space;
    let Some(ceiling) = sheet.want(
        need!(space, ceiling_height)
            .or_else(|_| need!(space, minimum_clear_height))
            .map_err(|_| space.missing("/ceiling_height")),
    ) else {
        return;
    };
    let height = metres(asked.heights.1);
    let words = text!("ceiling at {}, {} is the least", in_unit(&ceiling, "in"), in_unit(height, "in"));
    if sheet.test("height", words.clone(), electrical::HEIGHT.text(), at_least(ceiling.quantity(), height)) {
        return;
    }
    let small = gear::rating(inquiry, equipment).is_some_and(|rating| at_most(rating, inquiry.value(&EXISTING_RATING)));
    if was_there(inquiry) && small && gear::is_panelboard(inquiry, equipment) {
        let words = text!("a panel or service up to {} in an existing dwelling may keep it", inquiry.value(&EXISTING_RATING));
        sheet.line("existing", words, "NEC 110.26(A)(3) exception");
        return;
    }
    sheet.fault(text!(
        "the ceiling of its working space is at {}, {} is the least",
        in_unit(&ceiling, "in"),
        in_unit(height, "in")
    ));
    sheet.cure(text!("move it to where {} is free above the floor", in_unit(height, "in")));
}

/// What could reach into the space, but for gear that may.
fn obstacles<'s>(inquiry: &Inquiry, asked: &Asked<'s>, gear: &'s Thing<'s>, runs: &'s Runs) -> Vec<Obstacle<'s>> {
    let scene = asked.scene;
    let reach = inquiry.value(&REACH).value;
    let aisle = inquiry.value(&EXISTING_FACING) && is_existing(inquiry) && dead_front(&gear.equipment);
    let before = |solid: &Solid| ahead(&asked.face, solid) > TOUCHING && solid.top > TOUCHING && solid.bottom < asked.heights.1;
    let others = scene.things.iter().filter(|other| !std::ptr::eq(*other, gear));
    let things = others.filter(|other| before(&other.solid) && !may_reach(&asked.face, gear, other, reach)).map(|other| {
        let condition = match surface::condition_of_body(other) {
            Ok(Condition::Three) if aisle && dead_front(&other.equipment) => Ok(Condition::Two),
            condition => condition,
        };
        Obstacle { what: What::Thing(other), solid: other.solid.clone(), condition }
    });
    let walls = scene.room.iter().flat_map(|room| room.walls()).map(|wall| {
        let solid = surface::thin(wall, asked.heights.1);
        Obstacle { what: What::Wall, solid, condition: surface::condition_of_wall(scene, wall) }
    });
    let runs = runs.drawn.iter().filter(|run| before(&run.solid)).map(|run| Obstacle {
        what: What::Run(run),
        solid: run.solid.clone(),
        condition: Ok(Condition::Two),
    });
    things.chain(runs).chain(walls).collect()
}

/// Whether it is electrical, above or below the gear, and reaches no farther before it than it may.
fn may_reach(face: &Face, gear: &Thing, other: &Thing, reach: f64) -> bool {
    gear::is_electrical(&other.equipment)
        && !gear.solid.shares_height(&other.solid)
        && at_most(metres(ahead(face, &other.solid)), metres(reach))
}
