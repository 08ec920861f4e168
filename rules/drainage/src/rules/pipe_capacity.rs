//! A pipe must carry the fixture units of everything above it, and what equipment lets go for minutes on end.
//!
//! Horizontal branches of a stack and branches of the building drain have tables of their own: a 2 in pipe carries 6 units on
//! a stack and 21 under the slab. A softener or filter counts by its flow, not as a fixture: it runs for ten minutes.
//!
//! **How it is measured.** Units of the fixtures described, of discharges by their flow (those that never run together count
//! once in the whole pipe, the greatest), of pumps, and of what is stated for the rest, summed down the pipes, against the table of the code
//! family. What does not say where it goes is asked about where the pipe could not carry it too. Beside it stands what the pipe carries half full by Manning's formula, and how fast.
//!
//! **How it is fixed.** The next larger size, more slope where the table has a column for it, another branch, or controls
//! that keep two regenerations from running together.

use crate::network::{self, Network, Rates};
use crate::parameters::{CODE_FAMILY, family, sloped, units};
use redtag_handbook::Sourced;
use redtag_handbook::drainage::{
    CodeFamily, DrainSize, branch_capacity, building_drain_capacity, part_full, schedule_40_inside, sources, stack_capacity,
};
use redtag_rule::prelude::*;
use uom::si::f64::Ratio;

/// How flows count.
const FLOW_LOAD: Choice = Choice::new(
    "flow_load",
    "per-gpm",
    &["per-gpm", "by-classes"],
    "Whether discharges count by the gallon per minute, or by the UPC's classes of intermittent flow.",
    "from memory of IRC Table P3004.1, IPC 709.3, UPC Table 702.2(2)",
);
/// Units per gpm.
const PER_GPM: Number = Number::new(
    "units_per_gpm",
    1.5,
    "Fixture units for each gallon per minute of a discharge: 1.5 in the IRC, 2 in the IPC, 1 in some city codes.",
    "from memory of IRC Table P3004.1; confirmed in a city code",
)
.within(0.5, 4.0);
/// Roughness.
const ROUGHNESS: Number = Number::new(
    "roughness",
    0.011,
    "Manning's n of the pipe, for the flow told beside the table; it decides nothing.",
    "common practice: 0.009 to 0.011 for plastic",
)
.within(0.008, 0.016);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        remembered("IRC", "2021", "P3004.1"),
        remembered("IRC", "2021", "P3005.4.1"),
        cited("IPC", "2018", "710.1(1)"),
        cited("UPC", "2018", "703.2"),
    ],
    parameters: &[&CODE_FAMILY, &FLOW_LOAD, &PER_GPM, &ROUGHNESS],
    reads: &["/drainage", "/equipment", "/water"],
    ..Rule::new("drainage/pipe-capacity", "Fixture units a pipe carries", check)
};

const WANTED: &str = "whether the pipe carries what runs into it";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let network = Network::of(inquiry);
    network
        .pipes
        .iter()
        .map(|pipe| {
            if !network::is_horizontal(pipe.kind) && pipe.kind != DrainPipeKind::Stack {
                return pipe.not_applicable(text!("a {} is not sized by fixture units", pipe.kind)).done();
            }
            pipe.sheet(WANTED, |sheet| judge(inquiry, &network, pipe, sheet))
        })
        .collect()
}

fn judge<'a>(inquiry: &Inquiry<'a>, network: &Network<'a>, pipe: &Place<'a, DrainPipe>, sheet: &mut Sheet) -> Lookup<Text> {
    let family = family(inquiry);
    let per_gpm = (inquiry.value(&FLOW_LOAD) == "per-gpm").then(|| inquiry.value(&PER_GPM));
    let load = network.load(pipe, &Rates { family, per_gpm });
    let slope = if pipe.kind == DrainPipeKind::Stack { Ok(Ratio::default()) } else { network::slope(pipe) };
    let (load, size, slope) = (load, need!(pipe, size), slope).together()?;
    for part in &load.from {
        sheet.line("load", text!("{}", part), sources::UNITS_OF_FLOW.text());
    }
    let known = DrainSize::of(size.quantity());
    let most = known.and_then(|known| capacity(family, pipe.kind, known, slope));
    let Some((known, most)) = known.zip(most) else {
        let what = "a size and slope whose row of the code's table is known; this one is empty or not known here";
        return Err(Unresolved::because(size.pointer(), what));
    };
    beside(inquiry, pipe, known, slope, sheet);
    let words = text!("{} on a {} of {}, {} is the most", units(load.units), pipe.kind, size, units(most.value));
    if !sheet.require("capacity", words.clone(), most.source.text(), load.units <= most.value + 1e-9) {
        cure(family, pipe, (known, slope, load.units), sheet);
        return Ok(words);
    }
    let open = network.unplaced(pipe, &Rates { family, per_gpm });
    if load.units + open.iter().map(|(units, _)| units).sum::<f64>() > most.value + 1e-9 {
        open.into_iter().for_each(|(_, unresolved)| sheet.lack(unresolved));
    }
    sheet.want(network.all_told(pipe));
    Ok(words)
}

fn capacity(family: CodeFamily, kind: DrainPipeKind, size: DrainSize, slope: Ratio) -> Option<Sourced<f64>> {
    match kind {
        DrainPipeKind::Stack => stack_capacity(family, size),
        DrainPipeKind::Branch | DrainPipeKind::FixtureDrain => branch_capacity(family, size, slope),
        _ => building_drain_capacity(family, size, slope),
    }
}

/// What it carries half full, beside the table.
fn beside(inquiry: &Inquiry, pipe: &Place<DrainPipe>, size: DrainSize, slope: Ratio, sheet: &mut Sheet) {
    let stated = pipe.inside_diameter.as_ref().map(|inside| inside.quantity());
    if let Some(inside) = stated.or(schedule_40_inside(size)).filter(|_| slope.value > 0.0) {
        let half = part_full(inside, 0.5, slope, inquiry.value(&ROUGHNESS));
        let speed = quantity::Velocity::from_quantity(&half.velocity);
        let words = text!(
            "half full at {} it carries {} at {}",
            sloped(slope),
            crate::floor::gpm(half.flow.value),
            in_unit(speed, "ft/s")
        );
        sheet.line("Manning, beside the table", words, sources::MANNING.text());
    }
}

fn cure(family: CodeFamily, pipe: &Place<DrainPipe>, (size, slope, load): (DrainSize, Ratio, f64), sheet: &mut Sheet) {
    let mut next = size.larger();
    while let Some(larger) = next {
        if capacity(family, pipe.kind, larger, slope).is_some_and(|most| load <= most.value) {
            let written = quantity::Length::from_quantity(&larger.nominal()).print_in("in");
            let at = format!("{}/size", pipe.pointer());
            sheet.cure_at(text!("lay it, and what follows, in {}", in_unit(larger.nominal(), "in")), &[(at, json!(written))]);
            return;
        }
        next = larger.larger();
    }
    sheet.cure(text!("lead a part of it into another pipe"));
}
