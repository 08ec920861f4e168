//! Before the control side of every appliance there is a level place to work, 30 in by 30 in unless its instructions ask for
//! more.
//!
//! Whoever lights, cleans or mends an appliance has to kneel before it with tools and parts. Where a tank, a shelf or an open
//! door takes that place, the work is done badly, or burners are serviced blind. Shut off gas and power first: the work itself
//! belongs to licensed trades and follows the appliance's instructions.
//!
//! **How it is measured.** From the face of the control side outwards, as high as the appliance but at least 30 in and at most
//! to headroom. The space need not be centred: it is searched for along the face, as long as it stands before the face over the
//! width asked for here. Bodies, walls, open door leaves, and pipes and ducts that are not joined to it may not reach into it; the working spaces of two appliances may
//! overlap. Where a closet is too shallow, the space may go on through its open door into the hall, as wide as the door but no less
//! than 24 in. What lies flat, up to 1 in, is stepped over; a sunken floor or a slope is not level.
//!
//! **How it is fixed.** Move what stands in it by the length that is told, turn the appliance, or hang the door the other way.

use crate::layout::{HEADROOM, Layout, STEP, each};
use crate::served;
use crate::thing::Thing;
use redtag_handbook::space::{Face, Room, Shape, Side as Upright, Solid, norm, point};
use redtag_rule::prelude::*;
use redtag_rule_space::{length, point as place, solid_mark};
use uom::si::length::meter;

const SECTION: &str = "IRC M1305.1";
/// Depth.
const DEPTH: Quantity<dimensions::Length> =
    Quantity::new("depth", "30 in", "Depth of the level working space before the control side.", SECTION).within("0 in", "6 ft");
/// Width.
const WIDTH: Quantity<dimensions::Length> =
    Quantity::new("width", "30 in", "Width of the level working space before the control side.", SECTION).within("0 in", "6 ft");
/// Depth before room heaters.
const ROOM_HEATER_DEPTH: Quantity<dimensions::Length> =
    Quantity::new("room_heater_depth", "18 in", "Depth of the working space before a room heater.", SECTION)
        .within("0 in", "6 ft");
/// How much of the face.
const COVER: Quantity<dimensions::Length> = Quantity::new(
    "cover",
    "30 in",
    "How much of the width of the control side the space must stand before; all of it where the side is narrower.",
    "the code says before the control side and no more: how far the space may be shifted is a reading",
)
.within("0 in", "6 ft");
/// A step in the floor.
const RECESS: Quantity<dimensions::Length> =
    Quantity::new("recess", "1 in", "Greatest depth of a sunken floor within a level working space.", "common practice")
        .within("0 in", "6 in");
/// A slope.
const SLOPE: Quantity<dimensions::Slope> =
    Quantity::new("slope", "1/4 in/ft", "Greatest slope of a floor that counts as level.", "common practice")
        .within("0 in/ft", "1 in/ft");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2018", "M1305.1"), cited("IMC", "2018", "306.1")],
    parameters: &[&DEPTH, &WIDTH, &ROOM_HEATER_DEPTH, &COVER, &RECESS, &SLOPE],
    reads: &["/spaces", "/openings", "/equipment", "/ducts", "/gas", "/water", "/drainage"],
    ..Rule::new("access/working-space", "Level working space before appliances", check)
};

const WANTED: &str = "whether there is a level place to work before it";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    each(inquiry, served::appliance, WANTED, |layout, one| {
        if served::passage_of_its_own(&layout.space) {
            return one.not_applicable(text!("stands in {}, which has a rule of its own", layout.space.label())).done();
        }
        one.sheet(WANTED, |sheet| judge(inquiry, layout, one, sheet))
    })
}

