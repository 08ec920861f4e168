//! Heat takes from what a conductor may carry: the temperature about the raceway, the sun on a roof, and other conductors in it.
//!
//! A conductor that runs hotter than its insulation allows ages from inside, out of sight.
//!
//! **How it is measured.** The ampacity of copper or aluminum by the table for its insulation (that of a wet place outdoors), times the
//! factor for the hottest run, times the factor for the number of conductors that carry current together over more than 24 in;
//! never more than the terminals allow. A hot part of 10 ft at most, and a tenth of the rest at most, does not count. A raceway in
//! the sun less than a height above the roof counts 60 °F (33 °C) hotter, but for XHHW-2. The breaker of its circuit or feeder may
//! be the next standard size above what is left; motors and cooling equipment may have what their plates allow. Grounding
//! conductors and neutrals that carry only the unbalance are not counted.
//!
//! **How it is fixed.** Larger conductors, fewer of them together, a cooler way, or a smaller breaker.

use crate::inside;
use redtag_handbook::raceway::{self as trade, TerminalRating};
use redtag_rule::prelude::*;
use redtag_rule_load::circuit as wiring;
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
    "NEC 310.15(B)(2) of 2020; 3/4 in in 2023",
)
.within("0 in", "36 in");

/// Short hot parts.
const HOT_LENGTH: Quantity<dimensions::Length> = Quantity::new(
    "short_hot_part",
    "10 ft",
    "The length up to which a hotter part of a run does not count, where it is a tenth of the rest at most too.",
    "from memory of NEC 310.14(A)(2), exception",
)
.within("0 ft", "20 ft");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("NEC", "2020", "310.16"),
        cited("NEC", "2020", "310.15(B)"),
        cited("NEC", "2020", "310.15(C)(1)"),
        cited("NEC", "2020", "240.4(B)"),
    ],
    parameters: &[&SHORT, &ROOF_HEIGHT, &HOT_LENGTH],
    reads: &["/raceways", "/equipment", "/spaces", "/electrical/panels", "/electrical/feeders"],
    ..Rule::new("raceways/ampacity", "Ampacity in raceways", check)
};

const WANTED: &str = "whether its conductors may carry their circuits";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    inside::every(inquiry)
        .iter()
        .map(|raceway| {
            let fed = fed(inquiry, raceway);
            if fed.is_empty() {
                return raceway.not_applicable(text!("no circuit of the project is said to run in it")).done();
            }
            raceway.sheet(WANTED, |sheet| judge(inquiry, raceway, fed, sheet))
        })
        .collect()
}

/// A conductor with the device that protects it.
struct Fed<'a> {
    conductor: Place<'a, RacewayConductor>,
    by: By<'a>,
}

/// What protects a conductor.
enum By<'a> {
    Circuit(Place<'a, Circuit>),
    Feeder(Place<'a, Feeder>),
    Unsaid(Unresolved),
}

/// The conductors that carry a circuit or feeder, or could: power conductors that say nothing are asked.
fn fed<'a>(inquiry: &Inquiry<'a>, raceway: &Place<'a, Raceway>) -> Vec<Fed<'a>> {
    let feeders = need!(inquiry.project(), electrical.feeders).every();
    let feeder = feeders.into_iter().find(|feeder| feeder.raceway.as_ref() == Some(&raceway.id));
    let live = |one: &RacewayConductor| {
        let quiet = matches!(
            one.role,
            Some(ConductorRole::EquipmentGrounding | ConductorRole::Bonding | ConductorRole::Spare | ConductorRole::Neutral)
        );
        one.circuit.is_some()
            || (!quiet && matches!(one.wiring, None | Some(Wiring::Power)) && one.current_carrying != Some(false))
    };
    let of = |conductor: Place<'a, RacewayConductor>| {
        let by = match (need!(conductor, circuit), &feeder) {
            (Ok(id), _) => wiring::circuit(inquiry, &id).map_or_else(By::Unsaid, By::Circuit),
            (Err(_), Some(feeder)) => By::Feeder(feeder.clone()),
            (Err(unresolved), None) => By::Unsaid(unresolved),
        };
        Fed { conductor, by }
    };
    need!(raceway, conductors).every().into_iter().filter(|one| live(one)).map(of).collect()
}

