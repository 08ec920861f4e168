//! A burner does not stand in, or take its air from, a bedroom, bathroom, toilet room, storage closet or surgical room.
//!
//! A burner in a bedroom or bath breathes the air of people who sleep or cannot leave in time, and a closet starves it and
//! feeds it lint and things that burn. No room is large enough to cure that.
//!
//! **How it is measured.** By the use of the space the appliance stands in, and of the spaces its air comes from.
//!
//! **What is allowed all the same.** An appliance that takes all its air from outdoors by a sealed pipe; vented room heaters,
//! wall furnaces and gas fireplaces in a room large enough for them; small wall-mounted unvented heaters with an oxygen
//! depletion sensor where the county keeps those exceptions; and an appliance in an enclosure of its own that opens only into
//! the bedroom or bath, with a solid, weather-stripped, self-closing door and all its air from outdoors; a clothes dryer in a
//! bath or toilet room with a permanent opening to another space.
//!
//! **How it is fixed.** Move the appliance, choose a direct-vent one, or build the enclosure.

use crate::air_space::burners;
use crate::appliances::{brings_own_air, counts_none};
use crate::parameters::Limits;
use crate::rooms::Rooms;
use redtag_handbook::combustion_air as air;
use redtag_rule::prelude::*;
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
    "from memory of IFGC 303.3 exception 3",
);
/// Largest unvented heater in a bedroom.
const BEDROOM_INPUT: Quantity<dimensions::Power> = Quantity::new(
    "unvented_heater_in_bedroom_most_input",
    "10,000 Btu/h",
    "Greatest input of an unvented heater in a sleeping room.",
    "from memory of IFGC 303.3 exception 4",
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
    citations: &[remembered("IRC", "2021", "G2406.2"), remembered("IFGC", "2021", "303.3"), remembered("IRC", "2021", "M2005.2")],
    parameters: &[&UNVENTED_IN_BATHROOM, &UNVENTED_IN_BEDROOM, &BATHROOM_INPUT, &BEDROOM_INPUT, &DRYER_OPENING],
    reads: &["/spaces", "/openings", "/ducts", "/equipment"],
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
    // An enclosure of its own may still open only into such a room.
    match rooms.only_way_out(&space.get().id) {
        Some((door, beyond)) if prohibited(beyond.kind) => enclosure(rooms, appliance, space, &door, &beyond),
        _ => Ok(appliance.complies(text!("stands in {}, not in a room where burners may not be", space.label()))),
    }
}

/// Rooms no burner stands in or takes its air from.
fn prohibited(kind: SpaceKind) -> bool {
    use SpaceKind as K;
    matches!(kind, K::SleepingRoom | K::Bathroom | K::ToiletRoom | K::StorageCloset | K::ClothesCloset | K::SurgicalRoom)
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

fn vented_heater(inquiry: &Inquiry, appliance: &Place<Equipment>, space: &Place<Space>) -> Lookup<FindingBuilder> {
    let input = need!(appliance, fuel_burning.plate.input);
    let volume = redtag_rule::size::volume(space);
    let (input, volume) = (input, volume).together()?;
    let needed = air::standard_volume(input.quantity(), &Limits::of(inquiry).standard);
    let holds = at_least(volume, needed);
    let text = text!("{} has {}, a vented heater of {} needs {}", space.label(), volume, input, needed);
    let builder = if holds {
        appliance.complies(text!("a vented heater in a room large enough for it ({} of {} needed)", volume, needed))
    } else {
        refused(appliance, &text!("the room has {} of {} a vented heater needs", volume, needed))
    };
    Ok(builder.test("room volume", text, "from memory of IFGC 303.3 exception 2", holds))
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
    let wall = need!(appliance, fuel_burning.wall_mounted);
    let sensor = need!(appliance, fuel_burning.oxygen_depletion_sensor);
    let input = need!(appliance, fuel_burning.plate.input);
    let (wall, sensor, input, volume) = (wall, sensor, input, redtag_rule::size::volume(space)).together()?;
    let needed = air::standard_volume(input.quantity(), &Limits::of(inquiry).standard);
    let source = "from memory of IFGC 303.3 exceptions 3 and 4";
    let tests = [
        ("mounted on the wall", text!("{}", if *wall { "yes" } else { "no" }), *wall),
        ("oxygen depletion sensor", text!("{}", if *sensor { "yes" } else { "no" }), *sensor),
        ("input", text!("{}, {} is the most", input, most), at_most(input.quantity(), most)),
        ("room volume", text!("{} of {} needed", volume, needed), at_least(volume, needed)),
    ];
    let failed: Vec<&str> = tests.iter().filter(|(_, _, holds)| !holds).map(|(label, _, _)| *label).collect();
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
    let text = text!("{} free, {} needed", in_unit(free, "in²"), in_unit(needed, "in²"));
    let builder = if holds {
        appliance.complies(text!("a clothes dryer in a bath with a permanent opening to another space"))
    } else {
        refused(appliance, &text!("the bath's permanent opening to another space has {}", text))
    };
    Ok(builder.test("permanent opening", text, "from memory of IFGC 303.3 exception 6", holds))
}

fn enclosure(
    rooms: &Rooms,
    appliance: &Place<Equipment>,
    space: &Place<Space>,
    door: &Place<Opening>,
    beyond: &Place<Space>,
) -> Lookup<FindingBuilder> {
    let indoors = rooms.indoor_air_openings(&BTreeSet::from([space.get().id.clone()]));
    if !indoors.is_empty() {
        let why = text!(
            "{} opens only into {}, and {} lets its air in from indoors",
            space.label(),
            beyond.label(),
            indoors.join(", ")
        );
        return Ok(refused(appliance, &why));
    }
    let facts = [
        ("solid", need!(door, door.solid)),
        ("weather-stripped", need!(door, door.weather_stripped)),
        ("self-closing", need!(door, door.self_closing)),
    ];
    let failed: Vec<&str> = facts.iter().filter(|(_, fact)| matches!(fact, Ok(fact) if !**fact)).map(|(word, _)| *word).collect();
    let storage = space.used_for_storage == Some(true);
    if failed.is_empty() && !storage {
        facts.into_iter().map(|(_, fact)| fact).collect::<Vec<_>>().together()?;
        let summary = text!("in an enclosure that opens only into {}, closed and air from outdoors", beyond.label());
        return Ok(appliance.complies(summary).related(door.pointer()));
    }
    let mut faults: Vec<String> = failed.iter().map(|word| format!("its door is not {word}")).collect();
    faults.extend(storage.then(|| "things are stored in it".to_owned()));
    let summary = text!("{} opens only into {}: {}", space.label(), beyond.label(), faults.join(", "));
    let builder = appliance.correction(summary).related(door.pointer());
    let builder = failed.iter().fold(builder, |builder, word| {
        let field = word.replace('-', "_");
        builder.remedy_set(text!("make the door {}", *word), format!("{}/door/{field}", door.pointer()), true.into())
    });
    Ok(if storage { builder.remedy(text!("keep the enclosure for the appliance alone")) } else { builder })
}
