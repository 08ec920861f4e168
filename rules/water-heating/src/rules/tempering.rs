//! A heater that also warms rooms must have its tap water tempered, and very hot storage calls for a mixing valve.
//!
//! Rooms are often warmed with water far hotter than skin can take. **Stored at 140 F it burns in 5 seconds.** Stored below
//! 120 F it may breed the bacteria of legionnaires' disease instead, so the answer to scalding is a mixing valve and not a cooler
//! tank.
//!
//! **How it is measured.** The heater's setting, whether it also heats rooms, and the setting and listing of the mixing valve
//! that serves it.
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
    "from memory of IRC P2802.1",
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
    citations: &[remembered("IRC", "2021", "P2802.1"), remembered("ASSE", "1017", "whole")],
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
    let serves = |valve: &Place<WaterValve>| {
        valve.kind == WaterValveKind::Mixing && valve.serves.as_ref().is_none_or(|serves| serves.contains(&heater.id))
    };
    let valve = need!(inquiry.project(), water.valves).every().into_iter().find(serves);
    let coolest = quantity::Temperature::from_quantity(&inquiry.value(&COOLEST));
    if heater::stores(heater) && !at_least(set.quantity(), coolest.quantity()) {
        sheet.advise(text!("it is set to {}; below {} bacteria grow in a tank", set, coolest));
    }
    let Some(valve) = valve else {
        if *rooms {
            need!(inquiry.project(), water.valves)?;
            sheet.fault(text!("it also warms rooms and nothing tempers its tap water to {}", most));
            sheet.cure(text!("fit a mixing valve listed to ASSE 1017 on its hot outlet, set to {} or less", most));
        } else if !sheet.at_most("setting", &set, &most, "F", "IRC P2802.1, from memory") {
            sheet.advise(text!("set to {} without a mixing valve: that burns in seconds at any tap without one of its own", set));
        }
        return Ok(text!("set to {}", set));
    };
    sheet.related(valve.pointer());
    let tempered = need!(valve, set_temperature)?;
    if !sheet.at_most("tempered to", &tempered, &most, "F", "IRC P2802.1, from memory") {
        sheet.fault(text!("the mixing valve is set to {}, {} is the most", tempered, most));
        sheet.cure_at(text!("set it to 120 F"), &[(tempered.pointer().to_owned(), json!("120 F"))]);
    }
    Ok(text!("stored at {}, tempered to {}", set, tempered))
}