fn judge<'a>(inquiry: &Inquiry<'a>, raceway: &Place<'a, Raceway>, fed: Vec<Fed<'a>>, sheet: &mut Sheet) -> Lookup<Text> {
    let (parts, count) = (parts(inquiry, raceway), together(inquiry, raceway)).together()?;
    let counted = text!("{} conductors carry current together", count);
    sheet.line("together", counted, "NEC 310.15(C)(1)");
    for fed in &fed {
        let judged = one(inquiry, fed, &parts, count, sheet);
        sheet.want(judged);
    }
    Ok(text!("its conductors may carry their circuits"))
}

/// A run as heat sees it.
struct Part {
    celsius: f64,
    sun: bool,
    wet: bool,
    length: Option<Length>,
}

/// The runs with the temperature about each, and whether the sun on a roof heats it.
fn parts(inquiry: &Inquiry, raceway: &Place<Raceway>) -> Lookup<Vec<Part>> {
    let runs = need!(raceway, runs)?;
    let one = |run: Place<RacewayRun>| {
        let celsius = need!(run, ambient).map(|ambient| ambient.quantity().get::<degree_celsius>());
        let (celsius, sun) = (celsius, sun(inquiry, raceway, &run)).together()?;
        let outdoors = run.spaces.as_ref().is_some_and(Vec::is_empty);
        let wet = sun || outdoors || run.in_sunlight == Some(true) || run.above_roof.is_some();
        Ok(Part { celsius, sun, wet, length: need!(run, length).ok().map(|length| length.quantity()) })
    };
    let parts = runs.items().map(one).collect::<Vec<_>>().together()?;
    if parts.is_empty() { Err(raceway.missing("/runs/0/ambient")) } else { Ok(parts) }
}

/// Whether the sun heats a run that lies low over a roof.
fn sun(inquiry: &Inquiry, raceway: &Place<Raceway>, run: &Place<RacewayRun>) -> Lookup<bool> {
    let end = |end: &Option<RacewayEnd>| end.as_ref().and_then(|end| end.on_roof);
    let ends = [end(&raceway.from), end(&raceway.to)];
    let off_roof = ends == [Some(false); 2];
    let outside = run.spaces.as_ref().is_none_or(Vec::is_empty);
    match (run.in_sunlight, need!(run, above_roof)) {
        (Some(false), _) => Ok(false),
        (Some(true), Ok(height)) => Ok(!at_least(height.quantity(), inquiry.value(&ROOF_HEIGHT))),
        (None, Ok(height)) if at_least(height.quantity(), inquiry.value(&ROOF_HEIGHT)) => Ok(false),
        (None, Ok(_)) => Err(run.missing("/in_sunlight")),
        (Some(true), Err(_)) if off_roof => Ok(false),
        (Some(true), Err(unresolved)) => Err(unresolved),
        // It ends on a roof, and nobody says where it lies there.
        (None, Err(_)) if outside && ends.contains(&Some(true)) => Err(run.missing("/in_sunlight")),
        (None, Err(_)) => Ok(false),
    }
}

