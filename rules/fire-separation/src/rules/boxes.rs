//! Boxes set in the face of a rated wall must be small, steel, snug, few, and not back to back.
//!
//! Every box is a hole in the board. Steel boxes of 16 in2 keep the rating while they stay within 100 in2 in any 100 ft2, fit the
//! board within 1/8 in, and keep 24 in from boxes in the other face or are guarded by listed pads or solid blocking.
//!
//! **How it is measured.** For each box in a wall between dwelling units: its material, face, gap and distance. The sum is taken over
//! the worst stretch of the wall that makes 100 ft2.
//!
//! **How it is fixed.** Steel boxes or boxes listed for the wall, listed pads behind them, boxes moved apart.

use crate::area;
use crate::parts::{Part, parts};
use crate::rated;
use redtag_handbook::fire::{BoxFacts, BoxFault, BoxLimits, box_faults, greatest_box_area, sources};
use redtag_rule::prelude::*;
use uom::si::area::square_meter;
use uom::si::f64::{Area, Length};
use uom::si::length::meter;

/// One box.
const ONE: Quantity<dimensions::Area> =
    Quantity::new("box_area", "16 in2", "Largest face of a steel box in a rated wall.", "from memory of IRC R302.4.2");
/// All boxes.
const ALL: Quantity<dimensions::Area> =
    Quantity::new("boxes_area", "100 in2", "All steel boxes in any 100 ft2 of a rated wall.", "from memory of IRC R302.4.2");
/// The gap.
const GAP: Quantity<dimensions::Length> =
    Quantity::new("box_gap", "1/8 in", "Widest gap between a box and the board.", "from memory of IRC R302.4.2");
/// Opposite boxes.
const APART: Quantity<dimensions::Length> = Quantity::new(
    "boxes_apart",
    "24 in",
    "Least horizontal distance of boxes in opposite faces.",
    "IRC R302.4.2; NEC 300.21 informational note",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "R302.4.2"), cited("NEC", "2023", "300.21")],
    parameters: &[&ONE, &ALL, &GAP, &APART],
    reads: &["/spaces", "/building"],
    ..Rule::new("fire-separation/boxes", "Boxes in rated walls", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let limits = BoxLimits {
        one: inquiry.value(&ONE),
        all: inquiry.value(&ALL),
        gap: inquiry.value(&GAP),
        opposite: inquiry.value(&APART),
        ..BoxLimits::default()
    };
    parts(inquiry).iter().flat_map(|part| of_part(inquiry, part, &limits)).collect()
}

fn of_part(inquiry: &Inquiry, part: &Part, limits: &BoxLimits) -> Vec<Finding> {
    let boxes: Vec<Place<Penetration>> =
        need!(part.assembly, penetrations).every().into_iter().filter(|through| through.kind == PenetrationKind::Box).collect();
    if boxes.is_empty() {
        return Vec::new();
    }
    match rated::required(inquiry, part) {
        Ok(None) => Vec::new(),
        Err(unresolved) => vec![part.assembly.ask("whether its boxes matter", || Err(unresolved))],
        Ok(Some(_)) => {
            let mut findings: Vec<Finding> = boxes
                .iter()
                .map(|through| through.sheet("whether the box keeps the rating", |sheet| one(part, through, limits, sheet)))
                .collect();
            findings.push(part.assembly.sheet("whether its boxes are few enough", |sheet| together(part, &boxes, limits, sheet)));
            findings
        }
    }
}

fn one(part: &Part, through: &Place<Penetration>, limits: &BoxLimits, sheet: &mut Sheet) -> Lookup<Text> {
    let facts = BoxFacts {
        steel: through.box_material.map(|material| material == BoxMaterial::Steel),
        area: through.area.as_ref().map(|area| area.quantity()),
        gap: through.gap.as_ref().map(|gap| gap.quantity()),
        opposite: through.to_opposite_box.as_ref().map(|distance| distance.quantity()),
        guarded: through.guarded,
        listed: through.seal == Some(Seal::ListedFirestop),
    };
    let (faults, open) = box_faults(&facts, limits);
    let source = sources::RATED_PENETRATIONS.text();
    for fault in &faults {
        let (words, cure) = words(*fault, limits);
        sheet.require("box", words, source, false);
        sheet.cure(cure);
    }
    open.into_iter().for_each(|fact| sheet.lack(through.missing(field(fact))));
    if !faults.is_empty() {
        area::penetration_mark(part, through, "box in a rated wall").into_iter().for_each(|mark| sheet.mark(mark));
    }
    Ok(text!("keeps the rating"))
}

fn words(fault: BoxFault, limits: &BoxLimits) -> (Text, Text) {
    match fault {
        BoxFault::Material => {
            (text!("it is neither steel nor listed for the wall"), text!("a steel box, or one listed for the wall"))
        }
        BoxFault::Size => {
            (text!("its face is larger than {}", in_unit(limits.one, "in²")), text!("a smaller box, or one listed for the wall"))
        }
        BoxFault::Gap => {
            (text!("the gap around it is wider than {}", in_unit(limits.gap, "in")), text!("fill the board up to the box"))
        }
        BoxFault::Opposite | BoxFault::Guard => (
            text!("a box in the other face is nearer than {}", in_unit(limits.opposite, "in")),
            text!("move one of the two to {}, or set listed pads", in_unit(limits.opposite, "in")),
        ),
    }
}

fn field(fact: BoxFault) -> &'static str {
    match fact {
        BoxFault::Material => "/box_material",
        BoxFault::Size => "/area",
        BoxFault::Gap => "/gap",
        BoxFault::Opposite => "/to_opposite_box",
        BoxFault::Guard => "/guarded",
    }
}

/// The sum over the worst stretch of the wall.
fn together(part: &Part, boxes: &[Place<Penetration>], limits: &BoxLimits, sheet: &mut Sheet) -> Lookup<Text> {
    let areas: Vec<Lookup<Place<quantity::Area>>> = boxes.iter().map(|through| need!(through, area)).collect();
    let areas: Vec<Area> = areas.together()?.iter().map(|area| area.quantity()).collect();
    let all = areas.iter().fold(Area::default(), |sum, area| sum + *area);
    let source = sources::RATED_PENETRATIONS.text();
    if at_most(all, limits.all) {
        sheet.test(
            "all boxes",
            text!("{}, {} is the most in any 100 ft²", in_unit(all, "in²"), in_unit(limits.all, "in²")),
            source,
            true,
        );
        return Ok(text!("few enough"));
    }
    let places: Vec<Lookup<Length>> = boxes
        .iter()
        .map(|through| {
            let at = need!(through, at)?;
            area::position(part, at.get()).ok_or_else(|| part.assembly.missing("/from"))
        })
        .collect();
    let height = area::wall_height(part).ok_or_else(|| part.space.missing("/ceiling_height"))?;
    let stretch = Length::new::<meter>(limits.part.get::<square_meter>() / height.get::<meter>().max(0.1));
    let placed: Vec<(Length, Area)> = places.together()?.into_iter().zip(areas).collect();
    let worst = greatest_box_area(&placed, stretch);
    let words = text!(
        "{} within {} of wall, {} is the most in 100 ft²",
        in_unit(worst, "in²"),
        in_unit(stretch, "ft"),
        in_unit(limits.all, "in²")
    );
    if !sheet.require("all boxes", words, source, at_most(worst, limits.all)) {
        sheet.cure(text!("move boxes out of the wall or spread them"));
    }
    Ok(text!("few enough in any 100 ft²"))
}
