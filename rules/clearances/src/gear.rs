//! What is electrical, and what somebody may have to work on while it is live.

use redtag_rule::prelude::*;
use uom::si::f64::ElectricCurrent;

/// Whether it belongs to the wiring: only such things may reach into the space before other gear, and then a little.
pub fn is_electrical(equipment: &Equipment) -> bool {
    use EquipmentKind as K;
    let of_the_wiring = [K::ElectricMeter, K::GeneratorInlet, K::VehicleCharger, K::PullBox];
    is_worked_on(equipment) || of_the_wiring.contains(&equipment.kind)
}

/// Whether it is likely to be opened while it is live.
pub fn is_worked_on(equipment: &Equipment) -> bool {
    use EquipmentKind as K;
    let gear = [
        K::Panel,
        K::Disconnect,
        K::TransferSwitch,
        K::MicrogridInterconnect,
        K::Inverter,
        K::Battery,
        K::ChargeController,
        K::WellController,
    ];
    gear.contains(&equipment.kind)
}

/// The panel that a piece of equipment is.
pub fn panel<'a>(inquiry: &Inquiry<'a>, equipment: &Equipment) -> Option<Place<'a, Panel>> {
    let panels = need!(inquiry.project(), electrical.panels).every();
    panels.into_iter().find(|panel| panel.equipment.as_deref() == Some(equipment.id.as_str()))
}

/// Whether it holds the disconnect of a service.
pub fn is_service(inquiry: &Inquiry, equipment: &Equipment) -> bool {
    let services = need!(inquiry.project(), electrical.services).every();
    services.iter().any(|service| service.disconnect.as_deref() == Some(equipment.id.as_str()))
        || panel(inquiry, equipment).is_some_and(|panel| panel.service_equipment == Some(true))
}

/// Whether the demands on panelboards and service equipment meet it.
pub fn is_panelboard(inquiry: &Inquiry, equipment: &Equipment) -> bool {
    equipment.kind == EquipmentKind::Panel || is_service(inquiry, equipment)
}

/// Whether it holds breakers or fuses; `None` where nobody says.
pub fn holds_overcurrent_devices(inquiry: &Inquiry, equipment: &Equipment) -> Option<bool> {
    let said = equipment.electrical.as_ref().and_then(|electrical| electrical.overcurrent_devices);
    if equipment.kind == EquipmentKind::Panel || panel(inquiry, equipment).is_some() { Some(true) } else { said }
}

/// Its rating, the greatest that is stated of it.
pub fn rating(inquiry: &Inquiry, equipment: &Equipment) -> Option<ElectricCurrent> {
    let id = Some(equipment.id.as_str());
    let mut stated: Vec<ElectricCurrent> = Vec::new();
    let mut add = |current: &Option<quantity::Current>| stated.extend(current.as_ref().map(|amps| amps.quantity()));
    if let Some(panel) = panel(inquiry, equipment) {
        add(&panel.bus_rating);
        add(&panel.main);
    }
    let electrical = inquiry.project().get().electrical.as_ref()?;
    let services = electrical.services.iter().flatten().filter(|service| service.disconnect.as_deref() == id);
    services.for_each(|service| add(&service.rating));
    let transfers = electrical.transfers.iter().flatten().filter(|transfer| transfer.equipment.as_deref() == id);
    transfers.for_each(|transfer| add(&transfer.rating));
    let disconnects = electrical.disconnects.iter().flatten().filter(|disconnect| disconnect.equipment.as_deref() == id);
    disconnects.for_each(|disconnect| add(&disconnect.rating));
    stated.into_iter().reduce(|a, b| if a > b { a } else { b })
}

/// Runs a check of every piece of gear that counts; what stands outdoors is not drawn.
pub fn each_indoors<'a>(
    inquiry: &Inquiry<'a>,
    counts: impl Fn(&Equipment) -> bool,
    check: impl Fn(&Place<'a, Equipment>) -> Finding,
) -> Vec<Finding> {
    let all = need!(inquiry.project(), equipment).every();
    let judge = |equipment: &Place<'a, Equipment>| {
        if equipment.outdoors == Some(true) {
            return equipment.not_applicable(text!("stands outdoors, where nothing is drawn")).done();
        }
        check(equipment)
    };
    all.iter().filter(|equipment| counts(equipment.get())).map(judge).collect()
}
