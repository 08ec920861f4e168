//! Batteries that give off gas while they charge need a ventilated room.
//!
//! Vented lead acid and nickel batteries give off hydrogen, which explodes from a few percent in air on. Lithium-ion batteries
//! give off nothing while they charge; what they give off when they fail no ventilation of a dwelling carries away.
//!
//! **How it is measured.** Whether gas forms while charging, stated or known from the chemistry. The room is ventilated by a fan of
//! one cfm for every square foot of floor. Where the rulebook lets openings stand for it: by two openings in one exterior wall, one within 12 in of its top and one within 12 in of its bottom, each of half a square foot
//! for every 1,000 ft³ of room and no dimension under 3 in, in rooms of 850 ft² at most. The figures are from memory and must be held against the adopted text.
//!
//! **How it is fixed.** Larger or further openings, a fan, another place, or batteries that form no gas.

use crate::place;
use crate::units::{self, Unit};
use redtag_handbook::units as trade;
use redtag_rule::prelude::*;
use redtag_rule::size;
use uom::si::f64::{Area, Length};

const SOURCE: &str = "from memory of IRC M1307.4.1";
/// Openings.
const AREA_PER_VOLUME: Quantity<dimensions::Area> = Quantity::new(
    "opening_area_per_1000_cubic_feet",
    "0.5 ft2",
    "The free area of each of the two openings for every 1,000 ft3 of room.",
    SOURCE,
)
.within("0.1 ft2", "10 ft2");
/// How near the ends of the wall.
const REACH: Quantity<dimensions::Length> =
    Quantity::new("opening_reach", "12 in", "How near the top and the bottom of the wall the openings must be.", SOURCE)
        .within("1 in", "36 in");
/// Their least dimension.
const DIMENSION: Quantity<dimensions::Length> =
    Quantity::new("opening_dimension", "3 in", "The least dimension of an opening.", SOURCE).within("0 in", "24 in");
/// Rooms it will do for.
const LARGEST_ROOM: Quantity<dimensions::Area> =
    Quantity::new("largest_room", "850 ft2", "The largest room that openings alone may ventilate.", SOURCE)
        .within("10 ft2", "10,000 ft2");
/// Whether openings will do.
const OPENINGS: Flag = Flag::new(
    "openings_count",
    false,
    "Whether two openings to outdoors may stand for the fan.",
    "from memory: IRC R328.9 asks for mechanical ventilation; M1307.4 describes openings too",
);
/// A fan.
const FAN: Quantity<dimensions::Velocity> = Quantity::new(
    "fan_flow_per_area",
    "1 ft/min",
    "The flow of a fan for each area of floor: 1 ft/min is 1 cfm for every square foot.",
    "from memory of IRC M1307.4.2 and IMC 502.16",
)
.within("0 ft/min", "10 ft/min");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "R328.9"), remembered("IRC", "2021", "M1307.4")],
    parameters: &[&OPENINGS, &AREA_PER_VOLUME, &REACH, &DIMENSION, &LARGEST_ROOM, &FAN],
    reads: &["/spaces", "/openings", "/equipment", "/electrical/storage"],
    ..Rule::new("energy-storage/ventilation", "Gas from charging batteries", check)
};

const WANTED: &str = "whether gas from charging is carried away";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    units::each(inquiry, WANTED, |unit| match (forms_gas(unit), place::of(inquiry, unit)) {
        (Ok(false), _) => unit.unit.not_applicable(text!("forms no gas while it charges")).done(),
        (_, Ok(place::Standing { space: None, .. })) => unit.unit.not_applicable(text!("stands outdoors")).done(),
        (forms, standing) => unit.unit.sheet(WANTED, |sheet| {
            let (_, standing) = (forms, standing).together()?;
            match standing.space {
                Some(space) => judge(inquiry, unit, &space, sheet),
                None => Ok(Text::default()),
            }
        }),
    })
}

fn forms_gas(unit: &Unit) -> Lookup<bool> {
    match (need!(unit.system, gas_while_charging), need!(unit.system, chemistry)) {
        (Ok(stated), _) => Ok(*stated),
        (_, Ok(chemistry)) if matches!(*chemistry, Chemistry::LithiumIon | Chemistry::LithiumIronPhosphate) => Ok(false),
        (_, Ok(chemistry)) if matches!(*chemistry, Chemistry::LeadAcidVented | Chemistry::Nickel) => Ok(true),
        (Err(missing), _) => Err(missing),
    }
}

