//! How steeply a floor falls to its drain. No model code sets a figure for the floor of a mechanical room; the trade lays 1/8
//! in/ft at least, and that is what this rule advises unless a pack makes it a requirement.
//!
//! A floor that falls less is not yet a pond, but it dries slowly, and what a finisher's trowel leaves is enough to turn it into
//! one.
//!
//! **How it is measured.** On the surface of the measured heights (the same as for standing water): the slope of every
//! triangle, and the path of steepest descent from the middle of each to where it ends, with the least slope on the way. A slope
//! between two read heights is itself off by √2 times the reading error over their distance; what lies within twice that of
//! the limit cannot be told and is only mentioned.
//!
//! **How it is fixed.** A topping laid to fall, or an apron sunk 1/2 to 1 in around the drain.

use crate::floor::{self, Measured, square_feet};
use crate::parameters::sloped;
use redtag_handbook::drainage::{PathEnd, sources};
use redtag_rule::prelude::*;
use uom::si::f64::Ratio;

/// The least slope.
const LEAST: Quantity<dimensions::Slope> = Quantity::new(
    "least_slope",
    "1/8 in/ft",
    "Least fall of the floor toward its drain.",
    "common practice: 1/8 in/ft, 1/4 preferred",
)
.within("0 in/ft", "1/2 in/ft");
/// What a pack makes of it.
const STANDING: Choice = Choice::new(
    "standing",
    "advice",
    &["advice", "required"],
    "Whether a floor that falls less is a correction or advice.",
    "no general figure in the IRC (R309.1 speaks of garages)",
);
/// What is let pass.
const FLAT_SHARE: Quantity<dimensions::Ratio> =
    Quantity::new("flat_share", "5 %", "Share of the floor that may fall less without being mentioned.", "common practice")
        .within("0 %", "50 %");

/// The rule.
pub const RULE: Rule = Rule {
    stages: &[Stage::RoughIn, Stage::Final],
    citations: &[remembered("IRC", "2021", "R309.1"), remembered("IRC", "2021", "P2709.1")],
    parameters: &[&LEAST, &STANDING, &FLAT_SHARE],
    reads: &["/spaces", "/openings", "/equipment", "/drainage"],
    ..Rule::new("drainage/floor-slope", "Fall of the floor", check)
};

const WANTED: &str = "how steeply the floor falls to its drain";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let spaces = need!(inquiry.project(), spaces).every();
    let drained = spaces.iter().filter(|space| !floor::drains_of(inquiry, space).is_empty());
    let judged = drained.map(|space| space.sheet(WANTED, |sheet| judge(inquiry, space, sheet)));
    judged.chain(floor::placeless(inquiry, WANTED)).collect()
}

fn judge(inquiry: &Inquiry, space: &Place<Space>, sheet: &mut Sheet) -> Lookup<Text> {
    let least = inquiry.value(&LEAST);
    if need!(space, floor_survey.points).is_err()
        && let Ok(slope) = need!(space, floor_survey.slope)
    {
        let words = text!("built to {}, {} is the least", slope, sloped(least));
        if !sheet.test("slope", words.clone(), sources::FLOOR_SLOPE.text(), at_least(slope.quantity(), least)) {
            blame(inquiry, sheet, words.clone());
        }
        return Ok(words);
    }
    let floor = Measured::of(inquiry, space)?;
    let error = floor.uncertainty()?;
    let surface = &floor.surface;
    let (mut flat, mut unsure) = (0.0, 0.0);
    for face in surface.slopes() {
        let off = 2.0 * std::f64::consts::SQRT_2 * error / face.run.max(1e-6);
        if face.slope + off < least.value - 1e-12 {
            flat += face.area;
        } else if face.slope < least.value - 1e-12 {
            unsure += face.area;
        }
    }
    paths(&floor, sheet);
    let share = Ratio::new::<uom::si::ratio::ratio>(flat / surface.area().max(1e-12));
    let words = text!("{} of {} falls less than {}", square_feet(flat), square_feet(surface.area()), sloped(least));
    let holds = at_most(share, inquiry.value(&FLAT_SHARE));
    if !sheet.test("fall", words.clone(), sources::FLOOR_SLOPE.text(), holds) {
        blame(inquiry, sheet, words);
        sheet.cure(text!("lay a topping to fall {} to the drain, or sink an apron around it", sloped(least)));
    }
    if unsure > 1e-6 {
        sheet.line(
            "cannot be told",
            text!("{} read as flatter, within what the readings may be off by", square_feet(unsure)),
            "",
        );
    }
    Ok(text!(
        "{} of {} falls {} or more, as far as the readings tell",
        square_feet(surface.area() - flat),
        square_feet(surface.area()),
        sloped(least)
    ))
}

fn blame(inquiry: &Inquiry, sheet: &mut Sheet, words: Text) {
    if inquiry.value(&STANDING) == "required" { sheet.fault(words) } else { sheet.advise(words) }
}

/// The flattest path to each drain, and how much floor ends elsewhere.
fn paths(floor: &Measured, sheet: &mut Sheet) {
    let paths = floor.surface.paths();
    for (index, drain) in floor.drains.iter().enumerate() {
        let here = paths.iter().filter(|path| path.end == PathEnd::Drain(index) && path.least_slope.is_finite());
        let Some(flattest) = here.min_by(|a, b| a.least_slope.total_cmp(&b.least_slope)) else { continue };
        let slope = sloped(Ratio::new::<uom::si::ratio::ratio>(flattest.least_slope));
        let foot = |number: f64| in_unit(floor::metres(number), "ft");
        let words = text!(
            "{} at the flattest over {}, on a path of {} to {}",
            slope,
            foot(flattest.flattest_run),
            foot(flattest.length),
            drain.id
        );
        sheet.line("least slope on a path", words, sources::SURFACE.text());
        let ends = flattest.points.iter().map(|at| [at[0], at[1], floor.absolute(at[2])]).collect::<Vec<_>>();
        sheet.mark(line_mark(Some(&floor.space.id), "flattest path", &ends));
    }
    let ended = paths.iter().filter(|path| !matches!(path.end, PathEnd::Drain(_))).count();
    if ended > 0 {
        sheet.line("paths", text!("{} of {} end in a hollow or on level floor", ended, paths.len()), sources::SURFACE.text());
    }
}
