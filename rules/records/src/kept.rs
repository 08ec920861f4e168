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

fn own<'p>(project: &'p Project, id: &str) -> Option<&'p Equipment> {
    project.equipment.iter().flatten().find(|one| one.id == id)
}

/// Records that name equipment: the list they stand in, what is wanted there, and whether one of it is about the equipment of an id.
macro_rules! records {
    ($($name:ident: $part:ident $(. $list:ident)?, $wanted:literal, |$one:ident, $id:ident| $about:expr;)+) => {$(
        const $name: Record = Record {
            list: concat!("/", stringify!($part) $(, "/", stringify!($list))?),
            wanted: $wanted,
            names: |project, $id| any(project.$part.as_ref()$(.and_then(|part| part.$list.as_ref()))?, |$one| $about),
        };
    )+};
}

records! {
    PANEL: electrical.panels, "the panel that it is: its bus, its main, its circuits", |one, id| is(&one.equipment, id);
    DISCONNECT: electrical.disconnects, "the disconnect that it is, and what it disconnects", |one, id| is(&one.equipment, id);
    SERVICE: electrical.services, "the service whose disconnect it holds", |one, id| is(&one.disconnect, id);
    ANY_SERVICE: electrical.services, "the service that it measures", |_one, _id| true;
    TRANSFER: electrical.transfers, "the transfer equipment that it is: its sources and what it feeds", |one, id| is(&one.equipment, id);
    INVERTER: electrical.inverters, "the inverter that it is: its output and what it feeds", |one, id| is(&one.equipment, id);
    STORAGE: electrical.storage, "the storage system it is a unit of, and the energy it stores",
        |system, id| any(system.units.as_ref(), |unit| is(&unit.equipment, id));
    GENERATOR: electrical.generators, "the generator that it is: its power and how it is connected", |one, id| is(&one.equipment, id);
    SOLAR: electrical.solar, "the solar array that it is", |one, id| is(&one.equipment, id);
    LOAD: electrical.loads, "the load that it is", |one, id| is(&one.equipment, id);
    CIRCUIT: electrical.panels, "the circuit that serves it",
        |panel, id| any(panel.circuits.as_ref(), |circuit| circuit.serves.iter().flatten().any(|served| served == id));
    PULL_BOX: electrical.boxes, "the box that it is, and what enters it", |one, id| is(&one.equipment, id);
    DRAIN: drainage.drains, "the drain that it is or empties into: its trap and its pipe", |one, id| is(&one.equipment, id);
    DRAINAGE_PUMP: drainage.pumps, "the pump that it is, or that stands in it", |one, id| is(&one.equipment, id);
    EXHAUST: exhausts, "the air that it draws out, and where the air goes", |one, id| is(&one.equipment, id);
    MECHANICAL_AIR: spaces, "the space it supplies with air to burn, under `combustion_air`", |space, id| {
        let fan = space.combustion_air.as_ref().and_then(|air| air.mechanical.as_ref());
        fan.is_some_and(|fan| is(&fan.equipment, id))
    };
    PRESSURE_TANK: water.sources, "the source of water whose pressure tank it is", |one, id| is(&one.pressure_tank, id);
    CISTERN: water.sources, "the source of water that it is", |one, id| is(&one.cistern, id);
    WELL_PUMP: water.sources, "the source of water whose pump it is", |one, id| is(&one.pump, id);
    TREATMENT: water.treatment, "its place among the treatment, in the order the water meets it", |one, id| is(&one.equipment, id);
    GAS_NODE: gas.nodes, "the node of the piping that it is, and the pipes at it", |one, _id| one.kind == GasNodeKind::Manifold;
    GAS_REGULATOR: gas.regulators, "the regulator that it is: its pressures and where it breathes", |_one, _id| true;
    GAS_CONTAINER: gas.containers, "the container that it is, whether it is indoors, and how far it is from the building", |_one, _id| true;
}

/// What is said of the equipment itself.
macro_rules! on_itself {
    ($($name:ident: $part:ident, $wanted:literal;)+) => {$(
        const $name: Record = Record {
            list: concat!("./", stringify!($part)),
            wanted: $wanted,
            names: |project, id| own(project, id).is_some_and(|one| one.$part.is_some()),
        };
    )+};
}

on_itself! {
    ON_ITSELF: electrical, "what it draws";
    ON_PUMP: pump, "what it pumps";
    TANK: tank, "the water it holds under pressure";
}

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
const SUPPLY_OF_WATER: Record = Record {
    list: "/water/valves",
    wanted: "the backflow preventer that serves it, or `[]`",
    names: |project, _| project.water.as_ref().is_some_and(|water| water.valves.is_some()),
};
