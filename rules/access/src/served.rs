//! Which equipment the rules concern.

use redtag_rule::prelude::*;

/// The appliances whose access the mechanical and plumbing chapters ask for.
pub fn appliance(equipment: &Equipment) -> bool {
    use EquipmentKind as K;
    matches!(
        equipment.kind,
        K::Furnace
            | K::AirHandler
            | K::Boiler
            | K::HeatPump
            | K::AirConditioner
            | K::UnitHeater
            | K::RoomHeater
            | K::WallFurnace
            | K::StorageWaterHeater
            | K::TanklessWaterHeater
            | K::HeatPumpWaterHeater
            | K::IndirectWaterHeater
            | K::PoolHeater
            | K::SolidFuelHeater
            | K::OilHeater
            | K::HeatRecoveryVentilator
            | K::EnergyRecoveryVentilator
    )
}

/// Electrical gear, whose working space the electrical chapters ask for.
pub fn electrical(kind: EquipmentKind) -> bool {
    use EquipmentKind as K;
    matches!(
        kind,
        K::Panel
            | K::ElectricMeter
            | K::Disconnect
            | K::TransferSwitch
            | K::MicrogridInterconnect
            | K::Inverter
            | K::Battery
            | K::ChargeController
            | K::Generator
            | K::GeneratorInlet
            | K::SolarArray
            | K::VehicleCharger
            | K::PullBox
    )
}

/// Appliances, and whatever else says which of its sides must be reached.
pub fn serviced(equipment: &Equipment) -> bool {
    let sides = equipment.service.as_ref().and_then(|service| service.sides.as_ref());
    appliance(equipment) || (!electrical(equipment.kind) && sides.is_some_and(|sides| !sides.is_empty()))
}

/// Appliances, and whatever else says which piece must be carried out.
pub fn replaced(equipment: &Equipment) -> bool {
    let part = equipment.service.as_ref().and_then(|service| service.largest_part.as_ref());
    appliance(equipment) || (!electrical(equipment.kind) && part.is_some())
}

/// Attics and crawl spaces have passage rules of their own.
pub fn passage_of_its_own(space: &Space) -> bool {
    matches!(space.kind, SpaceKind::Attic | SpaceKind::CrawlSpace)
}
