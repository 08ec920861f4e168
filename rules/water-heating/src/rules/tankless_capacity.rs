//! A tankless heater must warm what runs at one time, with the coldest water of the year.
//!
//! It has no store to draw on: what its burner cannot warm comes out cold. The flow on the box is at a rise few winters allow,
//! and a burner gives less at elevation.
//!
//! **How it is measured.** The outlets that may run at once, each with its flow; showers and tubs are mixed, and only a part of
//! their water is hot. The lift from the coldest inlet to the heater's setting. The heat its burner gives at this elevation.
//! Then gallons per minute are heat over 500 times the lift.
//!
//! **How it is fixed.** A larger heater, a second one, a smaller shower head, or an agreement that one shower runs at a time.
//! Raising the setting to draw more is no answer: *hotter water scalds.**

use crate::{altitude, heater, outlets};
use redtag_handbook::water::measure::{gallons_per_minute, in_gallons_per_minute};
use redtag_handbook::water::{flow_at_rise, heat_needed, hot_share};
use redtag_rule::prelude::*;
use uom::si::f64::{TemperatureInterval, ThermodynamicTemperature, VolumeRate};
use uom::si::temperature_interval::kelvin;

/// How warm people bathe.
const MIXED: Quantity<dimensions::Temperature> = Quantity::new(
    "mixed_temperature",
    "105 F",
    "The temperature people mix a shower or bath to.",
    "common practice: 105 F at the shower head",
)
.within("95 F", "120 F");
/// From where on elevation counts.
const THRESHOLD: Quantity<dimensions::Position> = Quantity::new(
    "altitude_threshold",
    "2,000 ft",
    "Up to here a burner gives what its plate says.",
    "from memory of NFPA 54 11.1.2",
)
.within("0 ft", "10,000 ft");

/// The rule.
pub const RULE: Rule = Rule {
    level: Level::Advice,
    citations: &[remembered("IRC", "2021", "P2801.1"), remembered("NFPA 54", "2021", "11.1.2")],
    parameters: &[&MIXED, &THRESHOLD],
    reads: &["/equipment", "/water", "/site"],
    ..Rule::new("water-heating/tankless-capacity", "Hot water for what runs at once, in winter", check)
};

const WANTED: &str = "whether it warms what runs at one time";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    heater::each(inquiry, |heater| {
        if heater::stores(heater) {
            return heater.not_applicable(text!("it has a store to draw on")).done();
        }
        heater.sheet(WANTED, |sheet| judge(inquiry, heater, sheet))
    })
}

fn judge(inquiry: &Inquiry, heater: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let (cold, set) = (heater::coldest(inquiry), need!(heater, water_heating.set_temperature)).together()?;
    let (demand, given) = (
        demand(inquiry, heater, (cold.quantity(), set.quantity()), sheet),
        altitude::output_here(inquiry, heater, inquiry.value(&THRESHOLD)),
    )
        .together()?;
    let (output, why) = given;
    let rise = TemperatureInterval::new::<kelvin>(set.quantity().value - cold.quantity().value);
    let lift = quantity::TemperatureDifference::from_quantity(&rise);
    sheet.line("heat", why, "");
    let Some(flow) = flow_at_rise(output, rise) else {
        sheet.line("lift", text!("the water comes at {}, as hot as it is set", cold), "");
        return Ok(text!("the water needs no lift"));
    };
    sheet.line("flow", text!("{} lifted by {}", in_unit(flow, "gpm"), lift), "common practice: Btu/h = 500 x gpm x F");
    if !sheet.at_least("against what runs", &flow, &demand, "gpm", "computed") {
        let needed = heat_needed(demand, rise);
        sheet.fault(text!(
            "{} run at once and {} can be lifted from {} to {}",
            in_unit(demand, "gpm"),
            in_unit(flow, "gpm"),
            cold,
            set
        ));
        sheet.cure(text!("{} into the water are wanted here, it gives {}", in_unit(needed, "Btu/h"), in_unit(output, "Btu/h")));
    }
    Ok(text!("{} can be lifted, {} run at once", in_unit(flow, "gpm"), in_unit(demand, "gpm")))
}

/// Hot water that runs at one time.
fn demand(
    inquiry: &Inquiry,
    heater: &Place<Equipment>,
    (cold, hot): (ThermodynamicTemperature, ThermodynamicTemperature),
    sheet: &mut Sheet,
) -> Lookup<VolumeRate> {
    let share = hot_share(inquiry.value(&MIXED), cold, hot);
    let one = |fixture: &Place<Fixture>| -> Lookup<f64> {
        let at_once = need!(fixture, simultaneous)?;
        if *at_once == 0 {
            return Ok(0.0);
        }
        let flow = need!(fixture, flow)?;
        let part = if outlets::mixes(fixture) { share } else { 1.0 };
        Ok(in_gallons_per_minute(flow.quantity()) * f64::from(*at_once) * part)
    };
    redtag_rule_water::all_fixtures(inquiry, sheet);
    let fixtures = outlets::of(inquiry, heater)?;
    let flows: Vec<Lookup<f64>> = fixtures.iter().map(one).collect();
    let total = gallons_per_minute(flows.together()?.into_iter().sum());
    let share = quantity::Ratio::from_si(share);
    sheet.line("runs at once", text!("{} of hot water; {} of a mixed flow is hot", in_unit(total, "gpm"), share), "");
    Ok(total)
}
