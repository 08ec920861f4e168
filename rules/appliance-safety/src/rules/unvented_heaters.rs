//! A heater that burns into the room is small for its room, listed for it, and never the only heat of a dwelling.
//!
//! All it burns stays in the room: water, nitrogen dioxide and, where oxygen runs short, carbon monoxide. An oxygen depletion sensor
//! shuts it off before the air is spent. Open a window as its instructions say; where people feel dizzy or sick, leave and call for
//! help from outside. Installing one is work for a licensed contractor, and some states forbid it.
//!
//! **How it is measured.** Its input against a most; the input of all unvented heaters of a room against its volume, with what is open to
//! it without doors, however leaky the house and whatever opens to outdoors; whether it is listed for use without a vent, has an oxygen
//! depletion sensor, and whether something else heats the dwelling.
//!
//! **How it is fixed.** A smaller or a vented heater.

use redtag_handbook::units;
use redtag_rule::prelude::*;
use redtag_rule::size::volume;
use std::collections::BTreeSet;
use uom::si::f64::{Power, Volume};

const SOURCE: &str = "from memory of IRC G2445 (IFGC 621)";
/// Whether they may be used at all.
const ALLOWED: Flag = Flag::new(
    "unvented_heaters_allowed",
    true,
    "Whether room heaters without a vent may be used in a dwelling.",
    "IRC G2445 lets them; some states and cities do not",
);
/// Most input.
const MOST: Quantity<dimensions::Power> =
    Quantity::new("greatest_input", "40,000 Btu/h", "Greatest input of an unvented room heater.", "from memory of IFGC 621.3");
/// Input for the volume.
const FOR_VOLUME: Quantity<dimensions::Power> = Quantity::new(
    "input_per_cubic_foot",
    "20 Btu/h",
    "Greatest input of all unvented heaters of a room for each cubic foot of its volume.",
    "from memory of IFGC 621.5",
)
.within("1 Btu/h", "1,000 Btu/h");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "G2445"), remembered("IFGC", "2021", "621")],
    parameters: &[&ALLOWED, &MOST, &FOR_VOLUME],
    reads: &["/equipment", "/spaces", "/openings"],
    ..Rule::new("appliance-safety/unvented-heaters", "Heaters without a vent", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let heaters: Vec<Place<Equipment>> =
        need!(inquiry.project(), equipment).every().into_iter().filter(may_be_unvented).collect();
    let wanted = "whether it may burn into its room";
    heaters.iter().map(|one| one.sheet(wanted, |sheet| judge(inquiry, sheet, one, &heaters))).collect()
}

/// A heater of a kind that is also made without a vent, and of which nobody says that it has one.
fn may_be_unvented(item: &Place<Equipment>) -> bool {
    use EquipmentKind as K;
    let burning = item.fuel_burning.as_ref();
    let burner = burning.and_then(|burning| burning.burner);
    let vented = burning.is_some_and(|burning| {
        burning.combustion_air == Some(AirSource::DirectVent)
            || burning.plate.as_ref().is_some_and(|plate| plate.vent_category.is_some())
            || burning.vent_connector_diameter.is_some()
    });
    matches!(item.kind, K::RoomHeater | K::GasFireplace | K::UnitHeater)
        && item.outdoors != Some(true)
        && kinds::may_burn(item)
        && (burner == Some(Burner::Unvented) || (burner.is_none() && !vented))
}

fn judge(inquiry: &Inquiry, sheet: &mut Sheet, one: &Place<Equipment>, all: &[Place<Equipment>]) -> Lookup<Text> {
    kinds::burns(one)?;
    need!(one, fuel_burning.burner)?;
    if !inquiry.value(&ALLOWED) {
        sheet.require("here", text!("heaters without a vent are not allowed here"), "the jurisdiction", false);
        sheet.cure(text!("use a vented or direct-vent heater"));
        return Ok(Text::default());
    }
    facts(sheet, one);
    if let Some(input) = sheet.want(need!(one, fuel_burning.plate.input)) {
        let most = inquiry.value(&MOST);
        if !sheet.at_most("input", &input, &most, "Btu/h", SOURCE) {
            sheet.fault(text!("it burns {}, {} is the most", in_unit(&input, "Btu/h"), in_unit(most, "Btu/h")));
            sheet.cure(text!("use a heater of {} at most", in_unit(most, "Btu/h")));
        }
    }
    if let Some(space) = sheet.want(need!(one, space)) {
        let space = inquiry.space(&space)?;
        room(inquiry, sheet, &space, all);
    }
    Ok(text!("small for its room, listed and guarded by an oxygen depletion sensor"))
}

