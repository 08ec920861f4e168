//! Which record describes which kind of equipment.

use redtag_rule::prelude::*;

/// A list whose elements describe equipment of a kind.
pub struct Record {
    /// Where the list stands; behind a dot, a part of the equipment itself.
    pub list: &'static str,
    /// What is wanted there.
    pub wanted: &'static str,
    /// Whether some element of it is about the equipment of an id.
    pub names: fn(&Project, &str) -> bool,
}

/// The records of which one describes a piece of equipment of a kind; none where everything about it is said of itself.
pub fn of(kind: EquipmentKind) -> &'static [Record] {
    use EquipmentKind as K;
    match kind {
        K::Panel => &[PANEL],
        K::Disconnect => &[DISCONNECT, SERVICE, PANEL],
        K::ElectricMeter => &[ANY_SERVICE],
        K::TransferSwitch | K::MicrogridInterconnect => &[TRANSFER],
        K::Inverter => &[INVERTER],
        K::Battery => &[STORAGE],
        K::Generator => &[GENERATOR],
        K::SolarArray => &[SOLAR],
        K::VehicleCharger => &[LOAD, CIRCUIT],
        K::Machine => &[LOAD, CIRCUIT, ON_ITSELF],
        K::PullBox => &[PULL_BOX],
        K::FloorDrain | K::Sink => &[DRAIN],
        K::Sump => &[DRAIN, DRAINAGE_PUMP],
        K::ExhaustFan | K::ClothesDryer => &[EXHAUST],
        K::CombustionAirFan => &[MECHANICAL_AIR],
        K::PressureTank => &[PRESSURE_TANK],
        K::Cistern => &[CISTERN],
        K::Pump => &[WELL_PUMP, DRAINAGE_PUMP, ON_PUMP],
        K::SedimentFilter | K::CarbonFilter | K::IronFilter | K::AcidNeutralizer | K::WaterSoftener => &[TREATMENT],
        K::UltravioletDisinfection | K::ReverseOsmosis => &[TREATMENT],
        K::ClothesWasher | K::Dishwasher => &[FIXTURE],
        K::GasMeter => &[GAS_SUPPLY],
        K::GasManifold => &[GAS_NODE],
        K::GasRegulator => &[GAS_REGULATOR],
        K::GasContainer => &[GAS_CONTAINER],
        K::ExpansionTank | K::BufferTank => &[TANK],
        K::Circulator => &[ON_PUMP],
        K::Humidifier => &[SUPPLY_OF_WATER],
        _ => &[],
    }
}

impl Record {
    /// Where it stands for a piece of equipment.
    pub fn place(&self, one: &Place<Equipment>) -> String {
        self.list.strip_prefix('.').map_or_else(|| self.list.to_owned(), |step| format!("{}{step}", one.pointer()))
    }
}

/// Whether any element of a list is about it.
fn any<T>(list: Option<&Vec<T>>, about: impl Fn(&T) -> bool) -> bool {
    list.is_some_and(|list| list.iter().any(about))
}

/// Whether a reference is to it.
fn is(reference: &Option<String>, id: &str) -> bool {
    reference.as_deref() == Some(id)
}

fn wiring(project: &Project) -> Option<&Electrical> {
    project.electrical.as_ref()
}

fn own<'p>(project: &'p Project, id: &str) -> Option<&'p Equipment> {
    project.equipment.iter().flatten().find(|one| one.id == id)
}

