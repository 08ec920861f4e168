//! The Article 220 load of what is transferred, by the method the jurisdiction takes.

use crate::loads;
use crate::say::va;
use redtag_handbook::load::{self as trade, Demand, Dwelling, Rates, Use};
use redtag_rule::prelude::*;
use uom::si::f64::{ElectricCurrent, Power};

/// The methods a rule may take.
pub const METHOD: Choice = Choice::new(
    "load_method",
    "either",
    &["either", "standard", "optional"],
    "By which method of Article 220 the load is worked out; the optional one only where the rating is 100 A at least.",
    "NEC 220.40 and 220.82: the designer may take either",
);
/// Vehicles.
pub const VEHICLE: Quantity<dimensions::ApparentPower> = Quantity::new(
    "least_vehicle_load",
    "0 VA",
    "The least load the charging of a vehicle counts.",
    "none in NEC 2020; 7,200 VA in NEC 220.57 of 2023",
)
.within("0 VA", "20 kVA");

/// The calculation as the handbook wants it.
///
/// # Errors
/// Everything it needs and the project does not say.
pub fn dwelling(case: &Case, backed: &[Place<Load>]) -> Lookup<Dwelling> {
    let project = case.project();
    let facts = (
        need!(project, electrical.standby.floor_area),
        need!(project, electrical.standby.small_appliance_circuits),
        need!(project, electrical.standby.laundry_circuits),
    );
    let each: Vec<Lookup<trade::Load>> = backed.iter().map(|load| counted(case, backed, load)).collect();
    let ((floor_area, small_appliance, laundry), each) = (facts.together(), each.together()).together()?;
    let electric = each.iter().any(|load| load.usage == Use::SpaceHeating);
    let zones = if electric { *need!(project, electrical.standby.heating_zones)? } else { 1 };
    let repeated = each.iter().zip(backed).flat_map(|(load, of)| (0..of.count.unwrap_or(1).min(1_000)).map(|_| *load));
    Ok(Dwelling {
        floor_area: floor_area.quantity(),
        small_appliance_circuits: *small_appliance,
        laundry_circuits: *laundry,
        heating_zones: zones,
        loads: repeated.collect(),
    })
}

fn counted(case: &Case, backed: &[Place<Load>], load: &Place<Load>) -> Lookup<trade::Load> {
    let usage = loads::purpose(case, load)?;
    let power = if usage == Use::General { Power::default() } else { loads::nameplate(load)? };
    let motor = loads::motor(case, load);
    let shaft = motor.as_ref().and_then(|motor| need!(motor, power).ok()).map_or(Power::default(), |power| power.quantity());
    let group = load
        .noncoincident_group
        .as_ref()
        .and_then(|group| backed.iter().position(|other| other.noncoincident_group.as_ref() == Some(group)));
    // A load that is a motor, or has one, is taken for a motor altogether where the motor's own share is not known.
    let full_load = motor.as_ref().and_then(|motor| need!(motor, full_load_current).ok());
    let by_current =
        full_load.and_then(|current| loads::voltage(case, load).ok().map(|volts| trade::apparent(current.quantity(), volts)));
    let motor_share = if motor.is_none() { Power::default() } else { by_current.filter(|own| *own < power).unwrap_or(power) };
    Ok(trade::Load { usage, power, motor: motor_share, shaft, group })
}

/// The demand by the method in force.
///
/// # Errors
/// Where the calculation lacks a fact.
pub fn of(case: &Case, backed: &[Place<Load>], rating: Option<ElectricCurrent>, sheet: &mut Sheet) -> Lookup<Power> {
    let dwelling = dwelling(case, backed)?;
    let rates = Rates { vehicle: case.value(&VEHICLE), ..Rates::default() };
    let unknown = || Unresolved::because("/electrical/loads", "five ranges at most: more are not tabulated here");
    let standard = trade::standard(&dwelling, &rates).ok_or_else(unknown)?;
    let method = case.value(&METHOD);
    let may = rating.is_some_and(trade::optional_applies);
    let optional = trade::optional(&dwelling, &rates);
    let taken = match method {
        "standard" => &standard,
        "optional" if may => &optional,
        "either" if may && optional.total < standard.total => &optional,
        _ => &standard,
    };
    told(taken, if std::ptr::eq(taken, &standard) { "by the standard method" } else { "by the optional method" }, sheet);
    Ok(taken.total)
}

fn told(demand: &Demand, how: &str, sheet: &mut Sheet) {
    for line in &demand.lines {
        let words = text!("{} connected, {} counts", va(line.connected), va(line.demand));
        sheet.line(line.what, words, line.source.text());
    }
    sheet.line("load", text!("{} {}", va(demand.total), how), "NEC Article 220");
}
