//! Outdoors, batteries must stand away from the doors and windows of the dwelling.
//!
//! Smoke and gas from a unit that fails must not blow into the house, nor bar the way out.
//!
//! **How it is measured.** Through the air, from the unit to the nearest edge of every door and window that leads directly into the
//! dwelling, by positions; where a distance is stated too, the smaller counts. Where nothing is said of how high an opening is,
//! it is taken at the unit's height, upper stories excepted: there its height is asked for. Openings into a garage that is
//! separated from the dwelling are not counted, unless the jurisdiction counts every opening: vents, dryer exhausts, crawl-space
//! hatches too. An opening of the dwelling's walls that does not say where it leads is asked for where it lies near.
//!
//! **How it is fixed.** Move the unit along the wall, or away from it.

use crate::place::{self, Class};
use crate::units::{self, Unit};
use redtag_handbook::space::{Gap, Shape, Solid};
use redtag_rule::prelude::*;
use redtag_rule_space as plan;
use uom::si::f64::Length;

const SOURCE: &str = "IRC R328.4, item 3";
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
    "IRC R328.4; some fire departments count all",
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
    let stated = need!(unit.unit, to_opening);
    let body = plan::stand(&unit.equipment(inquiry)?).map(|stand| stand.solid());
    if let Ok(stated) = &stated {
        let words = text!("{} from the nearest door or window, {} is the least", *stated, asked);
        tell(sheet, words.clone(), stated.quantity(), asked);
        // Nothing is drawn to hold it against.
        if body.is_err() || need!(inquiry.project(), openings).is_err() {
            return Ok(words);
        }
    }
    let body = body?;
    let openings = need!(inquiry.project(), openings)?;
    for opening in openings.items() {
        let counts = counts(inquiry, &opening);
        if counts == Ok(false) {
            continue;
        }
        let outline = plan::opening_outline(inquiry, &opening);
        if stated.is_ok() && outline.is_err() {
            continue;
        }
        let Some(shape) = sheet.want(outline) else { continue };
        let gap = body.plan.gap(&shape);
        let near = !at_least(plan::length(gap.distance), asked);
        if near && let Err(unresolved) = counts {
            sheet.lack(unresolved);
            continue;
        }
        let Some(distance) = sheet.want(through_air(inquiry, &opening, &body, &shape, asked)) else { continue };
        let words = text!("{} from {}, {} is the least", distance, opening.label(), asked);
        if !tell(sheet, words, distance, asked) {
            sheet.related(opening.pointer());
            draw(sheet, &gap);
        }
    }
    Ok(text!("at least {} from every door and window counted", asked))
}

/// The distance to an opening with its height, where that is known; in plan where it lies on the ground floor.
fn through_air(inquiry: &Inquiry, opening: &Place<Opening>, body: &Solid, shape: &Shape, asked: Length) -> Lookup<Length> {
    let flat = plan::length(body.plan.gap(shape).distance);
    if at_least(flat, asked) {
        return Ok(flat);
    }
    if let (Ok(bottom), Ok(height)) = (need!(opening, bottom_above_grade), need!(opening, height)) {
        let (bottom, height) = (bottom.si(), plan::metres(&height));
        return Ok(plan::length(body.gap(&Solid::new(shape.clone(), bottom, bottom + height)).distance));
    }
    let story = need!(opening, space).and_then(|space| inquiry.space(&space)).ok().and_then(|space| space.story);
    if story.is_some_and(|story| story > 1) {
        (need!(opening, bottom_above_grade), need!(opening, height)).together()?;
    }
    Ok(flat)
}

fn tell(sheet: &mut Sheet, words: Text, distance: Length, asked: Length) -> bool {
    let holds = sheet.require("distance", words, SOURCE, at_least(distance, asked));
    if !holds {
        sheet.cure(text!("move it {} further away", asked - distance));
    }
    holds
}

/// Whether this opening leads from outdoors into what must be kept free of smoke.
fn counts(inquiry: &Inquiry, opening: &Place<Opening>) -> Lookup<bool> {
    let all = inquiry.value(&OPENINGS) == "all";
    let leads_in = matches!(opening.kind, OpeningKind::Door | OpeningKind::DoorlessOpening | OpeningKind::Window);
    if !leads_in && !all {
        return Ok(false);
    }
    let beyond = need!(opening, beyond)?;
    if beyond.kind != BeyondKind::Outdoors || all {
        return Ok(beyond.kind == BeyondKind::Outdoors);
    }
    use SpaceKind as K;
    let space = inquiry.space(&need!(opening, space)?)?;
    Ok(!matches!(space.kind, K::AttachedGarage | K::DetachedGarage | K::Carport | K::Boathouse | K::CrawlSpace | K::Attic))
}

fn draw(sheet: &mut Sheet, gap: &Gap) {
    let ends = [[gap.from.x, gap.from.y, 0.0], [gap.to.x, gap.to.y, 0.0]];
    sheet.mark(line_mark(None, "distance to an opening", &ends));
}
