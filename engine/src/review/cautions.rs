//! The usual cautions, for the dangers a project brings with it.

use redtag_schema::project::{Equipment, EquipmentKind as Kind, Project};

/// One danger: how a project gives it away, and what to say.
struct Danger {
    given_away: fn(&Project) -> bool,
    caution: &'static str,
}

// Common practice of the trades and of emergency services; no finding rests on a figure here.
const DANGERS: [Danger; 5] = [
    Danger {
        given_away: |project| project.gas.is_some() || any(project, |item| item.fuel_burning.is_some() || burns(item.kind)),
        caution: "Gas and combustion: a leak or a starved flame can explode or poison with carbon monoxide, which has no smell. \
             Smell gas: touch no switch, get everyone out, call the supplier or the emergency number from outside. Gas work is for \
             licensed fitters, with a pressure test and a combustion check before use.",
    },
    Danger {
        given_away: |project| project.electrical.is_some() || any(project, |item| carries_power(item.kind)),
        caution: "Electricity: service conductors stay live with the main off, and solar, batteries and generators feed from the \
             other side. Only a licensed electrician opens the equipment, locked out and tested dead first.",
    },
    Danger {
        given_away: |project| any(project, |item| item.kind == Kind::Battery),
        caution: "Batteries: they cannot be switched off, and once hurt they can burn or give off flammable gas hours later. If one \
             swells, hisses, smokes or gets wet, leave, close the door and call the fire service.",
    },
    Danger {
        given_away: |project| any(project, |item| item.water_heating.is_some() || heats_water(item.kind)),
        caution: "Hot water and pressure: water above 120 °F (49 °C) scalds, the hotter the faster. Never plug, cap or valve off a \
             relief valve or its pipe.",
    },
    Danger {
        given_away: |project| any(project, |item| burns(item.kind) || carries_power(item.kind) || item.kind == Kind::Battery),
        caution: "Fire: keep rated walls, their sealed penetrations and the clearances of listed equipment whole, and smoke and \
             carbon monoxide alarms working, while the work goes on too.",
    },
];

/// The cautions for what the project holds, always in the same order.
pub fn for_project(project: &Project) -> Vec<String> {
    DANGERS.iter().filter(|danger| (danger.given_away)(project)).map(|danger| danger.caution.to_owned()).collect()
}

fn any(project: &Project, is: impl Fn(&Equipment) -> bool) -> bool {
    project.equipment.iter().flatten().any(is)
}

fn burns(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::Furnace
            | Kind::Boiler
            | Kind::UnitHeater
            | Kind::WallFurnace
            | Kind::GasFireplace
            | Kind::SolidFuelHeater
            | Kind::OilHeater
            | Kind::GasMeter
            | Kind::GasManifold
            | Kind::GasRegulator
            | Kind::GasContainer
    )
}

fn carries_power(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::Panel
            | Kind::ElectricMeter
            | Kind::Disconnect
            | Kind::TransferSwitch
            | Kind::MicrogridInterconnect
            | Kind::Inverter
            | Kind::ChargeController
            | Kind::Generator
            | Kind::GeneratorInlet
            | Kind::SolarArray
            | Kind::VehicleCharger
    )
}

fn heats_water(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::Boiler
            | Kind::StorageWaterHeater
            | Kind::TanklessWaterHeater
            | Kind::HeatPumpWaterHeater
            | Kind::IndirectWaterHeater
            | Kind::PoolHeater
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cautions(equipment: &str) -> Vec<String> {
        let project = format!("{{\"schema\": 1, \"equipment\": {equipment}}}");
        for_project(&serde_json::from_str(&project).unwrap())
    }

    #[test]
    fn each_danger_is_told_where_it_is_and_nowhere_else() {
        assert_eq!(cautions("[]"), Vec::<String>::new());
        let starts = |equipment: &str| cautions(equipment).iter().map(|caution| caution[..4].to_owned()).collect::<Vec<_>>();
        assert_eq!(starts(r#"[{"id": "b", "kind": "battery"}]"#), ["Batt", "Fire"]);
        assert_eq!(starts(r#"[{"id": "b", "kind": "boiler"}]"#), ["Gas ", "Hot ", "Fire"]);
        assert_eq!(starts(r#"[{"id": "b", "kind": "panel"}]"#), ["Elec", "Fire"]);
        assert_eq!(starts(r#"[{"id": "b", "kind": "storage-water-heater"}]"#), ["Hot "]);
    }
}
