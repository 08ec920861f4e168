//! A propane container gives vapour only as fast as the cold lets it boil. One too small for the load starves the burners on
//! the coldest night.
//!
//! Liquid must take up heat through the wet wall of the container. The colder it is outside and the emptier the container,
//! the less comes off; then the pressure sinks, and the largest burner goes out first.
//!
//! **How it is measured.** The inputs of all gas appliances over the heating value, as if all burned at once; the lowest
//! outdoor temperature to be expected; a table of containers above ground, half full. Several containers count by the sum of
//! their water capacities. This is advice: the supplier sizes the container, and knows how often it is filled.
//!
//! **How it is fixed.** A larger container, a second one, or a vaporizer, by the gas supplier.

use crate::parts;
use redtag_handbook::gas_installation::capacity_for_vapour;
use redtag_handbook::units;
use redtag_rule::prelude::*;
use uom::si::f64::{Power, Volume, VolumeRate};

const SOURCE: &str = "generator manual (Briggs & Stratton 206484GS, page 14)";
const SHARE: Quantity<dimensions::Ratio> = Quantity::new(
    "share_at_once",
    "100 %",
    "The share of all inputs that is taken to burn at once.",
    "common practice: all of it, unless the supplier knows better",
)
.within("10 %", "100 %");

/// The rule.
pub const RULE: Rule = Rule {
    level: Level::Advice,
    citations: &[remembered("NFPA 58", "2017", "annex on vaporization")],
    parameters: &[&SHARE],
    reads: &["/site", "/equipment", "/gas"],
    ..Rule::new("gas-installation/container-vapour", "Vapour of propane containers in the cold", check)
};

const WANTED: &str = "whether the containers give enough vapour in the cold";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let project = inquiry.project();
    let Ok(gas) = need!(project, gas) else { return Vec::new() };
    let containers = need!(gas, containers).every();
    let propane = parts::supplied(inquiry) == Ok(Fuel::Propane);
    if !propane || containers.is_empty() {
        return vec![crate::named::not_concerned(&gas, text!("no containers of propane"))];
    }
    if containers.iter().any(|container| container.underground == Some(true)) {
        return vec![crate::named::not_concerned(&gas, text!("in the ground, which is warmer than the table's air"))];
    }
    vec![crate::named::sheet(&gas, WANTED, |sheet| judge(inquiry, &gas, &containers, sheet))]
}

fn judge(inquiry: &Inquiry, gas: &Place<Gas>, containers: &[Place<GasContainer>], sheet: &mut Sheet) -> Lookup<Text> {
    let inputs: Vec<_> =
        parts::on_gas(inquiry).iter().map(|one| need!(one, fuel_burning.plate.input).map(|input| input.quantity())).collect();
    let capacities: Vec<_> = containers.iter().map(|one| need!(one, water_capacity).map(|volume| volume.quantity())).collect();
    let coldest = need!(inquiry.project(), site.lowest_temperature);
    let (inputs, capacities, coldest) = (inputs.together(), capacities.together(), coldest).together()?;
    let load = inputs.into_iter().fold(Power::new::<uom::si::power::watt>(0.0), |sum, one| sum + one) * inquiry.value(&SHARE);
    let holds = capacities.into_iter().fold(Volume::new::<uom::si::volume::cubic_meter>(0.0), |sum, one| sum + one);
    let flow = flow(gas, load)?;
    sheet.line("load", text!("{} at once, {} of vapour", load, in_unit(flow, "cfh")), "");
    let fahrenheit = (coldest.si() - 273.15) * 1.8 + 32.0;
    let Some(row) = capacity_for_vapour(flow, fahrenheit) else {
        return Err(Unresolved::because(gas.pointer(), "the supplier's own sizing: the table ends at 300 ft³/h and -40 F"));
    };
    let words =
        text!("{} of water capacity, {} at {} give {} enough", in_unit(holds, "gal"), in_unit(row.value, "gal"), coldest, load);
    if !sheet.test("capacity", words, SOURCE, at_least(holds, row.value)) {
        sheet.fault(text!(
            "{} of containers for {} at {}: {} are wanted, half full",
            in_unit(holds, "gal"),
            load,
            coldest,
            in_unit(row.value, "gal")
        ));
        sheet.cure(text!("ask the supplier for containers of {} in all, or a vaporizer", in_unit(row.value, "gal")));
    }
    Ok(text!("enough vapour at {}", coldest))
}

/// The vapour a load takes, by the heating value supplied or that of design.
fn flow(gas: &Place<Gas>, load: Power) -> Lookup<VolumeRate> {
    let stated = need!(gas, supply.heating_value).ok();
    if let Some(zero) = stated.as_ref().filter(|value| value.si() <= 0.0) {
        return Err(Unresolved::because(zero.pointer(), "a heating value above zero"));
    }
    let heating_value = stated.map_or(units::btu_per_cubic_foot(2516.0), |value| value.quantity());
    Ok(load / heating_value)
}
