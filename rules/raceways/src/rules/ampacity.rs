//! Heat takes from what a conductor may carry: the temperature about the raceway, the sun on a roof, and other conductors in it.
//!
//! A conductor that runs hotter than its insulation allows ages from inside, out of sight.
//!
//! **How it is measured.** The ampacity of copper by the table for its insulation, times the factor for the hottest run, times
//! the factor for the number of conductors that carry current together over more than 24 in; never more than the terminals
//! allow. A raceway in the sun less than a height above the roof counts 60 °F (33 °C) hotter. The breaker of its circuit may be
//! the next standard size above what is left. Grounding conductors and neutrals that carry only the unbalance are not counted.
//!
//! **How it is fixed.** Larger conductors, fewer of them together, a cooler way, or a smaller breaker.

use crate::inside;
use redtag_handbook::raceway::{self as trade, TerminalRating};
use redtag_rule::prelude::*;
use uom::si::f64::{ElectricCurrent, Length};
use uom::si::thermodynamic_temperature::degree_celsius;

const SOURCE: &str = "NEC Table 310.16, 310.15(B)(1), 310.15(C)(1)";
/// Short raceways.
const SHORT: Quantity<dimensions::Length> =
    Quantity::new("no_bundling_up_to", "24 in", "The length up to which conductors together are not counted.", SOURCE)
        .within("1 in", "60 in");
/// The sun.
const ROOF_HEIGHT: Quantity<dimensions::Length> = Quantity::new(
    "roof_height",
    "7/8 in",
    "The height above a roof below which a raceway in the sun counts hotter.",
    "NEC 310.15(B)(2) of 2020 (electricalcodeacademy.net); 3/4 in in 2023",
)
.within("0 in", "36 in");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("NEC", "2020", "310.16"),
        cited("NEC", "2020", "310.15(B)"),
        cited("NEC", "2020", "310.15(C)(1)"),
        cited("NEC", "2020", "240.4(B)"),
    ],
    parameters: &[&SHORT, &ROOF_HEIGHT],
    reads: &["/raceways", "/electrical/panels"],
    ..Rule::new("raceways/ampacity", "Ampacity in raceways", check)
};

const WANTED: &str = "whether its conductors may carry their circuits";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    inside::every(inquiry)
        .iter()
        .map(|raceway| {
            let fed: Vec<_> = need!(raceway, conductors).every().into_iter().filter(|one| one.circuit.is_some()).collect();
            if fed.is_empty() {
                return raceway.not_applicable(text!("no circuit of the project is said to run in it")).done();
            }
            raceway.sheet(WANTED, |sheet| judge(inquiry, raceway, &fed, sheet))
        })
        .collect()
}

fn judge<'a>(
    inquiry: &Inquiry<'a>,
    raceway: &Place<'a, Raceway>,
    fed: &[Place<'a, RacewayConductor>],
    sheet: &mut Sheet,
) -> Lookup<Text> {
    let (heat, count) = (hottest(inquiry, raceway), together(inquiry, raceway)).together()?;
    let counted = text!("{} conductors carry current together", count);
    sheet.line("together", counted, "NEC 310.15(C)(1)");
    for conductor in fed {
        let judged = one(inquiry, conductor, heat, count, sheet);
        sheet.want(judged);
    }
    Ok(text!("its conductors may carry their circuits"))
}

/// The temperature about its hottest run, in degrees Celsius, with what the sun adds.
fn hottest(inquiry: &Inquiry, raceway: &Place<Raceway>) -> Lookup<f64> {
    let runs = need!(raceway, runs)?;
    let one = |run: Place<RacewayRun>| {
        let ambient = need!(run, ambient)?.quantity().get::<degree_celsius>();
        let low = match (run.in_sunlight, need!(run, above_roof)) {
            (Some(true), Ok(height)) => !at_least(height.quantity(), inquiry.value(&ROOF_HEIGHT)),
            (Some(true), Err(_)) | (Some(false) | None, _) => false,
        };
        Ok(if low { ambient + trade::rooftop_adder() } else { ambient })
    };
    let all = runs.items().map(one).collect::<Vec<_>>().together()?;
    all.into_iter().reduce(f64::max).ok_or_else(|| raceway.missing("/runs/0/ambient"))
}

