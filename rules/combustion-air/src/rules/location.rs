//! A burner does not stand in, or take its air from, a bedroom, bathroom, toilet room, storage closet or surgical room.
//!
//! A burner in a bedroom or bath breathes the air of people who sleep or cannot leave in time, and a closet starves it and
//! feeds it lint and things that burn. No room is large enough to cure that.
//!
//! **How it is measured.** By the use of the space the appliance stands in, of every room its doors and doorless openings lead
//! to, and of the spaces its air comes from. A room that opens only into such rooms counts as one of them, by however many doors.
//!
//! **What is allowed all the same.** An appliance that takes all its air from outdoors by a sealed pipe; vented room heaters,
//! wall furnaces and gas fireplaces in a room that has the volume the indoor methods ask for (in a tight house the one by known
//! infiltration); one small wall-mounted unvented heater with an oxygen depletion sensor where the county keeps those
//! exceptions; an appliance in an enclosure of its own that opens only into such rooms, with solid, weather-stripped,
//! self-closing doors and all its air from outdoors, which is worked out; a clothes dryer in a bath or toilet room with a
//! permanent opening to another space. A closet in which things are stored is a storage closet, whatever it was built for.
//!
//! **How it is fixed.** Move the appliance, choose a direct-vent one, or build the enclosure.

use crate::air_space::{AirSpace, burners, least_volume};
use crate::appliances::{brings_own_air, counts_none};
use crate::methods;
use crate::parameters::Limits;
use crate::rooms::{Rooms, Ways, is_prohibited as prohibited, is_source};
use crate::trial::Verdict;
use redtag_handbook::combustion_air as air;
use redtag_rule::prelude::*;
use redtag_rule::schema::contract::{Remedy, Step};
use std::collections::BTreeSet;

