//! An appliance in a crawl space is reached through an opening that it fits through and a passage one can crawl, has a level
//! place before it, and keeps off the ground.
//!
//! Under a floor nobody can turn around in a passage that is too low, and a burner on damp ground rusts through from below.
//!
//! **How it is measured.** The rough opening, by both its sides, and the largest piece of the appliance by its two lesser
//! sides. The passage by its least height and width and its length along its middle; where one can stand in it, it may be of any
//! length, and none is asked for where the appliance is serviced and taken out from the opening. The underside of the appliance against
//! the ground: on a slab, or hung from the floor above. Where the ground is dug out for it, how far below it, beyond its sides and
//! before its control side.
//!
//! **How it is fixed.** Enlarge the opening, deepen or clear the passage, move the appliance nearer to the opening, raise it
//! onto a slab or hang it higher.

use crate::layout::each;
use crate::passage::{Asked, Standing, opening, service_space, way};
use crate::served;
use redtag_rule::prelude::*;

const DUG: &str = "from memory of IRC M1305.1.3.2 (before 2018 M1305.1.4.2)";
const SECTION: &str = "IRC M1305.1.3 (before 2018 M1305.1.4)";
/// Opening, lesser side.
const OPENING_WIDTH: Quantity<dimensions::Length> =
    Quantity::new("opening_width", "22 in", "Least lesser side of the rough opening.", SECTION).within("0 in", "6 ft");
/// Opening, greater side.
const OPENING_LENGTH: Quantity<dimensions::Length> =
    Quantity::new("opening_length", "30 in", "Least greater side of the rough opening.", SECTION).within("0 in", "6 ft");
/// Passage height.
const HEIGHT: Quantity<dimensions::Length> =
    Quantity::new("passage_height", "30 in", "Least height of the passage in the crawl space.", SECTION).within("0 in", "8 ft");
/// Passage width.
const WIDTH: Quantity<dimensions::Length> =
    Quantity::new("passage_width", "22 in", "Least width of the passage in the crawl space.", SECTION).within("0 in", "6 ft");
/// Passage length.
const LENGTH: Quantity<dimensions::Length> =
    Quantity::new("passage_length", "20 ft", "Greatest length of the passage in the crawl space, along its middle.", SECTION)
        .within("0 ft", "100 ft");
/// Where one can stand.
const STANDING: Quantity<dimensions::Length> =
    Quantity::new("standing_height", "6 ft", "Height of a passage from which on its length does not matter.", SECTION)
        .within("4 ft", "8 ft");
/// Service space.
const SERVICE: Quantity<dimensions::Length> =
    Quantity::new("service_space", "30 in", "Level service space before an appliance in the crawl space, both ways.", SECTION)
        .within("0 in", "6 ft");
/// On a slab.
const ON_SLAB: Quantity<dimensions::Length> = Quantity::new(
    "above_ground_on_slab",
    "3 in",
    "Least height above the ground of an appliance that stands on a slab.",
    "from memory of IRC M1305.1.3.1",
)
.within("0 in", "2 ft");
/// Hung.
const SUSPENDED: Quantity<dimensions::Length> = Quantity::new(
    "above_ground_suspended",
    "6 in",
    "Least height above the ground of an appliance that hangs from the floor.",
    "from memory of IRC M1305.1.3.1",
)
.within("0 in", "2 ft");

/// Dug out below.
const BELOW: Quantity<dimensions::Length> =
    Quantity::new("excavated_below", "6 in", "How far below an appliance the ground is dug out at least.", DUG)
        .within("0 in", "2 ft");
/// Dug out beside.
const BESIDE: Quantity<dimensions::Length> =
    Quantity::new("excavated_beside", "12 in", "How far beyond its sides the ground is dug out at least.", DUG)
        .within("0 in", "4 ft");
/// Dug out before.
const BEFORE: Quantity<dimensions::Length> =
    Quantity::new("excavated_before", "30 in", "How far before its control side the ground is dug out at least.", DUG)
        .within("0 in", "6 ft");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "M1305.1.3"), cited("IRC", "2006", "M1305.1.4"), remembered("IMC", "2021", "306.4")],
    parameters: &[
        &OPENING_WIDTH,
        &OPENING_LENGTH,
        &HEIGHT,
        &WIDTH,
        &LENGTH,
        &STANDING,
        &SERVICE,
        &ON_SLAB,
        &SUSPENDED,
        &BELOW,
        &BESIDE,
        &BEFORE,
    ],
    reads: &["/spaces", "/equipment"],
    ..Rule::new("access/crawl-space-passage", "Passage to appliances in crawl spaces", check)
};

const WANTED: &str = "whether it can be reached and taken out of the crawl space";

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
        if space.kind != SpaceKind::CrawlSpace {
            return one.not_applicable(text!("does not stand in a crawl space")).done();
        }
        one.sheet(WANTED, |sheet| {
            opening(space, one, &asked, sheet);
            if space.access.as_ref().and_then(|access| access.serviced_from_opening) == Some(true) {
                sheet.line("passage", text!("none asked for: it is serviced and taken out from the opening"), SECTION);
            } else {
                way(space, &asked, &Standing { height: inquiry.value(&STANDING), long: None }, sheet);
            }
            service_space(space, &asked, sheet);
            off_the_ground(inquiry, one, sheet);
            dug_out(inquiry, space, sheet);
            Ok(text!("opening, passage and service space are large enough, and it keeps off the ground"))
        })
    })
}

/// Ground dug out for the appliance, where it is.
fn dug_out(inquiry: &Inquiry, space: &Place<Space>, sheet: &mut Sheet) {
    let Some(excavated) = sheet.want(need!(space, access.excavated)) else { return };
    if !*excavated {
        return;
    }
    let source = "from memory of IRC M1305.1.3.2";
    for (label, there, least) in [
        ("below it", need!(space, access.excavated_below), inquiry.value(&BELOW)),
        ("beyond its sides", need!(space, access.excavated_beside), inquiry.value(&BESIDE)),
        ("before its control side", need!(space, access.excavated_before), inquiry.value(&BEFORE)),
    ] {
        let Some(there) = sheet.want(there) else { continue };
        if !sheet.at_least(&format!("dug out {label}"), &there, &least, "in", source) {
            sheet.fault(text!(
                "the ground is dug out {} {}, {} is the least",
                in_unit(&there, "in"),
                label,
                in_unit(least, "in")
            ));
        }
    }
}

fn off_the_ground(inquiry: &Inquiry, one: &Place<Equipment>, sheet: &mut Sheet) {
    let Some((mounting, base)) = sheet.want((need!(one, mounting), need!(one, placement.base)).together()) else { return };
    let hung = matches!(*mounting, Mounting::Suspended | Mounting::Wall);
    let least = if hung { inquiry.value(&SUSPENDED) } else { inquiry.value(&ON_SLAB) };
    if !sheet.at_least("above the ground", &base, &least, "in", "from memory of IRC M1305.1.3.1") {
        sheet.fault(text!("its underside is {} above the ground, {} is the least", in_unit(&base, "in"), in_unit(least, "in")));
    }
}
