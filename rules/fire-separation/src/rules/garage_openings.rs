//! A door between a garage and the dwelling must be solid or rated and close by itself, and none may lead to a sleeping room.
//!
//! The hole in the separation is its weakest part. Hollow doors burn through in minutes, open ones at once; fumes of a running
//! car follow the same way into bedrooms.
//!
//! **How it is measured.** For each opening between the two: a door needs a solid wood or steel leaf of the thickness asked for, or
//! a rating of 20 minutes, without a pet door or louver in it; a device that closes it and a latch that catches by itself where
//! the edition asks. A hatch to an attic lies shut by its weight: its leaf alone is asked about. Grilles, windows that open and
//! plain holes have no place there. An opening that does not say what lies on one of its sides is asked for it where the house has
//! a garage.
//!
//! **How it is fixed.** A 1 3/8 in solid or 20-minute door with a closer; another way into the bedroom; the hole closed and boarded.

use crate::leaf::{leaf, whole};
use crate::parts::spaces;
use crate::zone::{self, Zone};
use redtag_handbook::fire::sources;
use redtag_rule::prelude::*;

/// Thickness of the leaf.
const LEAF: Quantity<dimensions::Length> =
    Quantity::new("door_thickness", "1 3/8 in", "Least thickness of a solid wood or steel door.", "IRC R302.5.1")
        .within("1 in", "3 in");
/// Rating of the door.
const RATING: Quantity<dimensions::Duration> =
    Quantity::new("door_rating", "20 min", "Fire rating that stands for a solid leaf.", "IRC R302.5.1");
/// Whether it must close by itself.
const CLOSING: Flag = Flag::new(
    "self_closing",
    true,
    "Whether the door must close by itself; often deleted.",
    "from memory of IRC R302.5.1, 2015 and later",
);
/// Whether it must latch.
const LATCHING: Flag = Flag::new(
    "self_latching",
    true,
    "Whether the door must latch by itself.",
    "IRC R302.5.1 of 2021 asks; the 2018 text does not",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "R302.5.1")],
    parameters: &[&LEAF, &RATING, &CLOSING, &LATCHING],
    reads: &["/spaces", "/openings"],
    ..Rule::new("fire-separation/garage-openings", "Doors and openings into the garage", check)
};

const WANTED: &str = "whether the opening into the garage is right";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let openings = need!(inquiry.project(), openings).every();
    openings.iter().filter_map(|opening| one(inquiry, opening)).collect()
}

fn one(inquiry: &Inquiry, opening: &Place<Opening>) -> Option<Finding> {
    let (here, there) = sides(inquiry, opening);
    let garage = |zone: &Lookup<Side>| zone.as_ref().is_ok_and(|side| side.zone == Zone::Garage);
    let dwelling = |zone: &Lookup<Side>| zone.as_ref().is_ok_and(|side| matches!(side.zone, Zone::Dwelling(_) | Zone::Attic));
    match (&here, &there) {
        (Ok(_), Ok(_)) if (garage(&here) && dwelling(&there)) || (dwelling(&here) && garage(&there)) => {
            let sleeping = [here, there].into_iter().flatten().any(|side| side.sleeping);
            Some(opening.sheet(WANTED, |sheet| judge(inquiry, opening, sleeping, sheet)))
        }
        // What is not said matters only where the other side is a garage.
        (Err(unresolved), other) | (other, Err(unresolved)) if garage(other) => {
            Some(opening.ask(WANTED, || Err(unresolved.clone())))
        }
        (Err(unresolved), other) if dwelling(other) && has_garage(inquiry) => {
            Some(opening.ask(WANTED, || Err(unresolved.clone())))
        }
        _ => None,
    }
}

/// Whether a garage is attached to the dwelling.
fn has_garage(inquiry: &Inquiry) -> bool {
    spaces(inquiry).iter().any(|space| space.kind == SpaceKind::AttachedGarage)
}

/// One side of an opening.
struct Side {
    zone: Zone,
    sleeping: bool,
}

