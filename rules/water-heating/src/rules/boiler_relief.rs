//! A boiler must have a pressure relief valve that carries off all it can make, with an open pipe to near the floor.
//!
//! **A boiler whose relief is missing, too small or shut off bursts when its controls fail: water far above its boiling point turns
//! to steam at once and takes the room with it.** A pipe that ends high sprays that steam over whoever stands before it.
//!
//! **How it is measured.** From the valve's tag: it opens at no more than the boiler's plate allows, and carries off the boiler's
//! output, or its input where the output is not told. No valve stands before it. Its pipe is as large as its outlet, falls, has no
//! valve or tee, and ends within 18 in of the floor or above an open receptor.
//!
//! **How it is fixed.** A listed valve of the plate's pressure and of the capacity in the finding, and a pipe of its full outlet
//! size straight down. Work for a licensed trade, with the boiler cold and shut off.

use crate::boiler;
use redtag_rule::prelude::*;
use uom::si::f64::Power;

/// The end.
const HIGHEST: Quantity<dimensions::Length> = Quantity::new(
    "highest_end",
    "18 in",
    "The most the pipe from a boiler's relief valve may end above the floor.",
    "from memory of IRC M2002.4",
)
.within("2 in", "36 in");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "M2002.4"), cited("IRC", "2018", "M2002.4"), remembered("IMC", "2021", "1006")],
    parameters: &[&HIGHEST],
    reads: &["/equipment"],
    ..Rule::new("water-heating/boiler-relief", "Relief of a boiler", check)
};

const WANTED: &str = "whether the boiler can relieve its pressure";
const SOURCE: &str = "IRC M2002.4, from memory";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    boiler::each(inquiry, |boiler| boiler.sheet(WANTED, |sheet| judge(inquiry, boiler, sheet)))
}

fn judge(inquiry: &Inquiry, boiler: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let relief = need!(boiler, relief)?;
    let opens = |valve: &Place<Relief>| {
        matches!(valve.kind, ReliefKind::Pressure | ReliefKind::TemperatureAndPressure | ReliefKind::Unrecognised)
    };
    let valves: Vec<_> = relief.items().filter(opens).collect();
    if !sheet.require("relief", text!("{} relief valves open on pressure", valves.len()), SOURCE, !valves.is_empty()) {
        sheet.cure(text!("take it out of use until a licensed trade has fitted a listed pressure relief valve of its capacity"));
        return Ok(Text::default());
    }
    capacity(boiler, &valves, sheet);
    for valve in &valves {
        one(boiler, valve, sheet);
        if let Some(pipe) = sheet.want(need!(valve, pipe)) {
            piped(inquiry, valve, &pipe, sheet);
        }
    }
    Ok(text!("relief at the pressure of its plate, large enough, with an open pipe"))
}

/// All valves together against what the boiler makes.
fn capacity(boiler: &Place<Equipment>, valves: &[Place<Relief>], sheet: &mut Sheet) {
    let each: Vec<_> = valves.iter().map(|valve| need!(valve, capacity).map(|capacity| capacity.quantity())).collect();
    let (Some(each), Some(makes)) = (sheet.want(each.together()), sheet.want(makes(boiler))) else { return };
    let sum: Power = each.into_iter().sum();
    let words = text!("{} carried off, {} made", in_unit(sum, "Btu/h"), in_unit(makes, "Btu/h"));
    if !sheet.require("capacity", words, SOURCE, at_least(sum, makes)) {
        sheet.cure(text!("fit a valve that carries off {} or more", in_unit(makes, "Btu/h")));
    }
}

/// What the boiler makes: its output, else its input.
fn makes(boiler: &Place<Equipment>) -> Lookup<Power> {
    let burner = need!(boiler, fuel_burning.plate.output).or_else(|_| need!(boiler, fuel_burning.plate.input));
    let made = burner.or_else(|_| need!(boiler, heating_output)).map(|made| made.quantity());
    let drawn = || need!(boiler, electrical.power).map(|drawn| drawn.quantity());
    made.or_else(|_| drawn()).map_err(|_| boiler.missing("/heating_output"))
}

fn one(boiler: &Place<Equipment>, valve: &Place<Relief>, sheet: &mut Sheet) {
    if let Some((set, most)) = sheet.want((need!(valve, pressure), need!(boiler, boiler.maximum_pressure)).together()) {
        let words = text!("opens at {}, its plate allows {}", in_unit(&set, "psi"), in_unit(&most, "psi"));
        sheet.require("set pressure", words, SOURCE, at_most(set.quantity(), most.quantity()));
    }
    if let Some(before) = sheet.want(need!(valve, valve_before_it)) {
        let words = if *before { "a valve can cut it off from the boiler" } else { "nothing can cut it off from the boiler" };
        if !sheet.require("free way", text!("{}", words), SOURCE, !*before) {
            sheet.cure_at(text!("take the valve between them out"), &[(before.pointer().to_owned(), json!(false))]);
        }
    }
}

/// The pipe from a valve.
fn piped(inquiry: &Inquiry, valve: &Place<Relief>, pipe: &Place<ReliefPipe>, sheet: &mut Sheet) {
    let Some(end) = sheet.want(need!(pipe, ends_at)) else { return };
    if *end == ReliefEnd::None {
        sheet.fault(text!("no pipe leads from the valve: it would spray scalding water and steam into the room"));
        sheet.cure(text!("run a pipe of its full outlet size down to near the floor"));
        return;
    }
    if let Some((size, outlet)) = sheet.want((need!(pipe, size), need!(valve, outlet_size)).together()) {
        let words = text!("the pipe is {}, the valve's outlet {}", size, outlet);
        sheet.require(
            "size",
            words,
            "common practice and the valve's instructions",
            at_least(size.quantity(), outlet.quantity()),
        );
    }
    if let Some(slope) = sheet.want(need!(pipe, slope)) {
        sheet.require("falls", text!("it falls {}", slope), SOURCE, slope.si() > 0.0);
    }
    if let Some(closed) = sheet.want(need!(pipe, has_valve_or_tee)) {
        let words = if *closed { "a valve or tee is in it" } else { "no valve or tee is in it" };
        sheet.require("open", text!("{}", words), "common practice and the valve's instructions", !*closed);
    }
    if *end == ReliefEnd::Receptor {
        return;
    }
    let most = inquiry.value(&HIGHEST);
    if let Some(height) = sheet.want(need!(pipe, end_height))
        && !sheet.at_most("height of the end", &height, &most, "in", SOURCE)
    {
        sheet.fault(text!("its pipe ends {} above the floor, {} is the most", in_unit(&height, "in"), in_unit(most, "in")));
        sheet.cure_at(text!("lead it down to 6 in above the floor"), &[(height.pointer().to_owned(), json!("6 in"))]);
    }
}
