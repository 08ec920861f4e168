//! A utility or storage space with batteries must be shut off from the dwelling by a door that holds back fire for a while,
//! closes by itself and latches.
//!
//! The first minutes decide whether people get out: a hollow door left ajar lets smoke through at once.
//!
//! **How it is measured.** Every opening from the space into the dwelling: doors of solid wood or of solid or honeycomb-core
//! steel 1 3/8 in thick, or rated for 20 minutes, self-closing and self-latching. Other openings are none of those. Not in the
//! 2021 family; a pack of a later one, or a county, puts it into force.
//!
//! **How it is fixed.** Hang such a door with a closer; close other openings.

use crate::place::{self, Class};
use crate::units;
use redtag_rule::prelude::*;

const SOURCE: &str = "IRC R330.4, item 4, of 2024 (lists.re-wrenches.org 2025-06-09)";
/// Thickness.
const THICKNESS: Quantity<dimensions::Length> =
    Quantity::new("leaf_thickness", "1 3/8 in", "The least thickness of a door of solid wood or steel.", SOURCE)
        .within("1 in", "3 in");
/// Rating.
const RATING: Quantity<dimensions::Duration> =
    Quantity::new("leaf_rating", "20 min", "The fire rating that does instead.", SOURCE).within("10 min", "180 min");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2024", "R330.4")],
    parameters: &[&THICKNESS, &RATING],
    adopted: false,
    reads: &["/spaces", "/openings", "/equipment", "/electrical/storage"],
    ..Rule::new("energy-storage/room-door", "Doors of rooms with batteries", check)
};

const WANTED: &str = "whether its room is shut off from the dwelling";

fn check(case: &Case) -> Vec<Finding> {
    units::each(case, WANTED, |unit| match place::of(case, unit) {
        Ok(standing) if standing.class != Class::Inside => {
            unit.unit.not_applicable(text!("does not stand inside the dwelling")).done()
        }
        standing => unit.unit.sheet(WANTED, |sheet| match standing?.space {
            Some(space) => judge(case, &space, sheet),
            None => Ok(Text::default()),
        }),
    })
}

fn judge<'a>(case: &Case<'a>, space: &Place<'a, Space>, sheet: &mut Sheet) -> Lookup<Text> {
    let openings = need!(case.project(), openings)?;
    for opening in openings.items().filter(|opening| leads_into_dwelling(opening, &space.id)) {
        if opening.kind != OpeningKind::Door {
            sheet.related(opening.pointer());
            sheet.require("opening", text!("{} is no door", opening.label()), SOURCE, false);
            sheet.cure(text!("close it, or hang a door in it"));
            continue;
        }
        let judged = door(case, &opening, sheet);
        sheet.want(judged);
    }
    Ok(text!("{} is shut off from the dwelling", space.label()))
}

fn leads_into_dwelling(opening: &Place<Opening>, space: &str) -> bool {
    let Some(beyond) = opening.beyond.as_ref() else { return false };
    let own = opening.space.as_deref() == Some(space);
    let other = beyond.space.as_deref() == Some(space);
    (own && matches!(beyond.kind, BeyondKind::Space | BeyondKind::Conditioned | BeyondKind::DwellingUnit)) || other
}

fn door(case: &Case, opening: &Place<Opening>, sheet: &mut Sheet) -> Lookup<()> {
    let leaf = match need!(opening, door.fire_rating) {
        Ok(rating) if at_least(rating.quantity(), case.value(&RATING)) => text!("rated {}", rating),
        _ => {
            let (core, thickness) = (need!(opening, door.core), need!(opening, door.thickness)).together()?;
            let strong = matches!(*core, DoorCore::SolidWood | DoorCore::SteelCore);
            let least = case.value(&THICKNESS);
            let words = text!(
                "{}: {}, {} thick; solid wood or steel of {} or {} rating is asked for",
                opening.label(),
                *core,
                thickness,
                least,
                case.value(&RATING)
            );
            if !sheet.require("leaf", words, SOURCE, strong && at_least(thickness.quantity(), least)) {
                sheet.related(opening.pointer());
                sheet.cure(text!("hang a door of solid wood or steel {} thick, or one rated for {}", least, case.value(&RATING)));
            }
            text!("{}, {} thick", *core, thickness)
        }
    };
    let (closes, latches) = (need!(opening, door.self_closing), need!(opening, door.self_latching)).together()?;
    let words = text!("{} ({}) does not close and latch by itself", opening.label(), leaf);
    if !(*closes && *latches) {
        sheet.require("closer", words, SOURCE, false);
        let values = [(closes.pointer().to_owned(), json!(true)), (latches.pointer().to_owned(), json!(true))];
        sheet.cure_at(text!("fit a closer and a latch"), &values);
    }
    Ok(())
}
