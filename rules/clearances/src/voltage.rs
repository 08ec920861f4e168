//! The greatest voltage to ground in a piece of gear.

use crate::gear;
use redtag_rule::prelude::*;
use uom::si::electric_potential::volt;
use uom::si::f64::ElectricPotential;

/// The greatest voltage to ground that is stated of it, or that its service gives.
///
/// For ungrounded direct current the voltage between the conductors counts (from memory of NEC Article 100).
///
/// # Errors
/// Where nothing says.
pub fn to_ground(inquiry: &Inquiry, equipment: &Place<Equipment>) -> Lookup<ElectricPotential> {
    let stated = stated(inquiry, equipment).into_iter().reduce(greater);
    stated.or_else(|| of_service(inquiry, equipment)).ok_or_else(|| equipment.missing("/electrical/voltage_to_ground"))
}

fn greater(a: ElectricPotential, b: ElectricPotential) -> ElectricPotential {
    if a > b { a } else { b }
}

fn stated(inquiry: &Inquiry, equipment: &Equipment) -> Vec<ElectricPotential> {
    let id = Some(equipment.id.as_str());
    let mut stated = Vec::new();
    let mut add = |voltage: Option<&quantity::Voltage>| stated.extend(voltage.map(|voltage| voltage.quantity()));
    add(equipment.electrical.as_ref().and_then(|supply| supply.voltage_to_ground.as_ref()));
    let Some(electrical) = inquiry.project().get().electrical.as_ref() else { return stated };
    for panel in electrical.panels.iter().flatten().filter(|panel| panel.equipment.as_deref() == id) {
        add(panel.voltage_to_ground.as_ref());
    }
    let mut inverters = Vec::new();
    for inverter in electrical.inverters.iter().flatten().filter(|inverter| inverter.equipment.as_deref() == id) {
        add(inverter.dc_voltage_maximum.as_ref());
        inverters.push(inverter.id.as_str());
    }
    let through = |inverter: &Option<String>| inverter.as_deref().is_some_and(|inverter| inverters.contains(&inverter));
    for array in electrical.solar.iter().flatten().filter(|array| through(&array.inverter)) {
        add(array.dc_voltage.as_ref());
    }
    for system in electrical.storage.iter().flatten() {
        let unit = system.units.iter().flatten().any(|unit| unit.equipment.as_deref() == id);
        if unit || through(&system.inverter) {
            add(system.voltage_to_ground.as_ref());
        }
    }
    stated
}

/// What the services say of a panel or a disconnect: the greatest voltage to ground of any of them.
fn of_service(inquiry: &Inquiry, equipment: &Equipment) -> Option<ElectricPotential> {
    let fed = [EquipmentKind::Panel, EquipmentKind::Disconnect, EquipmentKind::TransferSwitch];
    if !fed.contains(&equipment.kind) && !gear::is_service(inquiry, equipment) {
        return None;
    }
    let services = need!(inquiry.project(), electrical.services).every();
    let volts = |service: &Place<ElectricalService>| match service.kind {
        SystemKind::SplitPhase120240 | SystemKind::Wye208120 => Some(120.0),
        SystemKind::Wye480277 => Some(277.0),
        SystemKind::Unrecognised => None,
    };
    let all: Option<Vec<f64>> = services.iter().map(volts).collect();
    all?.into_iter().map(ElectricPotential::new::<volt>).reduce(greater)
}