fn sides(inquiry: &Inquiry, opening: &Place<Opening>) -> (Lookup<Side>, Lookup<Side>) {
    let named = |space: Place<Space>| {
        Ok(Side { zone: zone::of_space(inquiry, &space)?, sleeping: space.kind == SpaceKind::SleepingRoom })
    };
    let here = need!(opening, space).and_then(|id| inquiry.space(&id)).and_then(named);
    let there = need!(opening, beyond).and_then(|beyond| match beyond.kind {
        _ if beyond.space.is_some() => need!(beyond, space).and_then(|id| inquiry.space(&id)).and_then(named),
        BeyondKind::Garage => Ok(Side { zone: Zone::Garage, sleeping: false }),
        BeyondKind::Attic => Ok(Side { zone: Zone::Attic, sleeping: false }),
        BeyondKind::Outdoors | BeyondKind::Ground => Ok(Side { zone: Zone::Open, sleeping: false }),
        BeyondKind::Conditioned | BeyondKind::DwellingUnit => Err(beyond.missing("/space")),
        BeyondKind::CrawlSpace | BeyondKind::Shaft => Ok(Side { zone: Zone::Dwelling(Ok(false)), sleeping: false }),
        _ => Err(Unresolved::at(beyond.pointer())),
    });
    (here, there)
}

fn judge(inquiry: &Inquiry, opening: &Place<Opening>, sleeping: bool, sheet: &mut Sheet) -> Lookup<Text> {
    let source = sources::GARAGE_OPENINGS.text();
    if sleeping {
        sheet.require("place", text!("it opens from the garage into a sleeping room"), source, false);
        sheet.cure(text!("close it; give the sleeping room another way in"));
    }
    match opening.kind {
        OpeningKind::Door => door(inquiry, opening, sheet, source),
        // It falls shut by its weight and has nothing to latch.
        OpeningKind::Hatch if opening.door.is_some() => panel(inquiry, opening, sheet, source),
        other => {
            sheet.require("kind", text!("a {} leaves the separation of garage and dwelling open", other), source, false);
            sheet.cure(text!("close it with the board of the wall around it, or set a solid door that closes by itself"));
        }
    }
    if !sheet.sound()
        && let Some(at) = &opening.at
    {
        sheet.mark(point_mark(opening.space.as_deref(), "opening into the garage", [at.x.si(), at.y.si(), 0.0]));
    }
    Ok(text!("solid or rated, whole, and closes by itself"))
}

/// The leaf: rated, or solid and thick enough; whole in either case.
fn panel(inquiry: &Inquiry, opening: &Place<Opening>, sheet: &mut Sheet, source: &'static str) {
    let rated = opening
        .door
        .as_ref()
        .and_then(|door| door.fire_rating.as_ref())
        .is_some_and(|rating| at_least(rating.quantity(), inquiry.value(&RATING)));
    if rated {
        sheet.line("leaf", text!("rated {}", inquiry.value(&RATING)), source);
    } else {
        leaf(opening, sheet, inquiry.value(&LEAF), source);
    }
    whole(opening, sheet, source);
}

fn door(inquiry: &Inquiry, opening: &Place<Opening>, sheet: &mut Sheet, source: &'static str) {
    panel(inquiry, opening, sheet, source);
    if inquiry.value(&CLOSING)
        && let Some(closing) = sheet.want(need!(opening, door.self_closing))
        && !sheet.require("closing", text!("it must close by itself"), source, *closing)
    {
        sheet.cure_at(text!("fit a device that closes it"), &[(closing.pointer().to_owned(), json!(true))]);
    }
    if inquiry.value(&LATCHING)
        && let Some(latching) = sheet.want(need!(opening, door.self_latching))
        && !sheet.require("latching", text!("it must latch by itself"), source, *latching)
    {
        sheet.cure_at(text!("fit a latch that catches by itself"), &[(latching.pointer().to_owned(), json!(true))]);
    }
}
