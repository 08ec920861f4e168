//! The Article 220 load of a set of loads, by the method the jurisdiction takes.

use crate::{motor, nameplate, purpose, va, voltage};
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
)
.figure();
/// Vehicles.
pub const VEHICLE: Quantity<dimensions::ApparentPower> = Quantity::new(
    "least_vehicle_load",
    "0 VA",
    "The least load the charging of a vehicle counts.",
    "none in NEC 2020; 7,200 VA in NEC 220.57 of 2023",
)
.within("0 VA", "20 kVA")
.figure();

/// Where the facts of a calculation stand that are not those of a load.
#[derive(Debug, Clone)]
pub struct Carried<'a> {
    /// Floor area it covers.
    pub floor_area: Lookup<Place<'a, quantity::Area>>,
    /// Small-appliance circuits it carries.
    pub small_appliance_circuits: Lookup<Place<'a, u32>>,
    /// Laundry circuits it carries.
    pub laundry_circuits: Lookup<Place<'a, u32>>,
    /// Zones of electric heat; asked for only where some of it is.
    pub heating_zones: Lookup<Place<'a, u32>>,
}

/// The calculation as the handbook wants it.
///
/// # Errors
/// Everything it needs and the project does not say.
fn dwelling(inquiry: &Inquiry, carried: &Carried, loads: &[Place<Load>]) -> Lookup<Dwelling> {
    let facts = (carried.floor_area.clone(), carried.small_appliance_circuits.clone(), carried.laundry_circuits.clone());
    let each: Vec<Lookup<trade::Load>> = loads.iter().map(|load| counted(inquiry, loads, load)).collect();
    let ((floor_area, small_appliance, laundry), each) = (facts.together(), each.together()).together()?;
    let electric = each.iter().any(|load| load.usage == Use::SpaceHeating);
    let zones = if electric { *carried.heating_zones.clone()? } else { 1 };
    let repeated = each.iter().zip(loads).flat_map(|(load, of)| (0..of.count.unwrap_or(1).min(1_000)).map(|_| *load));
    Ok(Dwelling {
        floor_area: floor_area.quantity(),
        small_appliance_circuits: *small_appliance,
        laundry_circuits: *laundry,
        heating_zones: zones,
        loads: repeated.collect(),
    })
}

fn counted(inquiry: &Inquiry, backed: &[Place<Load>], load: &Place<Load>) -> Lookup<trade::Load> {
    let usage = purpose(inquiry, load)?;
    let power = if usage == Use::General { Power::default() } else { nameplate(load)? };
    let motor = motor(inquiry, load);
    let shaft = motor.as_ref().and_then(|motor| need!(motor, power).ok()).map_or(Power::default(), |power| power.quantity());
    let group = load
        .noncoincident_group
        .as_ref()
        .and_then(|group| backed.iter().position(|other| other.noncoincident_group.as_ref() == Some(group)));
    // A load that is a motor, or has one, is taken for a motor altogether where the motor's own share is not known.
    let full_load = motor.as_ref().and_then(|motor| need!(motor, full_load_current).ok());
    let by_current =
        full_load.and_then(|current| voltage(inquiry, load).ok().map(|volts| trade::apparent(current.quantity(), volts)));
    let motor_share = if motor.is_none() { Power::default() } else { by_current.filter(|own| *own < power).unwrap_or(power) };
    let fastened = load.fastened_in_place != Some(false);
    Ok(trade::Load { usage, power, motor: motor_share, shaft, group, fastened })
}

/// The demand by the method in force.
///
/// # Errors
/// Where the calculation lacks a fact.
pub fn demand(
    inquiry: &Inquiry,
    carried: &Carried,
    loads: &[Place<Load>],
    rating: Option<ElectricCurrent>,
    sheet: &mut Sheet,
) -> Lookup<Power> {
    let dwelling = dwelling(inquiry, carried, loads)?;
    let rates = Rates { vehicle: inquiry.value(&VEHICLE), ..Rates::default() };
    let unknown = || Unresolved::because("/electrical/loads", "five ranges at most: more are not tabulated here");
    let standard = trade::standard(&dwelling, &rates).ok_or_else(unknown)?;
    let method = inquiry.value(&METHOD);
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