fn judge<'a>(inquiry: &Inquiry<'a>, layout: &Layout<'a>, one: &Place<'a, Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let (room, stand) = (layout.room.clone(), layout.stand(one)).together()?;
    let face = stand.face(Upright::Front)?;
    let (width, depth) = asked(inquiry, one, sheet);
    let heights = (STEP, stand.body.top().clamp(30.0 * 0.0254, HEADROOM));
    let bodies = layout.others(one);
    let (things, solids) = layout.solids(&bodies, Some(&stand));
    let cover = inquiry.value(&COVER).get::<meter>();
    let summary = text!("{} by {} before its control side", in_unit(length(width), "in"), in_unit(length(depth), "in"));
    match face.find_space((width, depth), heights, cover, Some(&room), &solids) {
        Ok(found) => {
            sheet.test(
                "working space",
                text!(
                    "{} wide, {} deep, {} aside of the middle",
                    in_unit(length(width), "in"),
                    in_unit(length(depth), "in"),
                    in_unit(length(found.shift.abs()), "in")
                ),
                SECTION,
                true,
            );
            level(inquiry, layout, &found.zone, sheet);
            told_apart(layout, sheet);
            layout.undrawn(sheet);
        }
        Err(blocked) => {
            if let Some((found, door, hall)) = layout.beyond_a_door(inquiry, (one, &room, &face), (width, depth, cover), heights)
            {
                let words = text!(
                    "{} deep, through the open {} into {}",
                    in_unit(length(depth), "in"),
                    door.opening.label(),
                    hall.label()
                );
                sheet.test("working space", words, SECTION, true);
                sheet.related(door.opening.pointer());
                sheet.mark(solid_mark(&layout.space, "working space", &found.zone));
                if let Some(level) = sheet.want(need!(hall, floor_survey.level)) {
                    sheet.require(
                        "floor",
                        text!("{}", if *level { "level" } else { "the floor of the hall is not level" }),
                        "",
                        *level,
                    );
                }
                layout.undrawn(sheet);
                return Ok(text!("{} deep before its control side with the door open", in_unit(length(depth), "in")));
            }
            let by = blocked.by.and_then(|index| things.get(index).copied());
            let free = length(blocked.depth);
            let name = by.map_or_else(|| "a wall".to_owned(), |thing| thing.label());
            sheet.at_least("free depth", &free, &length(depth), "in", SECTION);
            sheet.fault(text!(
                "{} of free depth before the control side, {} wide, {} is the least: {} stands {} into the working space",
                in_unit(free, "in"),
                in_unit(length(width), "in"),
                in_unit(length(depth), "in"),
                name,
                in_unit(length(depth - blocked.depth), "in")
            ));
            sheet.mark(solid_mark(&layout.space, "working space", &blocked.zone));
            cure(layout, &face, by, (depth - blocked.depth, width), sheet);
        }
    }
    Ok(summary)
}

/// Other equipment whose place nobody knows may stand in the space.
fn told_apart(layout: &Layout, sheet: &mut Sheet) {
    if let Some(lacking) = layout.lacking.clone() {
        sheet.lack(lacking);
    }
}

/// Width and depth: the code's or the maker's, whichever is more.
fn asked(inquiry: &Inquiry, one: &Place<Equipment>, sheet: &mut Sheet) -> (f64, f64) {
    let heater = one.kind == EquipmentKind::RoomHeater;
    let depth = if heater { inquiry.value(&ROOM_HEATER_DEPTH) } else { inquiry.value(&DEPTH) };
    let (mut width, mut depth) = (inquiry.value(&WIDTH).get::<meter>(), depth.get::<meter>());
    let maker = |field: Option<&quantity::Length>| field.map_or(0.0, |length| length.si());
    let service = one.service.as_ref();
    let (wide, deep) = (maker(service.and_then(|s| s.width.as_ref())), maker(service.and_then(|s| s.depth.as_ref())));
    if wide > width || deep > depth {
        sheet.line(
            "asked for",
            text!("{} wide and {} deep by its instructions", in_unit(length(wide), "in"), in_unit(length(deep), "in")),
            "instructions",
        );
    }
    (width, depth) = (width.max(wide), depth.max(deep));
    (width, depth)
}

fn cure(layout: &Layout, face: &Face, by: Option<Thing>, (short, width): (f64, f64), sheet: &mut Sheet) {
    match by {
        Some(thing @ Thing::Body(stand)) => {
            thing.show(&layout.space, sheet);
            thing.move_words(face.out * short, length(short), sheet);
            aside(&stand.body.plan(), face, width, thing, sheet);
        }
        Some(thing @ Thing::Run(run)) => {
            thing.show(&layout.space, sheet);
            sheet.cure(text!("lead {} around the working space", run.label));
        }
        Some(thing) => {
            thing.show(&layout.space, sheet);
            sheet.cure(text!("hang the door so that its leaf opens clear of the appliance, or let it swing out"));
        }
        None => sheet.cure(text!(
            "move the appliance back by {}, or turn its control side to where there is room",
            in_unit(length(short), "in")
        )),
    }
}

