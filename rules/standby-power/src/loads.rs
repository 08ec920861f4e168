//! The loads that run from a standby source.

use redtag_handbook::load::Use;
use redtag_rule::prelude::*;
use uom::si::electric_potential::volt;
use uom::si::f64::{ElectricPotential, Power};

/// The transfers of the project.
pub fn transfers<'a>(case: &Case<'a>) -> Vec<Place<'a, Transfer>> {
    need!(case.project(), electrical.transfers).every()
}

/// Every load that is backed up.
///
/// # Errors
/// Where a load does not say whether it is.
pub fn backed_up<'a>(case: &Case<'a>) -> Lookup<Vec<Place<'a, Load>>> {
    let every: Vec<Place<Load>> = need!(case.project(), electrical.loads)?.items().collect();
    let said: Vec<bool> = every.iter().map(|load| need!(load, backed_up).map(|flag| *flag)).collect::<Vec<_>>().together()?;
    Ok(every.into_iter().zip(said).filter(|(_, backed)| *backed).map(|(load, _)| load).collect())
}

/// The loads on one transfer. Where there are several, a load whose equipment is on a circuit of another one's panel is left
/// out; a load that says no equipment counts with each.
///
/// # Errors
/// Where a load does not say whether it is backed up.
pub fn on<'a>(case: &Case<'a>, transfer: &Place<'a, Transfer>) -> Lookup<Vec<Place<'a, Load>>> {
    let mut loads = backed_up(case)?;
    let others: Vec<Place<Transfer>> = transfers(case).into_iter().filter(|other| other.id != transfer.id).collect();
    if others.is_empty() {
        return Ok(loads);
    }
    let own = served(case, transfer);
    let elsewhere: Vec<&str> = others.iter().flat_map(|other| served(case, other)).collect();
    loads.retain(|load| {
        let equipment = load.equipment.as_deref();
        equipment.is_none_or(|id| own.contains(&id) || !elsewhere.contains(&id))
    });
    Ok(loads)
}

/// What the circuits of a transfer's panel serve.
fn served<'a>(case: &Case<'a>, transfer: &Place<'a, Transfer>) -> Vec<&'a str> {
    let panel = need!(transfer, feeds).and_then(|id| need!(case.project(), electrical.panels).named(&id));
    let Ok(panel) = panel else { return Vec::new() };
    let circuits = panel.get().circuits.iter().flatten();
    circuits.flat_map(|circuit| circuit.serves.iter().flatten()).map(String::as_str).collect()
}

/// How many of it there are.
pub fn count(load: &Load) -> f64 {
    f64::from(load.count.unwrap_or(1))
}

/// Power while it runs, of all of its kind together.
///
/// # Errors
/// Where it is not said.
pub fn running(load: &Place<Load>) -> Lookup<Power> {
    Ok(need!(load, running)?.quantity() * count(load))
}

/// Nameplate of one of them.
///
/// # Errors
/// Where it is not said.
pub fn nameplate(load: &Place<Load>) -> Lookup<Power> {
    Ok(need!(load, nameplate)?.quantity())
}

/// Of loads that never run together, only the one with the most of `of` is kept.
pub fn coincident<'a>(loads: &[Place<'a, Load>], of: impl Fn(&Place<'a, Load>) -> Power) -> Vec<Place<'a, Load>> {
    let beaten = |index: usize, load: &Place<'a, Load>| {
        load.noncoincident_group.is_some()
            && loads.iter().enumerate().any(|(other, rival)| {
                rival.noncoincident_group == load.noncoincident_group
                    && (of(rival) > of(load) || (of(rival) == of(load) && other < index))
            })
    };
    loads.iter().enumerate().filter(|(index, load)| !beaten(*index, load)).map(|(_, load)| load.clone()).collect()
}

/// Its voltage: that of its equipment, else by the leg it hangs on.
///
/// # Errors
/// Where neither is said.
pub fn voltage(case: &Case, load: &Place<Load>) -> Lookup<ElectricPotential> {
    let equipment = need!(load, equipment).and_then(|id| case.equipment(&id));
    if let Ok(stated) = equipment.and_then(|equipment| need!(equipment, electrical.voltage)) {
        return Ok(stated.quantity());
    }
    let leg = need!(load, leg)
        .map_err(|_| Unresolved::because(format!("{}/leg", load.pointer()), "the leg, or the voltage of its equipment"))?;
    Ok(ElectricPotential::new::<volt>(if *leg == Leg::Both { 240.0 } else { 120.0 }))
}

/// Its motor, or that of its equipment.
pub fn motor<'a>(case: &Case<'a>, load: &Place<'a, Load>) -> Option<Place<'a, Motor>> {
    let of_equipment = || {
        let equipment = need!(load, equipment).and_then(|id| case.equipment(&id)).ok()?;
        need!(equipment, electrical.motor).ok()
    };
    need!(load, motor).ok().or_else(of_equipment)
}

/// What it is for: as said, else by the kind of its equipment.
///
/// # Errors
/// Where neither tells.
pub fn purpose(case: &Case, load: &Place<Load>) -> Lookup<Use> {
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
    let kind = need!(load, equipment).and_then(|id| case.equipment(&id)).map(|equipment| equipment.kind);
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