const PANEL: Record = Record {
    list: "/electrical/panels",
    wanted: "the panel that it is: its bus, its main, its circuits",
    names: |project, id| any(wiring(project).and_then(|it| it.panels.as_ref()), |one| is(&one.equipment, id)),
};
const DISCONNECT: Record = Record {
    list: "/electrical/disconnects",
    wanted: "the disconnect that it is, and what it disconnects",
    names: |project, id| any(wiring(project).and_then(|it| it.disconnects.as_ref()), |one| is(&one.equipment, id)),
};
const SERVICE: Record = Record {
    list: "/electrical/services",
    wanted: "the service whose disconnect it holds",
    names: |project, id| any(wiring(project).and_then(|it| it.services.as_ref()), |one| is(&one.disconnect, id)),
};
const ANY_SERVICE: Record = Record {
    list: "/electrical/services",
    wanted: "the service that it measures",
    names: |project, _| any(wiring(project).and_then(|it| it.services.as_ref()), |_| true),
};
const TRANSFER: Record = Record {
    list: "/electrical/transfers",
    wanted: "the transfer equipment that it is: its sources and what it feeds",
    names: |project, id| any(wiring(project).and_then(|it| it.transfers.as_ref()), |one| is(&one.equipment, id)),
};
const INVERTER: Record = Record {
    list: "/electrical/inverters",
    wanted: "the inverter that it is: its output and what it feeds",
    names: |project, id| any(wiring(project).and_then(|it| it.inverters.as_ref()), |one| is(&one.equipment, id)),
};
const STORAGE: Record = Record {
    list: "/electrical/storage",
    wanted: "the storage system it is a unit of, and the energy it stores",
    names: |project, id| {
        let systems = wiring(project).and_then(|it| it.storage.as_ref());
        any(systems, |system| any(system.units.as_ref(), |unit| is(&unit.equipment, id)))
    },
};
const GENERATOR: Record = Record {
    list: "/electrical/generators",
    wanted: "the generator that it is: its power and how it is connected",
    names: |project, id| any(wiring(project).and_then(|it| it.generators.as_ref()), |one| is(&one.equipment, id)),
};
const SOLAR: Record = Record {
    list: "/electrical/solar",
    wanted: "the solar array that it is",
    names: |project, id| any(wiring(project).and_then(|it| it.solar.as_ref()), |one| is(&one.equipment, id)),
};
const LOAD: Record = Record {
    list: "/electrical/loads",
    wanted: "the load that it is",
    names: |project, id| any(wiring(project).and_then(|it| it.loads.as_ref()), |one| is(&one.equipment, id)),
};
const CIRCUIT: Record = Record {
    list: "/electrical/panels",
    wanted: "the circuit that serves it",
    names: |project, id| {
        let serves = |circuit: &Circuit| circuit.serves.iter().flatten().any(|served| served == id);
        any(wiring(project).and_then(|it| it.panels.as_ref()), |panel| any(panel.circuits.as_ref(), serves))
    },
};
const ON_ITSELF: Record = Record {
    list: "./electrical",
    wanted: "what it draws",
    names: |project, id| own(project, id).is_some_and(|one| one.electrical.is_some()),
};
const PULL_BOX: Record = Record {
    list: "/electrical/boxes",
    wanted: "the box that it is, and what enters it",
    names: |project, id| any(wiring(project).and_then(|it| it.boxes.as_ref()), |one| is(&one.equipment, id)),
};
const DRAIN: Record = Record {
    list: "/drainage/drains",
    wanted: "the drain that it is or empties into: its trap and its pipe",
    names: |project, id| any(project.drainage.as_ref().and_then(|it| it.drains.as_ref()), |one| is(&one.equipment, id)),
};
const DRAINAGE_PUMP: Record = Record {
    list: "/drainage/pumps",
    wanted: "the pump that it is, or that stands in it",
    names: |project, id| any(project.drainage.as_ref().and_then(|it| it.pumps.as_ref()), |one| is(&one.equipment, id)),
};
const EXHAUST: Record = Record {
    list: "/exhausts",
    wanted: "the air that it draws out, and where the air goes",
    names: |project, id| any(project.exhausts.as_ref(), |one| is(&one.equipment, id)),
};
const MECHANICAL_AIR: Record = Record {
    list: "/spaces",
    wanted: "the space it supplies with air to burn, under `combustion_air`",
    names: |project, id| {
        let supplied = |space: &Space| {
            space.combustion_air.as_ref().and_then(|air| air.mechanical.as_ref()).is_some_and(|fan| is(&fan.equipment, id))
        };
        any(project.spaces.as_ref(), supplied)
    },
};
const PRESSURE_TANK: Record = Record {
    list: "/water/sources",
    wanted: "the source of water whose pressure tank it is",
    names: |project, id| any(project.water.as_ref().and_then(|it| it.sources.as_ref()), |one| is(&one.pressure_tank, id)),
};
const CISTERN: Record = Record {
    list: "/water/sources",
    wanted: "the source of water that it is",
    names: |project, id| any(project.water.as_ref().and_then(|it| it.sources.as_ref()), |one| is(&one.cistern, id)),
};
const WELL_PUMP: Record = Record {
    list: "/water/sources",
    wanted: "the source of water whose pump it is",
    names: |project, id| any(project.water.as_ref().and_then(|it| it.sources.as_ref()), |one| is(&one.pump, id)),
};
const ON_PUMP: Record = Record {
    list: "./pump",
    wanted: "what it pumps",
    names: |project, id| own(project, id).is_some_and(|one| one.pump.is_some()),
};
const TREATMENT: Record = Record {
    list: "/water/treatment",
    wanted: "its place among the treatment, in the order the water meets it",
    names: |project, id| any(project.water.as_ref().and_then(|it| it.treatment.as_ref()), |one| is(&one.equipment, id)),
};
const FIXTURE: Record = Record {
    list: "/water/fixtures",
    wanted: "the fixture that it is: its supply, its drain, its protection against backflow",
    names: |project, id| {
        let kind = own(project, id).map(|one| one.kind);
        any(project.water.as_ref().and_then(|it| it.fixtures.as_ref()), |one| match one.kind {
            FixtureKind::ClothesWasher => kind == Some(EquipmentKind::ClothesWasher),
            FixtureKind::Dishwasher => kind == Some(EquipmentKind::Dishwasher),
            _ => false,
        })
    },
};
const GAS_SUPPLY: Record = Record {
    list: "/gas/supply",
    wanted: "the gas supply that it measures",
    names: |project, _| project.gas.as_ref().is_some_and(|gas| gas.supply.is_some()),
};
const GAS_NODE: Record = Record {
    list: "/gas/nodes",
    wanted: "the node of the piping that it is, and the pipes at it",
    names: |project, _| any(project.gas.as_ref().and_then(|it| it.nodes.as_ref()), |one| one.kind == GasNodeKind::Manifold),
};
const GAS_REGULATOR: Record = Record {
    list: "/gas/regulators",
    wanted: "the regulator that it is: its pressures and where it breathes",
    names: |project, _| any(project.gas.as_ref().and_then(|it| it.regulators.as_ref()), |_| true),
};
const GAS_CONTAINER: Record = Record {
    list: "/gas/containers",
    wanted: "the container that it is, whether it is indoors, and how far it is from the building",
    names: |project, _| any(project.gas.as_ref().and_then(|it| it.containers.as_ref()), |_| true),
};
const TANK: Record = Record {
    list: "./tank",
    wanted: "the water it holds under pressure",
    names: |project, id| own(project, id).is_some_and(|one| one.tank.is_some()),
};
const SUPPLY_OF_WATER: Record = Record {
    list: "/water/valves",
    wanted: "the backflow preventer that serves it, or `[]`",
    names: |project, _| project.water.as_ref().is_some_and(|water| water.valves.is_some()),
};