/// Moving a body sideways out of the centred space, where that takes no more than an arm's length or two.
fn aside(plan: &Shape, face: &Face, width: f64, thing: Thing, sheet: &mut Sheet) {
    let (left, right) = plan.extent(face.along);
    let middle = face.middle.x * face.along.x + face.middle.y * face.along.y;
    let half = width / 2.0;
    let (to_left, to_right) = (right - (middle - half), middle + half - left);
    let (by, sign) = if to_left < to_right { (to_left, -1.0) } else { (to_right, 1.0) };
    if by > 0.0 && by < 1.2 {
        thing.move_words(face.along * (by * sign), length(by), sheet);
    }
}

/// Whether the floor of the space is level.
fn level(inquiry: &Inquiry, layout: &Layout, zone: &Solid, sheet: &mut Sheet) {
    let space = &layout.space;
    let survey = need!(space, floor_survey).ok();
    // A survey of points says nothing of pits between them; whoever says that the floor is level has said it.
    let surveyed = survey.as_ref().is_some_and(|survey| survey.points.is_some() && survey.recesses.is_none());
    if surveyed && survey.as_ref().is_some_and(|survey| survey.level.is_none()) {
        sheet.want(need!(space, floor_survey.recesses));
    }
    let recesses = need!(space, floor_survey.recesses).listed_only("asked for above where the survey does not say");
    let mut sunken_parts = Vec::new();
    for recess in recesses {
        let corners: Vec<_> = recess.outline.iter().flatten().map(place).collect();
        let Some(sunken) = Room::new(&corners, &[]) else {
            sheet.lack(recess.missing("/outline"));
            continue;
        };
        sunken_parts.push(sunken.clone());
        let inside =
            sunken.walls().iter().any(|wall| wall.face().overlap(&zone.plan).is_some()) || sunken.contains(zone.plan.middle());
        if !inside {
            continue;
        }
        let Some(depth) = sheet.want(need!(recess, depth)) else { continue };
        if !sheet.at_most("sunken floor", &depth, &inquiry.value(&RECESS), "in", "common practice") {
            sheet.fault(text!("the floor of the working space is sunken by {}: it is not level", in_unit(&depth, "in")));
        }
    }
    let points = survey.as_ref().and_then(|survey| survey.points.as_ref()).map(|points| points.as_slice());
    match points.and_then(|points| slope(points, &sunken_parts, zone)) {
        Some(slope) => {
            let slope = uom::si::f64::Ratio::new::<uom::si::ratio::ratio>(slope);
            if !sheet.at_most("slope of the floor", &slope, &inquiry.value(&SLOPE), "in/ft", "common practice") {
                sheet.fault(text!("the floor of the working space slopes by {}: it is not level", in_unit(slope, "in/ft")));
            }
        }
        None => {
            if let Some(level) = sheet.want(need!(space, floor_survey.level)) {
                sheet.require("floor", text!("{}", if *level { "level" } else { "the floor is not level" }), "", *level);
            }
        }
    }
}

/// The slope of the plane through the three measured points nearest to the space that do not lie on one line. Points at the
/// bottom of a sunken part say nothing of the floor around it.
fn slope(points: &[SurveyPoint], sunken: &[Room], zone: &Solid) -> Option<f64> {
    let middle = zone.plan.middle();
    let mut known: Vec<_> =
        points.iter().filter_map(|one| Some((place(one.at.as_ref()?), one.elevation.as_ref()?.si()))).collect();
    known.retain(|(at, _)| !sunken.iter().any(|part| part.contains(*at)));
    known.sort_by(|a, b| norm(a.0 - middle).total_cmp(&norm(b.0 - middle)));
    let (&(a, za), rest) = known.split_first()?;
    let (&(b, zb), rest) = rest.split_first()?;
    let (u, du) = (b - a, zb - za);
    let third = rest.iter().find(|(c, _)| (u.x * (c.y - a.y) - u.y * (c.x - a.x)).abs() > 0.05)?;
    let (v, dv) = (third.0 - a, third.1 - za);
    let turn = u.x * v.y - u.y * v.x;
    let gradient = point((du * v.y - dv * u.y) / turn, (u.x * dv - v.x * du) / turn);
    Some(norm(gradient))
}