/// Unvented heaters allowed in bathrooms.
const UNVENTED_IN_BATHROOM: Flag = Flag::new(
    "unvented_heater_in_bathroom",
    true,
    "Whether one wall-mounted unvented heater with an oxygen depletion sensor is allowed in a bathroom.",
    "IFGC 303.3 exception 3; cities delete it",
);
/// Unvented heaters allowed in bedrooms.
const UNVENTED_IN_BEDROOM: Flag = Flag::new(
    "unvented_heater_in_bedroom",
    true,
    "Whether one wall-mounted unvented heater with an oxygen depletion sensor is allowed in a sleeping room.",
    "IFGC 303.3 exception 4; cities delete it",
);
/// Largest unvented heater in a bathroom.
const BATHROOM_INPUT: Quantity<dimensions::Power> = Quantity::new(
    "unvented_heater_in_bathroom_most_input",
    "6,000 Btu/h",
    "Greatest input of an unvented heater in a bathroom.",
    "IFGC 303.3 exception 3",
);
/// Largest unvented heater in a bedroom.
const BEDROOM_INPUT: Quantity<dimensions::Power> = Quantity::new(
    "unvented_heater_in_bedroom_most_input",
    "10,000 Btu/h",
    "Greatest input of an unvented heater in a sleeping room.",
    "IFGC 303.3 exception 4",
);
/// Opening of a bath with a dryer.
const DRYER_OPENING: Quantity<dimensions::Area> = Quantity::new(
    "dryer_in_bath_opening",
    "100 in2",
    "Free area of the permanent opening that lets a clothes dryer stand in a bath or toilet room.",
    "from memory of IFGC 303.3 exception 6 (2015 and later)",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[cited("IRC", "2012", "G2406.2"), cited("IFGC", "2012", "303.3"), remembered("IRC", "2021", "M2005.2")],
    parameters: &[&UNVENTED_IN_BATHROOM, &UNVENTED_IN_BEDROOM, &BATHROOM_INPUT, &BEDROOM_INPUT, &DRYER_OPENING],
    reads: &["/building", "/spaces", "/openings", "/ducts", "/equipment", "/exhausts"],
    ..Rule::new("combustion-air/location", "Burners out of bedrooms, baths and closets", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let rooms = Rooms::of(inquiry);
    let burners = burners(inquiry);
    let indoors = burners.iter().filter(|appliance| appliance.outdoors != Some(true));
    ask_each(indoors, "whether it may stand there", |appliance| place(inquiry, &rooms, appliance))
}

fn place(inquiry: &Inquiry, rooms: &Rooms, appliance: &Place<Equipment>) -> Lookup<FindingBuilder> {
    let id = need!(appliance, space)?;
    let space = rooms.space(id.get())?;
    if counts_none(appliance) {
        return Ok(appliance.not_applicable(text!("it has no burner of this code")));
    }
    if brings_own_air(appliance) {
        return Ok(appliance.complies(text!("direct vent: all its air comes from outdoors")).section("G2406.2"));
    }
    if prohibited(space.kind) {
        return inside(inquiry, rooms, appliance, space);
    }
    let closet = matches!(space.kind, SpaceKind::EquipmentCloset | SpaceKind::UnderStairs);
    if closet && space.used_for_storage == Some(true) {
        return Ok(refused(appliance, &text!("{} is used for storage", space.label())).section("M2005.2"));
    }
    let found = beside(inquiry, rooms, appliance, space)?;
    if closet && found.outcome() == Outcome::Complies {
        need!(space, used_for_storage)?;
    }
    Ok(found)
}

/// In a room of another use: what it opens to, and what it breathes.
fn beside(inquiry: &Inquiry, rooms: &Rooms, appliance: &Place<Equipment>, space: &Place<Space>) -> Lookup<FindingBuilder> {
    let elsewhere = || appliance.complies(text!("stands in {}, not in a room where burners may not be", space.label()));
    if is_source(space) || space.kind == SpaceKind::Carport {
        return Ok(elsewhere());
    }
    let ways = rooms.ways_out(&space.get().id);
    if let Some((opening, beyond)) = ways.open.first() {
        let why = text!("{} is open to {} without a door", space.label(), beyond.label());
        return Ok(refused(appliance, &why).related(opening.pointer()));
    }
    if let Some((opening, beyond)) = ways.breathes.first() {
        let why = text!("{} lets air to burn in from {}", opening.get().id, beyond.label());
        return Ok(refused(appliance, &why).related(opening.pointer()));
    }
    if ways.elsewhere {
        return ways.air_untold.map_or_else(|| Ok(elsewhere()), Err);
    }
    if ways.doors.is_empty() {
        let none = Unresolved::because("/openings", format!("the door of {}, and what lies behind it", space.label()));
        return Err(ways.untold.unwrap_or(none));
    }
    enclosure(inquiry, rooms, appliance, space, ways)
}

fn inside(inquiry: &Inquiry, rooms: &Rooms, appliance: &Place<Equipment>, space: &Place<Space>) -> Lookup<FindingBuilder> {
    use EquipmentKind as E;
    let closet = matches!(space.kind, SpaceKind::StorageCloset | SpaceKind::ClothesCloset | SpaceKind::SurgicalRoom);
    kinds::burns(appliance)?;
    let burner = need!(appliance, fuel_burning.burner)?;
    if *burner == Burner::Unvented && !closet {
        return unvented(inquiry, appliance, space);
    }
    let heater = matches!(appliance.kind, E::RoomHeater | E::WallFurnace | E::GasFireplace);
    if heater && !closet {
        return vented_heater(inquiry, appliance, space);
    }
    let bath = matches!(space.kind, SpaceKind::Bathroom | SpaceKind::ToiletRoom);
    if appliance.kind == E::ClothesDryer && bath {
        return dryer(inquiry, rooms, appliance, space);
    }
    Ok(refused(appliance, &text!("stands in {}", space.label())))
}

fn refused(appliance: &Place<Equipment>, why: &Text) -> FindingBuilder {
    let summary = text!("no burner may stand there or take its air from there: {}", why);
    appliance
        .correction(summary)
        .remedy(text!("move it, or replace it by a direct-vent appliance that takes all its air from outdoors"))
        .remedy(text!(
            "build an enclosure used for nothing else, with a solid, weather-stripped, self-closing door and all combustion air from outdoors"
        ))
}

/// A vented heater in a room that has the volume the code asks of all burners in it.
fn vented_heater(inquiry: &Inquiry, appliance: &Place<Equipment>, space: &Place<Space>) -> Lookup<FindingBuilder> {
    let (verdict, steps) = volume_of(inquiry, appliance, space)?;
    Ok(match verdict {
        Ok(words) => appliance.complies(text!("a vented heater in a room large enough for it: ").then(&words)).steps(steps),
        Err(words) => refused(appliance, &text!("the room is too small for a vented heater: ").then(&words)).steps(steps),
    })
}

/// What the volume of a heater's room is held against: enough, or too little, in words.
type Volume = (Result<Text, Text>, Vec<Step>);

/// Whether the room has the volume section 304.5 asks, by whichever of its methods may be used.
fn volume_of(inquiry: &Inquiry, appliance: &Place<Equipment>, space: &Place<Space>) -> Lookup<Volume> {
    let limits = Limits::of(inquiry);
    let air = AirSpace::holding(inquiry, &limits, appliance)?;
    if let Some(air) = air.filter(|air| air.counted.iter().any(|counted| counted.id() == appliance.get().id)) {
        let trial = methods::indoor_alone(&air, &limits);
        return match trial.verdict {
            Verdict::Passes(words) => Ok((Ok(words), trial.steps)),
            Verdict::Misses(words, _) => Ok((Err(words), trial.steps)),
            Verdict::Unknown(unresolved) => Err(unresolved),
        };
    }
    // Not counted by a decision: the section still asks for the volume of its own input.
    let (input, volume) = (need!(appliance, fuel_burning.plate.input), least_volume(space)).together()?;
    let needed = air::standard_volume(input.quantity(), &limits.standard);
    let words = text!("{} of {} needed", volume, needed);
    Ok((if at_least(volume, needed) { Ok(words) } else { Err(words) }, Vec::new()))
}

fn unvented(inquiry: &Inquiry, appliance: &Place<Equipment>, space: &Place<Space>) -> Lookup<FindingBuilder> {
    let bedroom = space.kind == SpaceKind::SleepingRoom;
    let (allowed, most) = if bedroom {
        (inquiry.value(&UNVENTED_IN_BEDROOM), inquiry.value(&BEDROOM_INPUT))
    } else {
        (inquiry.value(&UNVENTED_IN_BATHROOM), inquiry.value(&BATHROOM_INPUT))
    };
    if !allowed {
        return Ok(refused(appliance, &text!("unvented heaters are not allowed in {} here", space.label())));
    }
    let unvented = |other: &Place<Equipment>| {
        other.space == appliance.space && other.fuel_burning.as_ref().and_then(|burning| burning.burner) == Some(Burner::Unvented)
    };
    let alone = burners(inquiry).iter().filter(|other| unvented(other)).count() == 1;
    let heater = matches!(appliance.kind, EquipmentKind::RoomHeater | EquipmentKind::UnitHeater | EquipmentKind::WallFurnace);
    let wall = need!(appliance, fuel_burning.wall_mounted);
    let sensor = need!(appliance, fuel_burning.oxygen_depletion_sensor);
    let input = need!(appliance, fuel_burning.plate.input);
    let said = |fact: &Lookup<Place<bool>>| fact.as_ref().ok().map(|fact| *fact.get());
    let yes = |holds: bool| text!("{}", if holds { "yes" } else { "no" });
    let mut tests = vec![("a room heater", yes(heater), heater), ("a single one", yes(alone), alone)];
    tests.extend(said(&wall).map(|wall| ("mounted on the wall", yes(wall), wall)));
    tests.extend(said(&sensor).map(|sensor| ("oxygen depletion sensor", yes(sensor), sensor)));
    if let Ok(input) = &input {
        tests.push(("input", text!("{}, {} is the most", input, most), at_most(input.quantity(), most)));
    }
    let volume = volume_of(inquiry, appliance, space);
    if let Ok((verdict, _)) = &volume {
        let words = verdict.clone().unwrap_or_else(|words| words);
        tests.push(("room volume", words, verdict.is_ok()));
    }
    let failed: Vec<&str> = tests.iter().filter(|(_, _, holds)| !holds).map(|(label, _, _)| *label).collect();
    if failed.is_empty() {
        let _ = (wall, sensor, input, volume).together()?;
    }
    let source = "IFGC 303.3 exceptions 3 and 4";
    let builder = if failed.is_empty() {
        appliance.complies(text!("a small wall-mounted unvented heater, allowed in {}", space.label()))
    } else {
        refused(appliance, &text!("as an unvented heater in {} it fails: {}", space.label(), failed.join(", ")))
    };
    Ok(tests.into_iter().fold(builder, |builder, (label, text, holds)| builder.test(label, text, source, holds)))
}

fn dryer(inquiry: &Inquiry, rooms: &Rooms, appliance: &Place<Equipment>, space: &Place<Space>) -> Lookup<FindingBuilder> {
    let needed = inquiry.value(&DRYER_OPENING);
    let free = rooms.largest_free_opening(&space.get().id, &Limits::of(inquiry), |beyond| !prohibited(beyond))?;
    let holds = at_least(free, needed);
    if !holds {
        // A list of openings that is not there says neither none nor all.
        rooms.untold(None).map_or(Ok(()), Err)?;
    }
    let text = text!("{} free, {} needed", in_unit(free, "in²"), in_unit(needed, "in²"));
    let builder = if holds {
        appliance.complies(text!("a clothes dryer in a bath with a permanent opening to another space"))
    } else {
        refused(appliance, &text!("the bath's permanent opening to another space has {}", text))
    };
    Ok(builder.test("permanent opening", text, "from memory of IFGC 303.3 exception 6", holds))
}

/// An enclosure of its own that opens only into such rooms: shut off from them, and fed from outdoors.
fn enclosure(
    inquiry: &Inquiry,
    rooms: &Rooms,
    appliance: &Place<Equipment>,
    space: &Place<Space>,
    ways: Ways,
) -> Lookup<FindingBuilder> {
    let only_into: Vec<String> = ways.doors.iter().map(|(_, beyond)| beyond.label()).collect();
    let only_into = text!("{} opens only into {}", space.label(), only_into.join(", "));
    let indoors = rooms.indoor_air_openings(&BTreeSet::from([space.get().id.clone()]));
    if !indoors.is_empty() {
        let why = text!("{}, and {} lets its air in from indoors", only_into, indoors.join(", "));
        return Ok(refused(appliance, &why));
    }
    if ways.untold.is_some() || ways.air_untold.is_some() {
        return Err([ways.untold, ways.air_untold]
            .into_iter()
            .flatten()
            .reduce(Unresolved::and)
            .unwrap_or_else(|| space.missing("")));
    }
    let mut faults: Vec<Text> = Vec::new();
    let mut cures = Vec::new();
    let mut unsaid = None;
    for (door, _) in &ways.doors {
        door_faults(door, &mut faults, &mut cures, &mut unsaid);
    }
    if space.used_for_storage.is_none() {
        unsaid = Unresolved::joined(unsaid, space.missing("/used_for_storage"));
    }
    if space.used_for_storage == Some(true) {
        faults.push(text!("things are stored in it"));
        cures.push(redtag_rule::remedy(text!("keep the enclosure for the appliance alone")));
    }
    match air_from_outdoors(inquiry, appliance) {
        Ok(Some((fault, more))) => {
            faults.push(fault);
            cures.extend(more);
        }
        Ok(None) => {}
        Err(unresolved) => unsaid = Unresolved::joined(unsaid, unresolved),
    }
    let related = |builder: FindingBuilder| ways.doors.iter().fold(builder, |builder, (door, _)| builder.related(door.pointer()));
    if faults.is_empty() {
        return unsaid.map_or_else(
            || Ok(related(appliance.complies(text!("in an enclosure: {}, closed and air from outdoors", only_into)))),
            Err,
        );
    }
    let builder = related(appliance.correction(text!("{}: {}", only_into, Text::list(&faults))));
    Ok(cures.into_iter().fold(builder, FindingBuilder::cure))
}

fn door_faults(door: &Place<Opening>, faults: &mut Vec<Text>, cures: &mut Vec<Remedy>, unsaid: &mut Option<Unresolved>) {
    let facts = [
        ("solid", need!(door, door.solid)),
        ("weather-stripped", need!(door, door.weather_stripped)),
        ("self-closing", need!(door, door.self_closing)),
    ];
    for (word, fact) in facts {
        match fact {
            Ok(fact) if *fact.get() => {}
            Ok(_) => {
                faults.push(text!("{} is not {}", door.label(), word));
                let field = format!("{}/door/{}", door.pointer(), word.replace('-', "_"));
                cures.push(redtag_rule::remedy_at(text!("make {} {}", door.label(), word), &[(field, true.into())]));
            }
            Err(unresolved) => *unsaid = Unresolved::joined(unsaid.take(), unresolved),
        }
    }
}

/// What the enclosure's air from outdoors lacks.
fn air_from_outdoors(inquiry: &Inquiry, appliance: &Place<Equipment>) -> Lookup<Option<(Text, Vec<Remedy>)>> {
    let limits = Limits::of(inquiry);
    let Some(air) = AirSpace::holding(inquiry, &limits, appliance)? else { return Ok(None) };
    if air.counted.is_empty() {
        return Ok(None);
    }
    let trials = methods::outdoors_alone(&air, &limits);
    if trials.iter().any(|trial| matches!(trial.verdict, Verdict::Passes(_))) {
        return Ok(None);
    }
    let unknown = |verdict: &Verdict| match verdict {
        Verdict::Unknown(unresolved) => Some(unresolved.clone()),
        _ => None,
    };
    if let Some(unresolved) = trials.iter().filter_map(|trial| unknown(&trial.verdict)).reduce(Unresolved::and) {
        return Err(unresolved);
    }
    let missed = trials.iter().find_map(|trial| match &trial.verdict {
        Verdict::Misses(words, cures) => Some((text!("not all its air comes from outdoors: ").then(words), cures.clone())),
        _ => None,
    });
    Ok(missed)
}
