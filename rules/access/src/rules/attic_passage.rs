//! An appliance in an attic is reached through an opening that it fits through, along a passage with a solid floor, and has a
//! level place before it.
//!
//! In an attic people crawl over joists and insulation in the dark with a torch in one hand. A missed joist is a foot through
//! the ceiling, and an appliance that cannot come down through its hatch stays there dead.
//!
//! **How it is measured.** The clear opening, by both its sides, and the largest piece of the appliance by its two lesser
//! sides. The passage by its least height and width, its length along its middle and the width of its floor. Where one can
//! stand in the passage it may be 50 ft long. Where the appliance can be serviced and taken out from the opening, no
//! passage is asked for.
//!
//! **How it is fixed.** Enlarge the opening, lay a floor, clear the passage, or move the appliance nearer to the opening.

use crate::layout::each;
use crate::passage::{Asked, Standing, opening, service_space, way};
use crate::served;
use redtag_rule::prelude::*;

const SECTION: &str = "IRC M1305.1.2 (before 2018 M1305.1.3)";
/// Opening, lesser side.
const OPENING_WIDTH: Quantity<dimensions::Length> =
    Quantity::new("opening_width", "20 in", "Least lesser side of the clear opening.", SECTION).within("0 in", "6 ft");
/// Opening, greater side.
const OPENING_LENGTH: Quantity<dimensions::Length> =
    Quantity::new("opening_length", "30 in", "Least greater side of the clear opening.", SECTION).within("0 in", "6 ft");
/// Passage height.
const HEIGHT: Quantity<dimensions::Length> =
    Quantity::new("passage_height", "30 in", "Least height of the passage in the attic.", SECTION).within("0 in", "8 ft");
/// Passage width.
const WIDTH: Quantity<dimensions::Length> =
    Quantity::new("passage_width", "22 in", "Least width of the passage in the attic.", SECTION).within("0 in", "6 ft");
/// Passage length.
const LENGTH: Quantity<dimensions::Length> =
    Quantity::new("passage_length", "20 ft", "Greatest length of the passage in the attic, along its middle.", SECTION)
        .within("0 ft", "100 ft");
/// Where one can stand.
const STANDING: Quantity<dimensions::Length> =
    Quantity::new("standing_height", "6 ft", "Height of a passage from which on it may be longer.", SECTION)
        .within("4 ft", "8 ft");
/// How long then.
const STANDING_LENGTH: Quantity<dimensions::Length> = Quantity::new(
    "standing_length",
    "50 ft",
    "Greatest length of a passage in which one can stand.",
    "from memory of IMC 306.3 exception 2 and the IRC since 2009; an older printed text of the IRC sets no limit",
)
.within("20 ft", "1000 ft");
/// Floor.
const FLOOR: Quantity<dimensions::Length> =
    Quantity::new("floor_width", "24 in", "Least width of the solid floor of the passage.", SECTION).within("0 in", "6 ft");
/// Service space.
const SERVICE: Quantity<dimensions::Length> =
    Quantity::new("service_space", "30 in", "Level service space before an appliance in the attic, both ways.", SECTION)
        .within("0 in", "6 ft");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "M1305.1.2"), cited("IRC", "2012", "M1305.1.3"), remembered("IMC", "2021", "306.3")],
    parameters: &[&OPENING_WIDTH, &OPENING_LENGTH, &HEIGHT, &WIDTH, &LENGTH, &STANDING, &STANDING_LENGTH, &FLOOR, &SERVICE],
    reads: &["/spaces", "/equipment"],
    ..Rule::new("access/attic-passage", "Passage to appliances in attics", check)
};

const WANTED: &str = "whether it can be reached and taken out of the attic";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let asked = Asked {
        opening_least: inquiry.value(&OPENING_WIDTH),
        opening_most: inquiry.value(&OPENING_LENGTH),
        height: inquiry.value(&HEIGHT),
        width: inquiry.value(&WIDTH),
        long: inquiry.value(&LENGTH),
        service: inquiry.value(&SERVICE),
        source: SECTION,
    };
    each(inquiry, served::appliance, WANTED, |layout, one| {
        let space = &layout.space;
        if space.kind != SpaceKind::Attic {
            return one.not_applicable(text!("does not stand in an attic")).done();
        }
        one.sheet(WANTED, |sheet| {
            opening(space, one, &asked, sheet);
            if space.access.as_ref().and_then(|access| access.serviced_from_opening) == Some(true) {
                sheet.line("passage", text!("none asked for: it is serviced and taken out from the opening"), SECTION);
                return Ok(text!("serviced and taken out from the opening"));
            }
            let standing = Standing { height: inquiry.value(&STANDING), long: Some(inquiry.value(&STANDING_LENGTH)) };
            way(space, &asked, &standing, sheet);
            let floor = inquiry.value(&FLOOR);
            if let Some(width) = sheet.want(need!(space, access.floor_width))
                && !sheet.at_least("solid floor", &width, &floor, "in", SECTION)
            {
                sheet.fault(text!("the floor of the passage is {} wide, {} is the least", width, in_unit(floor, "in")));
            }
            service_space(space, &asked, sheet);
            Ok(text!("opening, passage, floor and service space are large enough"))
        })
    })
}