fn facts(sheet: &mut Sheet, one: &Place<Equipment>) {
    let demands = [
        (need!(one, fuel_burning.unvented_listed), true, "it is not listed for use without a vent"),
        (need!(one, fuel_burning.oxygen_depletion_sensor), true, "no oxygen depletion sensor shuts it off"),
        (need!(one, fuel_burning.sole_heat), false, "nothing else heats the dwelling"),
    ];
    for (fact, wanted, fault) in demands {
        let Some(fact) = sheet.want(fact) else { continue };
        if *fact != wanted {
            sheet.require("heater", text!("{}", fault), SOURCE, false);
            sheet.cure(text!("use a vented or direct-vent heater instead"));
        }
    }
    if one.fuel_burning.as_ref().and_then(|burning| burning.in_solid_fuel_fireplace) == Some(true) {
        sheet.advise(text!(
            "an unvented log heater stands in a factory-built fireplace only where that fireplace is listed for it"
        ));
    }
}

/// The inputs of the room's unvented heaters against its volume.
fn room(inquiry: &Inquiry, sheet: &mut Sheet, space: &Place<Space>, all: &[Place<Equipment>]) {
    let rooms = open_to(inquiry, &space.id);
    let here = all.iter().filter(|other| other.space.as_ref().is_some_and(|id| rooms.contains(id)));
    let inputs = here.map(|other| need!(other, fuel_burning.plate.input).map(|input| input.quantity())).collect::<Vec<_>>();
    let spaces = need!(inquiry.project(), spaces).every();
    let volumes = spaces.iter().filter(|space| rooms.contains(&space.id)).map(volume).collect::<Vec<_>>();
    let Some((inputs, volumes)) = sheet.want((inputs.together(), volumes.together()).together()) else { return };
    let input = inputs.into_iter().fold(Power::default(), |sum, one| sum + one);
    let volume = volumes.into_iter().fold(Volume::default(), |sum, one| sum + one);
    let most = inquiry.value(&FOR_VOLUME) * units::in_cubic_feet(volume);
    let words = text!("{} burn into {}, {} is the most", in_unit(input, "Btu/h"), volume, in_unit(most, "Btu/h"));
    if !sheet.require("volume", words, SOURCE, at_most(input, most)) {
        sheet.related(space.pointer());
        sheet.cure(text!("bring the input in {} down to {}, or use a vented heater", space.label(), in_unit(most, "Btu/h")));
        // Openings nobody listed could make the room larger.
        if let Err(unresolved) = need!(inquiry.project(), openings) {
            sheet.lack(unresolved);
        }
    }
}

/// A room with everything open to it without doors.
fn open_to(inquiry: &Inquiry, start: &str) -> BTreeSet<String> {
    let openings = need!(inquiry.project(), openings).every();
    let mut rooms = BTreeSet::from([start.to_owned()]);
    let mut todo = vec![start.to_owned()];
    while let Some(room) = todo.pop() {
        for opening in openings.iter().filter(|opening| opening.kind == OpeningKind::DoorlessOpening) {
            let ends = [opening.space.as_deref(), opening.beyond.as_ref().and_then(|beyond| beyond.space.as_deref())];
            if let [Some(near), Some(far)] = ends
                && ends.contains(&Some(room.as_str()))
            {
                let other = if near == room { far } else { near };
                if rooms.insert(other.to_owned()) {
                    todo.push(other.to_owned());
                }
            }
        }
    }
    rooms
}
