//! In a garage, batteries must stand where no vehicle reaches them, or behind a barrier.
//!
//! A foot that slips off the brake pushes a car into the wall; a crushed battery burns at once or hours later.
//!
//! **How it is measured.** The path a vehicle drives is taken as the width of the vehicle door carried straight to the far wall,
//! up to 48 in above the floor; a carport is path everywhere. A unit in it needs a barrier or wheel stop the authority approves.
//! A garage has a vehicle door: where none is described, or the door or the unit is not drawn, what the project says keeps
//! vehicles off is taken as claimed. Outdoors nothing is drawn that vehicles drive on: the project says what keeps them off, or
//! that none gets there.
//!
//! **How it is fixed.** A bollard or rail, a wheel stop, a place beside the path, or one above it.

use crate::place::{self, Class};
use crate::units::{self, Unit};
use redtag_handbook::space::{Room, Shape, Solid};
use redtag_rule::prelude::*;
use redtag_rule_space as plan;

const SOURCE: &str = "IRC R328.8 of 2021; path from memory of IRC R330.8 of 2024";
/// How high vehicles reach.
const HEIGHT: Quantity<dimensions::Length> = Quantity::new(
    "path_height",
    "48 in",
    "How high above the floor the path of a vehicle reaches.",
    "a published permitting guide",
)
.within("12 in", "120 in");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "R328.8")],
    parameters: &[&HEIGHT],
    reads: &["/spaces", "/openings", "/equipment", "/electrical/storage"],
    ..Rule::new("energy-storage/vehicle-impact", "Batteries and vehicles", check)
};

const WANTED: &str = "whether a vehicle can hit it";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    units::each(inquiry, WANTED, |unit| match place::of(inquiry, unit) {
        Ok(standing) if standing.class == Class::Inside => unit.unit.not_applicable(text!("does not stand in a garage")).done(),
        standing => unit.unit.sheet(WANTED, |sheet| match standing?.space {
            Some(space) => judge(inquiry, unit, &space, sheet),
            None => outdoors(&unit.equipment(inquiry)?, sheet),
        }),
    })
}

/// Outdoors: as the project says.
fn outdoors(equipment: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let wanted = "what keeps vehicles off it, or `out-of-path` where no drive or parking reaches it";
    let claimed = need!(equipment, vehicle_protection)
        .map_err(|_| Unresolved::because(format!("{}/vehicle_protection", equipment.pointer()), wanted))?;
    if *claimed == VehicleProtection::None {
        bare(equipment, sheet);
    }
    Ok(text!("{}, as the project says", *claimed))
}

fn bare(equipment: &Place<Equipment>, sheet: &mut Sheet) {
    sheet.require("protection", text!("nothing keeps vehicles off it"), SOURCE, false);
    cure(equipment, sheet);
}

fn judge<'a>(inquiry: &Inquiry<'a>, unit: &Unit<'a>, space: &Place<'a, Space>, sheet: &mut Sheet) -> Lookup<Text> {
    let equipment = unit.equipment(inquiry)?;
    let claimed = need!(equipment, vehicle_protection);
    if let Ok(claimed) = &claimed
        && matches!(**claimed, VehicleProtection::Barrier | VehicleProtection::WheelStop)
    {
        return Ok(text!("behind a {}", **claimed));
    }
    match path(inquiry, space) {
        Ok(Some(path)) => in_path(&equipment, space, &path, sheet),
        Ok(None) => Ok(text!("no vehicle door leads into {}", space.label())),
        Err(unresolved) => match claimed {
            Ok(claimed) if *claimed == VehicleProtection::None => {
                bare(&equipment, sheet);
                Ok(Text::default())
            }
            Ok(claimed) => Ok(text!("{}, as the project says", *claimed)),
            Err(protection) => Err(protection.and(unresolved)),
        },
    }
}

/// Where vehicles drive: one band for each vehicle door; all of a carport.
fn path<'a>(inquiry: &Inquiry<'a>, space: &Place<'a, Space>) -> Lookup<Option<Vec<Solid>>> {
    let top = inquiry.value(&HEIGHT).value;
    if space.kind == SpaceKind::Carport {
        let outline = need!(space, outline)?;
        let corners: Vec<_> = outline.iter().map(plan::point).collect();
        return Ok(Some(vec![Solid::new(Shape::convex(&corners), 0.0, top)]));
    }
    let openings = need!(inquiry.project(), openings)?;
    let doors: Vec<_> = openings.items().filter(|opening| opening.kind == OpeningKind::VehicleDoor).collect();
    let here = |door: &&Place<Opening>| {
        let beyond = door.beyond.as_ref().and_then(|beyond| beyond.space.as_ref());
        door.space.as_ref() == Some(&space.id) || beyond == Some(&space.id)
    };
    let own: Vec<&Place<Opening>> = doors.iter().filter(here).collect();
    if own.is_empty() {
        if let Some(door) = doors.iter().find(|door| door.space.is_none()) {
            return Err(door.missing("/space"));
        }
        if space.kind == SpaceKind::Boathouse {
            return Ok(None);
        }
        return Err(Unresolved::because(openings.pointer(), format!("the vehicle door of {}", space.label())));
    }
    let room = plan::room(space)?;
    let bands = own.iter().map(|door| band(door, &room).map(|shape| Solid::new(shape, 0.0, top)));
    bands.collect::<Vec<_>>().together().map(Some)
}

/// The width of the door carried through the room.
fn band(door: &Place<Opening>, room: &Room) -> Lookup<Shape> {
    let (at, width) = (need!(door, at), need!(door, width)).together()?;
    let far = || Unresolved::because(at.pointer(), "a place in or near a wall of the space");
    let doorway = room.doorway(plan::point(&at), width.si(), 0.6).ok_or_else(far)?;
    let (left, right) = doorway.jambs();
    // Longer than any garage is deep: what lies beyond the far wall does no harm.
    let through = doorway.out * -100.0;
    Ok(Shape::convex(&[left, right, right + through, left + through]))
}

fn in_path(equipment: &Place<Equipment>, space: &Place<Space>, path: &[Solid], sheet: &mut Sheet) -> Lookup<Text> {
    let body = plan::stand(equipment)?.solid();
    let Some((band, overlap)) = path.iter().find_map(|band| band.overlap(&body).map(|overlap| (band, overlap))) else {
        let raised = path
            .iter()
            .any(|band| body.bottom >= band.top - 1e-9 && Solid::new(body.plan.clone(), 0.0, band.top).overlap(band).is_some());
        let place = if raised { "above" } else { "beside" };
        return Ok(text!("stands {} the path of vehicles", place));
    };
    let words = text!("stands {} deep in the path of vehicles, with nothing to keep them off", plan::length(overlap.plan));
    sheet.require("path", words, SOURCE, false);
    sheet.mark(plan::solid_mark(space, "battery in the path of vehicles", &body));
    sheet.related(space.pointer());
    sheet.cure(text!(
        "raise it to {} above the floor, or move it {} sideways",
        plan::length(band.top),
        plan::length(overlap.plan)
    ));
    cure(equipment, sheet);
    Ok(Text::default())
}

fn cure(equipment: &Place<Equipment>, sheet: &mut Sheet) {
    let pointer = format!("{}/vehicle_protection", equipment.pointer());
    sheet.cure_at(text!("put up a bollard, rail or wheel stop the authority approves"), &[(pointer, json!("barrier"))]);
}