/// How many count as carrying current together.
fn together(inquiry: &Inquiry, raceway: &Place<Raceway>) -> Lookup<u32> {
    let short: Length = inquiry.value(&SHORT);
    if inside::length(raceway).is_ok_and(|length| at_most(length, short)) {
        return Ok(0);
    }
    let count = |one: Place<RacewayConductor>| {
        if one.role == Some(ConductorRole::EquipmentGrounding) || one.role == Some(ConductorRole::Bonding) {
            return Ok(0);
        }
        let (count, carries) = (need!(one, count), need!(one, current_carrying)).together()?;
        Ok(if *carries { *count } else { 0 })
    };
    let counts = need!(raceway, conductors)?.items().map(count).collect::<Vec<_>>().together()?;
    Ok(counts.into_iter().fold(0, u32::saturating_add))
}

fn one<'a>(
    inquiry: &Inquiry<'a>,
    conductor: &Place<'a, RacewayConductor>,
    celsius: f64,
    count: u32,
    sheet: &mut Sheet,
) -> Lookup<()> {
    if conductor.material.is_some_and(|material| material != ConductorMaterial::Copper) {
        return Err(Unresolved::because(
            format!("{}/material", conductor.pointer()),
            "copper: the table for other materials is not known here",
        ));
    }
    let (size, insulation, circuit) =
        (need!(conductor, size), need!(conductor, insulation), circuit(inquiry, conductor)).together()?;
    let device = need!(circuit, overcurrent)?;
    let terminals = terminals(&circuit, device.quantity());
    let rating = if matches!(insulation.to_ascii_uppercase().as_str(), "THWN" | "THW" | "RHW" | "XHHW" | "USE") {
        TerminalRating::SeventyFive
    } else {
        TerminalRating::Ninety
    };
    let unknown =
        || Unresolved::because(conductor.pointer(), "a size up to 4/0 AWG and a temperature whose factor is known here");
    let left = trade::derated(&size, rating, terminals, celsius, count).ok_or_else(unknown)?;
    let factors = Ratio::new::<uom::si::ratio::ratio>(left.ambient * left.bundling);
    let words = text!("{}: {} × {} leaves {}", size.as_str(), left.table, factors, left.left);
    sheet.line(&circuit.id, words, SOURCE);
    let largest = largest_device(&size, left.left);
    let words = text!(
        "{} carries {} here; a breaker of {} protects circuit {}, {} is the most",
        size.as_str(),
        left.left,
        device,
        circuit.id,
        largest
    );
    if !sheet.require("breaker", words, "NEC 240.4", at_most(device.quantity(), largest)) {
        sheet.related(circuit.pointer());
        sheet.cure(text!("use larger conductors, run fewer together, or a breaker of {}", largest));
    }
    Ok(())
}

use uom::si::f64::Ratio;

fn circuit<'a>(inquiry: &Inquiry<'a>, conductor: &Place<'a, RacewayConductor>) -> Lookup<Place<'a, Circuit>> {
    let id = need!(conductor, circuit)?;
    let circuits =
        need!(inquiry.project(), electrical.panels).every().into_iter().flat_map(|panel| need!(panel, circuits).every());
    circuits.into_iter().find(|circuit| circuit.id == *id.get()).ok_or_else(|| Unresolved::at(id.pointer()))
}

fn terminals(circuit: &Place<Circuit>, device: ElectricCurrent) -> TerminalRating {
    let said = need!(circuit, conductors.terminal_rating).map(|rating| rating.quantity().get::<degree_celsius>());
    TerminalRating::marked(said.ok(), Some(device))
}

/// The largest breaker: the next standard size, but never past that of small conductors.
fn largest_device(size: &str, left: ElectricCurrent) -> ElectricCurrent {
    let standard = trade::next_standard(left).unwrap_or(left);
    match trade::small_conductor_limit(size) {
        Some(limit) if limit < standard => limit,
        _ => standard,
    }
}
