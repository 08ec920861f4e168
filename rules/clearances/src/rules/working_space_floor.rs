//! The floor of an electrical working space should be clear, level and flat over its whole depth and width: no step, no curb
//! of a pad, no sump pit.
//!
//! Who steps back from a shock without looking falls over an edge. Editions from 2023 on ask for it; before that it is good
//! practice, and this rule only points it out.
//!
//! **How it is measured.** Recesses and edges of pads the floor survey draws, sumps, and the difference of measured heights
//! within the space of the table's least depth and width before the middle of the equipment.
//!
//! **How it is fixed.** Move the pit or the pad out of the space, or cover the pit flush with a plate that holds a person.

use crate::amounts::{inches, metres};
use crate::gear;
use crate::scene::{Scene, Scenes, in_plan, marks};
use redtag_handbook::space::{Shape, Side, Solid};
use redtag_rule::prelude::*;

/// Whether the adopted edition asks for it.
const ASKED: Flag = Flag::new(
    "asked_for",
    false,
    "Whether the adopted edition asks for a level and flat floor in the working space, as the 2023 one does.",
    "NEC 2023 110.26(A)(6)",
);
/// What counts as level.
const STEP: Quantity<dimensions::Length> =
    Quantity::new("step", "1 in", "A step or recess up to this counts as level.", "common practice: the code gives no figure");
/// How deep it is looked at.
const DEPTH: Quantity<dimensions::Length> =
    Quantity::new("depth", "36 in", "Depth of the floor that is looked at.", "NEC Table 110.26(A)(1)");
/// How wide it is looked at.
const WIDTH: Quantity<dimensions::Length> =
    Quantity::new("width", "30 in", "Least width of the floor that is looked at.", "NEC 110.26(A)(2)");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("NEC", "2023", "110.26(A)(6)")],
    parameters: &[&ASKED, &STEP, &DEPTH, &WIDTH],
    reads: &["/spaces", "/equipment", "/electrical"],
    ..Rule::new("clearances/working-space-floor", "Floor of the working space", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let scenes = Scenes::of(inquiry);
    let asked = inquiry.value(&ASKED);
    gear::each_indoors(inquiry, gear::is_worked_on, |equipment| {
        let finding = equipment.sheet("whether the floor before it is level", |sheet| judge(inquiry, &scenes, equipment, sheet));
        let open = !matches!(finding.outcome, Outcome::Advice | Outcome::Complies);
        if open && !asked {
            return equipment.not_applicable(text!("the adopted edition does not ask for a level floor")).done();
        }
        finding
    })
}

fn judge<'a>(inquiry: &Inquiry<'a>, scenes: &Scenes<'a>, equipment: &Place<'a, Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let scene = scenes.around(equipment)?;
    let thing = scene.thing(equipment)?;
    let face = thing.face(Side::Front)?;
    let width = inquiry.value(&WIDTH).value.max(thing.body.width);
    let zone = face.zone(inquiry.value(&DEPTH).value, width, 0.0, (-1.0, 1.0));
    for other in &scene.things {
        if other.equipment.kind == EquipmentKind::Sump && zone.plan.overlap(&other.solid.plan).is_some() {
            tell(scene, text!("{} lies in the floor before it", other.equipment.label()), (&zone, &other.solid), sheet);
            sheet.related(other.equipment.pointer());
        }
    }
    let survey = need!(scene.space, floor_survey)?;
    let floor = floor_faults(inquiry, &survey, scene, &zone, sheet);
    let measured = floor > 0 || survey.recesses.is_some() || survey.pads.is_some() || survey.points.is_some();
    match survey.level {
        Some(false) => sheet.advise(text!("the floor of its room is not level")),
        Some(true) => {}
        None if measured => {}
        None => return Err(survey.missing("/level")),
    }
    Ok(text!("no step of more than {} in the floor before it", in_unit(inquiry.value(&STEP), "in")))
}

/// Recesses, edges of pads and differences of measured heights; how many measured points lie there.
fn floor_faults(inquiry: &Inquiry, survey: &FloorSurvey, scene: &Scene, zone: &Solid, sheet: &mut Sheet) -> usize {
    let step = inquiry.value(&STEP);
    let plan = |outline: &[Point]| Shape::convex(&outline.iter().map(in_plan).collect::<Vec<_>>());
    for recess in survey.recesses.iter().flatten() {
        let Some(outline) = recess.outline.as_ref().map(|outline| plan(outline)) else { continue };
        let deep = recess.depth.as_ref().map_or(step, |depth| depth.quantity());
        if zone.plan.overlap(&outline).is_some() && !at_most(deep, step) {
            let words = text!(
                "a recess {} deep lies in the floor before it, {} counts as level",
                in_unit(deep, "in"),
                in_unit(step, "in")
            );
            tell(scene, words, (zone, &Solid::new(outline, -deep.value, 0.0)), sheet);
        }
    }
    for pad in survey.pads.iter().flatten() {
        let outline = plan(pad);
        let inside = zone.plan.corners().iter().all(|&corner| outline.contains(corner));
        if zone.plan.overlap(&outline).is_some() && !inside {
            tell(scene, text!("the edge of a pad crosses the floor before it"), (zone, &Solid::new(outline, 0.0, 0.01)), sheet);
        }
    }
    let here = survey.points.iter().flatten().filter(|point| point.at.as_ref().is_some_and(|at| zone.plan.contains(in_plan(at))));
    let heights: Vec<f64> = here.filter_map(|point| point.elevation.as_ref().map(|height| height.si())).collect();
    let spread =
        heights.iter().copied().fold(f64::NEG_INFINITY, f64::max) - heights.iter().copied().fold(f64::INFINITY, f64::min);
    if heights.len() > 1 && !at_most(metres(spread), step) {
        sheet.advise(text!(
            "heights measured in the floor before it differ by {}, {} counts as level",
            inches(spread),
            in_unit(step, "in")
        ));
        sheet.mark(marks(scene, "working space", zone));
    }
    heights.len()
}

fn tell(scene: &Scene, words: Text, (zone, what): (&Solid, &Solid), sheet: &mut Sheet) {
    sheet.advise(words);
    sheet.mark(marks(scene, "working space", zone));
    sheet.mark(marks(scene, "floor", what));
}
