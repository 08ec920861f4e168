//! Outdoors, batteries must stand away from the doors and windows of the dwelling.
//!
//! Smoke and gas from a unit that fails must not blow into the house, nor bar the way out.
//!
//! **How it is measured.** In plan, from the unit to the nearest edge of every door and window that leads directly into the
//! dwelling, from positions or as stated. Openings into a garage that is separated from the dwelling are not counted, unless the
//! jurisdiction counts every opening: vents, dryer exhausts, crawl-space hatches too.
//!
//! **How it is fixed.** Move the unit along the wall, or away from it.

use crate::place::{self, Class};
use crate::units::{self, Unit};
use redtag_handbook::space::{Gap, Shape};
use redtag_rule::prelude::*;
use redtag_rule_space as plan;
use uom::si::f64::Length;

const SOURCE: &str = "IRC R328.4, item 3 (solsmart.org permitting step 4)";
/// Away from openings.
const DISTANCE: Quantity<dimensions::Length> =
    Quantity::new("distance", "36 in", "The least distance to doors and windows that lead into the dwelling.", SOURCE)
        .within("0 in", "240 in");
/// Which ones.
const OPENINGS: Choice = Choice::new(
    "openings_counted",
    "doors-and-windows",
    &["doors-and-windows", "all"],
    "Which openings count: doors and windows of the dwelling, or every opening of the building.",
    "IRC R328.4; a fire department of a large city counts all (memo of 2023-05-02, issuu.com/lafd)",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2021", "R328.4")],
    parameters: &[&DISTANCE, &OPENINGS],
    reads: &["/spaces", "/openings", "/equipment", "/electrical/storage"],
    ..Rule::new("energy-storage/doors-and-windows", "Distance to doors and windows", check)
};

const WANTED: &str = "whether it stands far enough from doors and windows";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    units::each(inquiry, WANTED, |unit| match place::of(inquiry, unit) {
        Ok(standing) if !matches!(standing.class, Class::ExteriorWall | Class::Ground) => {
            unit.unit.not_applicable(text!("does not stand outdoors")).done()
        }
        standing => unit.unit.sheet(WANTED, |sheet| standing.and_then(|_| judge(inquiry, unit, sheet))),
    })
}

fn judge<'a>(inquiry: &Inquiry<'a>, unit: &Unit<'a>, sheet: &mut Sheet) -> Lookup<Text> {
    let asked = inquiry.value(&DISTANCE);
    if let Ok(stated) = need!(unit.unit, to_opening) {
        let words = text!("{} from the nearest door or window, {} is the least", stated, asked);
        tell(sheet, words.clone(), stated.quantity(), asked);
        return Ok(words);
    }
    let body = plan::stand(&unit.equipment(inquiry)?)?.body.plan();
    let openings = need!(inquiry.project(), openings)?;
    for opening in openings.items().filter(|opening| counts(inquiry, opening)) {
        let Some(shape) = sheet.want(outline(inquiry, &opening)) else { continue };
        let gap = body.gap(&shape);
        let distance = plan::length(gap.distance);
        let words = text!("{} from {}, {} is the least", distance, opening.label(), asked);
        if !tell(sheet, words, distance, asked) {
            sheet.related(opening.pointer());
            draw(sheet, &gap);
        }
    }
    Ok(text!("at least {} from every door and window counted", asked))
}

fn tell(sheet: &mut Sheet, words: Text, distance: Length, asked: Length) -> bool {
    let holds = sheet.require("distance", words, SOURCE, at_least(distance, asked));
    if !holds {
        sheet.cure(text!("move it {} further away", asked - distance));
    }
    holds
}

/// Whether this opening leads from outdoors into what must be kept free of smoke.
fn counts(inquiry: &Inquiry, opening: &Place<Opening>) -> bool {
    let outdoors = opening.beyond.as_ref().is_some_and(|beyond| beyond.kind == BeyondKind::Outdoors);
    if !outdoors || inquiry.value(&OPENINGS) == "all" {
        return outdoors;
    }
    let leads_in = matches!(opening.kind, OpeningKind::Door | OpeningKind::DoorlessOpening | OpeningKind::Window);
    let space = need!(opening, space).and_then(|space| inquiry.space(&space));
    let garage = space.is_ok_and(|space| {
        use SpaceKind as K;
        matches!(space.kind, K::AttachedGarage | K::DetachedGarage | K::Carport | K::Boathouse | K::CrawlSpace | K::Attic)
    });
    leads_in && !garage
}

/// An opening in plan: the line between its jambs where the wall is drawn, else a circle as wide as it.
fn outline(inquiry: &Inquiry, opening: &Place<Opening>) -> Lookup<Shape> {
    let (at, width) = (need!(opening, at), need!(opening, width)).together()?;
    let middle = plan::point(&at);
    let space = need!(opening, space).and_then(|space| inquiry.space(&space));
    let doorway = space.and_then(|space| plan::room(&space)).ok().and_then(|room| room.doorway(middle, width.si(), 0.6));
    Ok(match doorway {
        Some(doorway) => {
            let (left, right) = doorway.jambs();
            // The opening is as wide outside, where the unit stands, as it is at the wall's inner face.
            Shape::line(left, right).moved(middle - doorway.middle)
        }
        None => Shape::circle(middle, width.si() / 2.0),
    })
}

fn draw(sheet: &mut Sheet, gap: &Gap) {
    let ends = [[gap.from.x, gap.from.y, 0.0], [gap.to.x, gap.to.y, 0.0]];
    sheet.mark(line_mark(None, "distance to an opening", &ends));
}
