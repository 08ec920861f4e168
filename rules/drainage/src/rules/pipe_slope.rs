//! A drain must fall: so much for each foot, more for small pipe than for large.
//!
//! A pipe that falls too little leaves solids and grease behind; one that falls backwards holds a pool that never leaves. Both
//! show as slow drains and as backups on the mechanical room floor, the lowest opening of the house.
//!
//! **How it is measured.** The difference of the inverts at both ends over the length between them; where no inverts are given,
//! the slope stated. Stacks, pump discharges and rain leaders are left out, condensate drains have a rule of their own.
//!
//! **How it is fixed.** The lower end goes down by what is missing or the upper end comes up; where there is no height for it, a
//! larger size may run flatter.

use crate::network::{self, Network};
use crate::parameters::{CODE_FAMILY, family, sloped};
use redtag_handbook::drainage::least_slope;
use redtag_rule::prelude::*;

/// The UPC's exception.
const FLAT_APPROVED: Flag = Flag::new(
    "flat_approved",
    false,
    "UPC only: whether the authority has approved 1/8 in/ft for pipe of 4 in and more, where 1/4 in/ft cannot be had.",
    "from memory of UPC 708.1",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        remembered("IRC", "2021", "P3005.3"),
        cited("IPC", "2018", "704.1"),
        remembered("UPC", "2021", "708.1"),
        cited("248 CMR", "current", "10.05"),
    ],
    parameters: &[&CODE_FAMILY, &FLAT_APPROVED],
    reads: &["/drainage"],
    ..Rule::new("drainage/pipe-slope", "Slope of drain pipes", check)
};

const WANTED: &str = "whether the pipe falls enough";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let pipes = Network::of(inquiry).pipes;
    pipes
        .iter()
        .map(|pipe| {
            if !network::is_horizontal(pipe.kind) {
                return pipe.not_applicable(text!("a {} is not held to a slope here", pipe.kind)).done();
            }
            pipe.sheet(WANTED, |sheet| judge(inquiry, pipe, sheet))
        })
        .collect()
}

fn judge(inquiry: &Inquiry, pipe: &Place<DrainPipe>, sheet: &mut Sheet) -> Lookup<Text> {
    let (size, slope) = (need!(pipe, size), network::slope(pipe)).together()?;
    let least = least_slope(family(inquiry), size.quantity(), inquiry.value(&FLAT_APPROVED));
    let words = text!("{} pipe falls {}, {} is the least", size, sloped(slope), sloped(least.value));
    if !sheet.require("slope", words.clone(), least.source.text(), at_least(slope, least.value)) {
        cure(pipe, sheet, least.value);
        mark(pipe, sheet);
    }
    Ok(words)
}

fn cure(pipe: &Place<DrainPipe>, sheet: &mut Sheet, least: uom::si::f64::Ratio) {
    if let (Some(upper), Some(length), Some(_)) = (&pipe.upper_invert, &pipe.length, &pipe.lower_invert) {
        let lower = upper.quantity() - length.quantity() * least;
        let written = quantity::Position::from_quantity(&lower).print_in("in");
        let values = [(format!("{}/lower_invert", pipe.pointer()), json!(written))];
        return sheet.cure_at(text!("lower its outlet to {}, with everything behind it", in_unit(lower, "in")), &values);
    }
    let written = sloped(least).print_in("in/ft");
    sheet.cure_at(text!("lay it to {}", sloped(least)), &[(format!("{}/slope", pipe.pointer()), json!(written))]);
}

/// The pipe's line on the plan.
fn mark(pipe: &Place<DrainPipe>, sheet: &mut Sheet) {
    let line: Vec<[f64; 3]> = pipe.line.iter().flatten().map(|at| [at.x.si(), at.y.si(), 0.0]).collect();
    if line.len() > 1 {
        sheet.mark(line_mark(None, format!("{} falls too little", pipe.id), &line));
    }
}
