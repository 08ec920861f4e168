//! A room with appliances in it has a door, or another opening without anything in it, wide enough for a person and for what
//! must be carried out.
//!
//! Everything in the room will be replaced once in the life of the house, and most of it in winter.
//!
//! **How it is measured.** By the clear width of the widest way in, that is between the stop and the leaf while it stands open,
//! and where a fixed size is asked for also by its clear height. Two readings are in use: the residential one asks for a width
//! and that the largest appliance passes; the mechanical one for a fixed size.
//!
//! **How it is fixed.** A wider door, or hinges that give the whole width.

use crate::served;
use redtag_rule::prelude::*;
use redtag_rule_space::{Door, doors, length, room};

/// Which reading.
const READING: Choice = Choice::new(
    "reading",
    "residential",
    &["residential", "fixed-size"],
    "Whether the residential width or a fixed size of door is asked for.",
    "IMC 306.2 asks for a fixed size and excepts dwellings from it",
);
/// Width.
const WIDTH: Quantity<dimensions::Length> =
    Quantity::new("width", "24 in", "Least clear width by the residential reading.", "IMC 306.2, exception")
        .within("0 in", "6 ft");
/// Fixed width.
const FIXED_WIDTH: Quantity<dimensions::Length> =
    Quantity::new("fixed_width", "36 in", "Least clear width of a door of fixed size.", "IMC 306.2").within("0 in", "6 ft");
/// Fixed height.
const FIXED_HEIGHT: Quantity<dimensions::Length> =
    Quantity::new("fixed_height", "80 in", "Least clear height of a door of fixed size.", "IMC 306.2").within("0 in", "9 ft");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IMC", "2018", "306.2"), remembered("IRC", "2018", "M1305.1.2")],
    parameters: &[&READING, &WIDTH, &FIXED_WIDTH, &FIXED_HEIGHT],
    reads: &["/spaces", "/openings", "/equipment"],
    ..Rule::new("access/appliance-room", "Doors of rooms with appliances", check)
};

const WANTED: &str = "whether its door is wide enough";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let equipment = need!(inquiry.project(), equipment).every();
    let holds = |space: &Place<Space>| {
        equipment.iter().any(|one| one.space.as_ref() == Some(&space.id) && one.outdoors != Some(true) && served::appliance(one))
    };
    let spaces = need!(inquiry.project(), spaces).every();
    spaces
        .iter()
        .map(|space| {
            if !holds(space) {
                return space.not_applicable(text!("no appliance stands in it")).done();
            }
            if served::passage_of_its_own(space) {
                return space.not_applicable(text!("has a passage rule of its own")).done();
            }
            space.sheet(WANTED, |sheet| judge(inquiry, space, sheet))
        })
        .collect()
}

fn judge<'a>(inquiry: &Inquiry<'a>, space: &Place<'a, Space>, sheet: &mut Sheet) -> Lookup<Text> {
    let room = room(space)?;
    let mut known: Vec<Door> = Vec::new();
    let mut lacking = None;
    for door in doors(inquiry, space, &room) {
        match door {
            Ok(door) => known.push(door),
            Err(unresolved) => lacking = Unresolved::joined(lacking, unresolved),
        }
    }
    let widest = known.into_iter().max_by(|a, b| a.doorway.clear().total_cmp(&b.doorway.clear()));
    let wanted = format!("a door or other opening that people pass into {}", space.label());
    let Some(door) = widest else { return Err(lacking.unwrap_or_else(|| Unresolved::because("/openings", wanted))) };
    let fixed = inquiry.value(&READING) == "fixed-size";
    let least = if fixed { inquiry.value(&FIXED_WIDTH) } else { inquiry.value(&WIDTH) };
    let clear = length(door.doorway.clear());
    if !sheet.at_least("clear width", &clear, &least, "in", "IMC 306.2") {
        if let Some(unresolved) = lacking {
            // Another door may be wide enough.
            return Err(unresolved);
        }
        sheet.fault(text!(
            "{} is {} wide clear, {} is the least",
            door.opening.label(),
            in_unit(clear, "in"),
            in_unit(least, "in")
        ));
        sheet.related(door.opening.pointer());
        sheet.cure(text!("a door with {} of clear width", in_unit(least, "in")));
    }
    if fixed && let Some(height) = sheet.want(door.clear_height()) {
        let (height, least) = (length(height), inquiry.value(&FIXED_HEIGHT));
        if !sheet.at_least("clear height", &height, &least, "in", "IMC 306.2") {
            sheet.fault(text!(
                "{} is {} high clear, {} is the least",
                door.opening.label(),
                in_unit(height, "in"),
                in_unit(least, "in")
            ));
            sheet.related(door.opening.pointer());
        }
    }
    Ok(text!("{} is {} wide clear", door.opening.label(), in_unit(clear, "in")))
}