/// The hottest part that counts, with what the sun adds to this insulation.
fn hottest(inquiry: &Inquiry, parts: &[Part], cool_in_sun: bool) -> f64 {
    let heat = |part: &Part| part.celsius + if part.sun && !cool_in_sun { trade::rooftop_adder() } else { 0.0 };
    let most = parts.iter().map(heat).fold(f64::NEG_INFINITY, f64::max);
    let (hot, rest): (Vec<&Part>, Vec<&Part>) = parts.iter().partition(|part| heat(part) >= most - 1e-6);
    let length = |parts: &[&Part]| parts.iter().map(|part| part.length).sum::<Option<Length>>();
    let short = match (length(&hot), length(&rest)) {
        (Some(hot), Some(rest)) if !rest.value.is_nan() => at_most(hot, inquiry.value(&HOT_LENGTH)) && at_most(hot, rest * 0.1),
        _ => false,
    };
    if short && !rest.is_empty() { rest.iter().map(|part| heat(part)).fold(f64::NEG_INFINITY, f64::max) } else { most }
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

fn one<'a>(inquiry: &Inquiry<'a>, fed: &Fed<'a>, parts: &[Part], count: u32, sheet: &mut Sheet) -> Lookup<()> {
    let conductor = &fed.conductor;
    let (device, terminals) = protection(fed)?;
    let (size, insulation, material) =
        (need!(conductor, size), need!(conductor, insulation), need!(conductor, material)).together()?;
    let metal = wiring::metal(*material);
    let wet = parts.iter().any(|part| part.wet);
    let wanted = "a marking of insulation that is known here, such as `THWN-2`";
    let rating = trade::insulation_rating(&insulation, wet);
    let rating = rating.ok_or_else(|| Unresolved::because(insulation.pointer(), wanted))?;
    let celsius = hottest(inquiry, parts, insulation.to_ascii_uppercase().contains("XHHW-2"));
    if trade::ambient_factor(celsius, rating).is_none() {
        let words = text!("{} {} may not be used where it is so hot", size.as_str(), insulation.as_str());
        sheet.require("temperature", words, trade::AMBIENT.text(), false);
        sheet.cure(text!("conductors with insulation for 90 °C, or another way"));
        return Ok(());
    }
    let unknown = || Unresolved::because(conductor.pointer(), "a size the table lists");
    let terminals = terminals.min(trade::cable_column(&insulation).unwrap_or(terminals));
    let left = trade::derated((&size, metal), rating, terminals, celsius, count).ok_or_else(unknown)?;
    let factors = Ratio::new::<uom::si::ratio::ratio>(left.ambient * left.bundling);
    let name = fed.name();
    sheet.line(&name, text!("{}: {} × {} leaves {}", size.as_str(), left.table, factors, left.left), SOURCE);
    let most = match &fed.by {
        By::Circuit(circuit) => wiring::largest_breaker(inquiry, circuit, (&size, metal), left.left, true)?,
        _ => wiring::Most { device: trade::largest_device(&size, metal, left.left, true), why: "" },
    };
    let words = text!(
        "{} carries {} here; a breaker of {} protects {}, {} is the most{}",
        size.as_str(),
        left.left,
        device,
        name,
        most.device,
        most.why
    );
    if !sheet.require("breaker", words, "NEC 240.4", at_most(device, most.device)) {
        fed.related(sheet);
        sheet.cure(text!("use larger conductors, run fewer together, or a breaker of {} at most", most.device));
    }
    Ok(())
}

use uom::si::f64::Ratio;

impl Fed<'_> {
    fn name(&self) -> String {
        match &self.by {
            By::Circuit(circuit) => circuit.label(),
            By::Feeder(feeder) => feeder.label(),
            By::Unsaid(_) => String::new(),
        }
    }

    fn related(&self, sheet: &mut Sheet) {
        match &self.by {
            By::Circuit(circuit) => sheet.related(circuit.pointer()),
            By::Feeder(feeder) => sheet.related(feeder.pointer()),
            By::Unsaid(_) => {}
        }
    }
}

/// The device that protects a conductor, and what its terminals are rated for.
fn protection(fed: &Fed) -> Lookup<(ElectricCurrent, TerminalRating)> {
    let (device, said) = match &fed.by {
        By::Circuit(circuit) => (need!(circuit, overcurrent)?.quantity(), need!(circuit, conductors.terminal_rating)),
        By::Feeder(feeder) => (need!(feeder, overcurrent)?.quantity(), need!(feeder, conductors.terminal_rating)),
        By::Unsaid(unresolved) => return Err(unresolved.clone()),
    };
    let said = said.map(|rating| rating.quantity().get::<degree_celsius>());
    Ok((device, TerminalRating::marked(said.ok(), Some(device))))
}
