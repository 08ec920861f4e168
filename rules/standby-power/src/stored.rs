//! What storage systems hold for an outage.

use redtag_handbook::standby::Battery;
use redtag_rule::prelude::*;
use uom::si::f64::{Energy, Power, Ratio, ThermodynamicTemperature};
use uom::si::ratio::ratio;

const PRACTICE: &str = "common practice; from memory of battery data sheets";
/// Age.
pub const HEALTH: Quantity<dimensions::Ratio> = Quantity::new(
    "health",
    "80 %",
    "Share of the energy left with age where the project does not say.",
    "common practice: 70 to 80 % at ten years; from memory of battery warranties",
)
.within("30 %", "100 %");
/// Cold.
pub const COLD: Quantity<dimensions::Ratio> = Quantity::new(
    "cold_capacity",
    "80 %",
    "Share of the energy left where the place gets colder than freezing and the project does not say.",
    "common practice: 10 to 30 % less at -10 C; from memory of battery data sheets",
)
.within("10 %", "100 %");
/// Charging in the cold.
pub const CHARGING: Quantity<dimensions::Temperature> = Quantity::new(
    "charging_minimum",
    "0 C",
    "The temperature below which a lithium battery is not charged where the project does not say.",
    PRACTICE,
)
.within("-40 C", "20 C");
/// Depth.
pub const DEPTH: Quantity<dimensions::Ratio> = Quantity::new(
    "lithium_depth",
    "90 %",
    "Share of its plate a lithium battery may give where the project does not say.",
    "common practice: 90 to 100 %; from memory of battery data sheets",
)
.within("30 %", "100 %");
/// Depth of lead.
pub const LEAD_DEPTH: Quantity<dimensions::Ratio> = Quantity::new(
    "other_depth",
    "50 %",
    "Share of its plate a battery of another kind may give where the project does not say.",
    "common practice for lead-acid; from memory of battery data sheets",
)
.within("10 %", "100 %");
/// Charging losses.
pub const TAKEN: Quantity<dimensions::Ratio> = Quantity::new(
    "charging_efficiency",
    "95 %",
    "Share of what charges the battery that comes back, where the project does not say.",
    PRACTICE,
)
.within("50 %", "100 %");

/// Two systems together.
pub fn both(a: Battery, b: Battery) -> Battery {
    let limit = a.charge_limit.zip(b.charge_limit).map(|(a, b)| a + b);
    let efficiency = if a.charge_efficiency < b.charge_efficiency { a.charge_efficiency } else { b.charge_efficiency };
    Battery {
        capacity: a.capacity + b.capacity,
        reserve: a.reserve + b.reserve,
        charge_limit: limit,
        charge_efficiency: efficiency,
        charges: a.charges && b.charges,
    }
}

/// What one system stores.
///
/// # Errors
/// What is missing of its units, its inverter, its place.
pub fn store<'a>(inquiry: &Inquiry<'a>, system: &Place<'a, StorageSystem>, sheet: &mut Sheet) -> Lookup<Battery> {
    let units: Vec<Place<StorageUnit>> = need!(system, units)?.items().collect();
    let lithium = matches!(system.chemistry, Some(Chemistry::LithiumIronPhosphate | Chemistry::LithiumIon));
    let usual = if lithium { inquiry.value(&DEPTH) } else { inquiry.value(&LEAD_DEPTH) };
    let depth = system.depth_of_discharge.as_ref().map_or(usual, |depth| depth.quantity());
    let usable = |unit: &Place<StorageUnit>| match need!(unit, usable_energy) {
        Ok(usable) => Ok(usable.quantity()),
        Err(_) => {
            let (energy, efficiency) = (need!(unit, energy), efficiency(inquiry, system)).together()?;
            Ok(energy.quantity() * depth * efficiency)
        }
    };
    let each: Vec<Lookup<Energy>> = units.iter().map(usable).collect();
    let coldest: Vec<Lookup<ThermodynamicTemperature>> = units.iter().map(|unit| coldest(inquiry, unit)).collect();
    let (each, coldest, reserve) = (each.together(), coldest.together(), need!(system, reserve)).together()?;
    let health = system.health.as_ref().map_or(inquiry.value(&HEALTH), |health| health.quantity());
    let freezing = ThermodynamicTemperature::new::<uom::si::thermodynamic_temperature::degree_celsius>(0.0);
    let below = |limit: ThermodynamicTemperature| coldest.iter().any(|temperature| !at_least(*temperature, limit));
    let cold = system.cold_capacity.as_ref().map_or(inquiry.value(&COLD), |cold| cold.quantity());
    let in_cold = |temperature: &ThermodynamicTemperature| !at_least(*temperature, freezing);
    let (mut sum, mut chilled) = (Energy::default(), Energy::default());
    for (energy, temperature) in each.iter().zip(&coldest) {
        sum += *energy;
        if in_cold(temperature) {
            chilled += *energy;
        }
    }
    let charging = system.charging_temperature_minimum.as_ref().map_or(inquiry.value(&CHARGING), |limit| limit.quantity());
    let charges = !(below(charging) && (lithium || system.charging_temperature_minimum.is_some()));
    let capacity = (sum - chilled * (Ratio::new::<ratio>(1.0) - cold)) * health;
    let words = text!(
        "{}: {}, of them {} in the cold × {}; all × {} of age = {}, {} held back",
        system.id,
        in_unit(sum, "kWh"),
        in_unit(chilled, "kWh"),
        cold,
        health,
        in_unit(capacity, "kWh"),
        reserve
    );
    sheet.line("stored", words, PRACTICE);
    if !charges {
        sheet.line("charging", text!("{} gets too cold to be charged: nothing is put back", system.id), PRACTICE);
    }
    Ok(Battery {
        capacity,
        reserve: reserve.quantity(),
        charge_limit: system.charging_limit.as_ref().map(|limit| limit.quantity()),
        charge_efficiency: system.charging_efficiency.as_ref().map_or(inquiry.value(&TAKEN), |share| share.quantity()),
        charges,
    })
}

fn inverter<'a>(inquiry: &Inquiry<'a>, system: &Place<'a, StorageSystem>) -> Lookup<Place<'a, Inverter>> {
    need!(inquiry.project(), electrical.inverters).named(&need!(system, inverter)?)
}

fn efficiency<'a>(inquiry: &Inquiry<'a>, system: &Place<'a, StorageSystem>) -> Lookup<Ratio> {
    Ok(need!(inverter(inquiry, system)?, efficiency)?.quantity())
}

/// What its inverter draws while nothing runs.
///
/// # Errors
/// Where that is not said.
pub fn idle<'a>(inquiry: &Inquiry<'a>, system: &Place<'a, StorageSystem>) -> Lookup<Power> {
    Ok(need!(inverter(inquiry, system)?, idle)?.quantity())
}

fn coldest<'a>(inquiry: &Inquiry<'a>, unit: &Place<'a, StorageUnit>) -> Lookup<ThermodynamicTemperature> {
    let equipment = inquiry.equipment(&need!(unit, equipment)?)?;
    if equipment.outdoors == Some(true) {
        return Ok(need!(inquiry.project(), site.lowest_temperature)?.quantity());
    }
    Ok(need!(inquiry.space(&need!(equipment, space)?)?, lowest_temperature)?.quantity())
}
