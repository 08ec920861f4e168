//! A heater that also warms rooms with water above 140 F must have its tap water tempered, and very hot storage calls for a mixing
//! valve.
//!
//! Rooms are often warmed with water far hotter than skin can take. **Stored at 140 F it burns in 5 seconds.** Stored below
//! 120 F it may breed the bacteria of legionnaires' disease instead, so the answer to scalding is a mixing valve and not a cooler
//! tank.
//!
//! **How it is measured.** The heater's setting, whether it also heats rooms and how hot their heating needs the water, and the
//! setting and listing of the mixing valve that serves it. Rooms that are content with 140 F or less, as floor heating is, ask for
//! no valve; a heater set to 140 F or less gives no hotter water.
//!
//! **How it is fixed.** A master mixing valve listed to ASSE 1017 on the hot outlet, set to 140 F or less, and valves at showers
//! and tubs besides.

use crate::heater;
use redtag_rule::prelude::*;

/// Behind a heater of rooms.
const TEMPERED: Quantity<dimensions::Temperature> = Quantity::new(
    "hottest_tempered",
    "140 F",
    "The hottest water to taps from a heater that also warms rooms.",
    "from memory of IRC P2802.2",
)
.within("120 F", "160 F");
/// Advice.
const COOLEST: Quantity<dimensions::Temperature> = Quantity::new(
    "coolest_storage",
    "120 F",
    "Water stored cooler than this is worth a word.",
    "common practice: bacteria grow in tepid tanks",
)
.within("100 F", "140 F");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "P2802.2"), remembered("ASSE", "1017", "whole")],
    parameters: &[&TEMPERED, &COOLEST],
    reads: &["/equipment", "/water"],
    ..Rule::new("water-heating/tempering", "Tempered where it is hotter than taps may be", check)
};

const WANTED: &str = "whether its water must be tempered and is";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    heater::each(inquiry, |heater| heater.sheet(WANTED, |sheet| judge(inquiry, heater, sheet)))
}

fn judge(inquiry: &Inquiry, heater: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let (set, rooms) = (need!(heater, water_heating.set_temperature), need!(heater, water_heating.space_heating)).together()?;
    let most = quantity::Temperature::from_quantity(&inquiry.value(&TEMPERED));
    let coolest = quantity::Temperature::from_quantity(&inquiry.value(&COOLEST));
    if heater::stores(heater) && !at_least(set.quantity(), coolest.quantity()) {
        sheet.advise(text!("it is set to {}; below {} bacteria grow in a tank", set, coolest));
    }
    let asked = *rooms && hotter_for_rooms(heater, &set, &most, sheet)?;
    let Some(valve) = valve_of(inquiry, heater)? else {
        if asked {
            need!(inquiry.project(), water.valves)?;
            sheet.fault(text!("rooms are warmed with water above {} and nothing tempers its tap water to {}", most, most));
            sheet.cure(text!("fit a mixing valve listed to ASSE 1017 on its hot outlet, set to {} or less", most));
        } else if !sheet.at_most("setting", &set, &most, "F", "IRC P2802.2, from memory") {
            sheet.advise(text!("set to {} without a mixing valve: that burns in seconds at any tap without one of its own", set));
        }
        return Ok(text!("set to {}", set));
    };
    sheet.related(valve.pointer());
    let tempered = sheet.want(need!(valve, set_temperature));
    if let Some(tempered) = &tempered
        && !sheet.at_most("tempered to", tempered, &most, "F", "IRC P2802.2, from memory")
    {
        let words = text!("the mixing valve is set to {}, {} is the most", tempered, most);
        if asked {
            sheet.fault(words)
        } else {
            sheet.advise(words)
        }
        sheet.cure_at(text!("set it to 120 F"), &[(tempered.pointer().to_owned(), json!("120 F"))]);
    }
    if asked {
        listed(&valve, sheet);
    }
    Ok(tempered.map_or_else(Text::default, |tempered| text!("stored at {}, tempered to {}", set, tempered)))
}

/// Whether the heating of rooms needs water hotter than taps may have. A heater that is set cooler gives no such water.
fn hotter_for_rooms(
    heater: &Place<Equipment>,
    set: &quantity::Temperature,
    most: &quantity::Temperature,
    sheet: &mut Sheet,
) -> Lookup<bool> {
    let source = "IRC P2802.2, from memory";
    match need!(heater, water_heating.space_heating_temperature) {
        Ok(needed) => Ok(!sheet.at_most("water for the rooms", &needed, most, "F", source)),
        Err(_) if at_most(set.quantity(), most.quantity()) => Ok(false),
        Err(unresolved) => Err(unresolved),
    }
}

/// The mixing valve of a heater. Where a house has several heaters a valve must say which it serves.
fn valve_of<'a>(inquiry: &Inquiry<'a>, heater: &Place<Equipment>) -> Lookup<Option<Place<'a, WaterValve>>> {
    let mixing = need!(inquiry.project(), water.valves).every().into_iter().filter(|valve| valve.kind == WaterValveKind::Mixing);
    let mixing: Vec<_> = mixing.collect();
    let own = |valve: &&Place<WaterValve>| valve.serves.as_ref().is_some_and(|serves| serves.contains(&heater.id));
    if let Some(valve) = mixing.iter().find(own) {
        return Ok(Some(valve.clone()));
    }
    match mixing.into_iter().find(|valve| valve.serves.is_none()) {
        Some(valve) if heater::all(inquiry).len() > 1 => Err(valve.missing("/serves")),
        valve => Ok(valve),
    }
}

/// The listing of a valve that must temper.
fn listed(valve: &Place<WaterValve>, sheet: &mut Sheet) {
    let Some(standard) = sheet.want(need!(valve, standard)) else { return };
    let holds = standard.contains("1017");
    let words = text!("{} is listed to {}, ASSE 1017 is wanted", valve.label(), standard.get().as_str());
    if !sheet.require("listing", words, "IRC P2802.2, from memory", holds) {
        sheet.cure_at(text!("a valve listed to ASSE 1017"), &[(standard.pointer().to_owned(), json!("ASSE 1017"))]);
    }
}