fn judge<'a>(inquiry: &Inquiry<'a>, unit: &Unit<'a>, space: &Place<'a, Space>, sheet: &mut Sheet) -> Lookup<Text> {
    let floor = size::floor_area(space)?;
    let fan = floor * inquiry.value(&FAN);
    if let Ok(flow) = need!(unit.system, ventilation) {
        let words = text!("a fan of {}, {} is needed for {}", flow, fan, floor);
        if sheet.test("fan", words, "from memory of IRC M1307.4.2", at_least(flow.quantity(), fan)) {
            return Ok(text!("a fan of {} ventilates {}", flow, space.label()));
        }
    }
    let small = at_most(floor, inquiry.value(&LARGEST_ROOM));
    let mut each = None;
    if inquiry.value(&OPENINGS) {
        let asked = inquiry.value(&AREA_PER_VOLUME) * (size::volume(space)? / trade::cubic_feet(1000.0));
        sheet.test("room", text!("{}, {} is the most for openings alone", floor, inquiry.value(&LARGEST_ROOM)), SOURCE, small);
        each = small.then_some(asked);
    }
    if let Some(each) = each {
        let outdoors = need!(inquiry.project(), openings)?.items().filter(|opening| leads_outdoors(opening, space));
        let asked = Asked { area: each, reach: inquiry.value(&REACH), dimension: inquiry.value(&DIMENSION) };
        let (counted, unknown) = counted(outdoors, &asked, sheet);
        if pair(&counted) {
            return Ok(text!("two openings to outdoors ventilate {}", space.label()));
        }
        if let Some(unresolved) = unknown {
            return Err(unresolved);
        }
    }
    need!(unit.system, ventilation)?;
    let neither =
        if each.is_some() { "neither two openings nor a fan carry it away" } else { "no fan of that flow carries it away" };
    sheet.fault(text!("gas from charging stays in {}: {}", space.label(), neither));
    sheet.cure(text!("fit a fan of {} that exhausts to outdoors and runs while the batteries charge", fan));
    if let Some(each) = each {
        let (reach, area) = (inquiry.value(&REACH), in_unit(each, "in²"));
        sheet.cure(text!("cut two openings of {} each through one exterior wall, within {} of its top and bottom", area, reach));
    }
    Ok(Text::default())
}

/// What an opening must have.
struct Asked {
    area: Area,
    reach: Length,
    dimension: Length,
}

/// An opening that is large enough, and whether it is high and low.
struct Counted {
    wall: String,
    high: bool,
    low: bool,
}

fn leads_outdoors(opening: &Place<Opening>, space: &Place<Space>) -> bool {
    let outdoors = opening.beyond.as_ref().is_some_and(|beyond| beyond.kind == BeyondKind::Outdoors);
    outdoors && opening.space.as_ref() == Some(&space.id) && !matches!(opening.kind, OpeningKind::Door | OpeningKind::Window)
}

/// The openings that are large enough, and what is not known of the others.
fn counted<'a>(
    openings: impl Iterator<Item = Place<'a, Opening>>,
    asked: &Asked,
    sheet: &mut Sheet,
) -> (Vec<Counted>, Option<Unresolved>) {
    let (mut counted, mut unknown) = (Vec::new(), None);
    for opening in openings {
        let facts = (
            need!(opening, free_area),
            smallest(&opening),
            need!(opening, assembly),
            need!(opening, top_below_ceiling),
            need!(opening, bottom_above_floor),
        );
        match facts.together() {
            Ok((area, smallest, wall, below_ceiling, above_floor)) => {
                let words = text!(
                    "{} free, {} needed; least dimension {}",
                    in_unit(area.get(), "in²"),
                    in_unit(asked.area, "in²"),
                    smallest
                );
                let holds = at_least(area.quantity(), asked.area) && at_least(smallest, asked.dimension);
                if sheet.test(&opening.id, words, SOURCE, holds) {
                    let high = at_most(below_ceiling.quantity(), asked.reach);
                    let low = at_most(above_floor.quantity(), asked.reach);
                    counted.push(Counted { wall: wall.get().clone(), high, low });
                }
            }
            Err(unresolved) => unknown = Unresolved::joined(unknown, unresolved),
        }
    }
    (counted, unknown)
}

fn smallest(opening: &Place<Opening>) -> Lookup<Length> {
    if let Ok(stated) = need!(opening, smallest_dimension) {
        return Ok(stated.quantity());
    }
    let (width, height) = (need!(opening, width), need!(opening, height)).together()?;
    Ok(if at_least(width.quantity(), height.quantity()) { height.quantity() } else { width.quantity() })
}

/// Whether two different openings of one wall are high and low.
fn pair(counted: &[Counted]) -> bool {
    counted.iter().enumerate().any(|(index, high)| {
        let fits = |(other, low): (usize, &Counted)| other != index && low.low && low.wall == high.wall;
        high.high && counted.iter().enumerate().any(fits)
    })
}
