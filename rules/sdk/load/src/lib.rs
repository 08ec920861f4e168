//! A project's loads as the handbook's load calculation wants them; what is missing is named.
//!
//! A crate of its own beside `redtag-rule-space`, for the families that work loads out: standby power for what is transferred,
//! panels for the whole service, raceways for what runs in them. `circuit` finds circuits, what they feed and what their
//! conductors carry. `Carried` says where the facts of a calculation stand, `demand` works it out line by line.

pub mod circuit;
mod demand;
mod say;

pub use demand::{Carried, METHOD, VEHICLE, demand};
pub use say::{kva, va};

use redtag_handbook::load::Use;
use redtag_rule::prelude::*;
use uom::si::electric_potential::volt;
use uom::si::f64::{ElectricPotential, Power};

/// Asks whether the loads listed are all there are, where nobody says so: a sum is one of what is listed, and one more
/// load may be too much. A fault stands without that answer.
pub fn whole(inquiry: &Inquiry, sheet: &mut Sheet) {
    let said = need!(inquiry.project(), electrical.loads_complete);
    if !said.as_ref().is_ok_and(|whole| **whole) {
        let wanted = "whether these are all the loads: the sum is one of what is listed";
        sheet.lack(Unresolved::because("/electrical/loads_complete", wanted));
    }
}

/// How many of it there are.
pub fn count(load: &Load) -> f64 {
    f64::from(load.count.unwrap_or(1))
}

/// Nameplate of one of them.
///
/// # Errors
/// Where it is not said.
pub fn nameplate(load: &Place<Load>) -> Lookup<Power> {
    Ok(need!(load, nameplate)?.quantity())
}

/// Its voltage: that of its equipment, else by the leg it hangs on.
///
/// # Errors
/// Where neither is said.
pub fn voltage(inquiry: &Inquiry, load: &Place<Load>) -> Lookup<ElectricPotential> {
    let equipment = need!(load, equipment).and_then(|id| inquiry.equipment(&id));
    if let Ok(stated) = equipment.and_then(|equipment| need!(equipment, electrical.voltage)) {
        return Ok(stated.quantity());
    }
    let leg = need!(load, leg)
        .map_err(|_| Unresolved::because(format!("{}/leg", load.pointer()), "the leg, or the voltage of its equipment"))?;
    Ok(ElectricPotential::new::<volt>(if *leg == Leg::Both { 240.0 } else { 120.0 }))
}

/// Its motor, or that of its equipment.
pub fn motor<'a>(inquiry: &Inquiry<'a>, load: &Place<'a, Load>) -> Option<Place<'a, Motor>> {
    let of_equipment = || {
        let equipment = need!(load, equipment).and_then(|id| inquiry.equipment(&id)).ok()?;
        need!(equipment, electrical.motor).ok()
    };
    need!(load, motor).ok().or_else(of_equipment)
}

/// What it is for: as said, else by the kind of its equipment.
///
/// # Errors
/// Where neither tells.
pub fn purpose(inquiry: &Inquiry, load: &Place<Load>) -> Lookup<Use> {
    if let Ok(said) = need!(load, purpose) {
        return Ok(match *said.get() {
            LoadPurpose::General => Use::General,
            LoadPurpose::Appliance => Use::Appliance,
            LoadPurpose::Cooking => Use::Cooking,
            LoadPurpose::ClothesDryer => Use::Dryer,
            LoadPurpose::SpaceHeating => Use::SpaceHeating,
            LoadPurpose::HeatingAuxiliary => Use::HeatingAuxiliary,
            LoadPurpose::AirConditioning => Use::Cooling,
            LoadPurpose::HeatPump => Use::HeatPump,
            LoadPurpose::SupplementalHeat => Use::SupplementalHeat,
            LoadPurpose::ThermalStorage => Use::ThermalStorage,
            LoadPurpose::VehicleCharging => Use::VehicleCharging,
            _ => return Err(load.missing("/purpose")),
        });
    }
    let kind = need!(load, equipment).and_then(|id| inquiry.equipment(&id)).map(|equipment| equipment.kind);
    use EquipmentKind as K;
    match kind {
        Ok(K::Furnace | K::Boiler | K::UnitHeater | K::Circulator) => Ok(Use::HeatingAuxiliary),
        Ok(K::HeatPump) => Ok(Use::HeatPump),
        Ok(K::AirConditioner) => Ok(Use::Cooling),
        Ok(K::Range) => Ok(Use::Cooking),
        Ok(K::ClothesDryer) => Ok(Use::Dryer),
        Ok(K::VehicleCharger) => Ok(Use::VehicleCharging),
        Ok(
            K::Pump
            | K::WellController
            | K::StorageWaterHeater
            | K::TanklessWaterHeater
            | K::HeatPumpWaterHeater
            | K::Dishwasher
            | K::Refrigerator
            | K::HeatRecoveryVentilator
            | K::EnergyRecoveryVentilator
            | K::Dehumidifier,
        ) => Ok(Use::Appliance),
        _ => Err(load.missing("/purpose")),
    }
}
