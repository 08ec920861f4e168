//! Wiring: services, feeders, disconnects, transfer, loads, grounding.

use super::{ConductorMaterial, Evidence, Generator, Inverter, Panel, PullBox, SolarArray, StorageSystem, Transfer};
use crate::quantity::{ApparentPower, Current, Duration, Length, Power, Ratio, Resistance, Voltage};

words! {
    /// How equipment is joined to the wiring.
    ConnectionKind {
        /// Wired in.
        Hardwired "hardwired",
        /// By cord and plug.
        CordAndPlug "cord-and-plug",
    }
}

record! {
    /// A motor.
    Motor {
        /// Power at its shaft.
        power: Power, like "1/2 hp";
        /// Current at full load.
        full_load_current: Current;
        /// Current while it stands still.
        locked_rotor_current: Current;
        /// Locked-rotor code letter.
        code_letter: String, like "M";
        /// Whether it starts softly.
        soft_start: bool;
        /// Share of its locked-rotor current that its soft start or its drive lets through.
        soft_start_share: Ratio, like "50 %";
        /// How long it takes to start.
        starting_time: Duration, like "0.5 s";
        /// Whether a drive changes its speed.
        variable_speed: bool;
    }
}

record! {
    /// What equipment draws from the wiring.
    ElectricalSupply {
        /// Rated voltage.
        voltage: Voltage, like "240 V";
        /// Greatest voltage to ground in it.
        voltage_to_ground: Voltage, like "120 V";
        /// Rated current.
        current: Current;
        /// Rated power.
        power: ApparentPower;
        /// Minimum circuit ampacity on the plate.
        minimum_circuit_ampacity: Current;
        /// Greatest overcurrent device on the plate.
        maximum_overcurrent: Current;
        /// Its circuit.
        circuit: String => "circuit";
        /// How it is joined.
        connection: ConnectionKind;
        /// Its disconnect.
        disconnect: String => "disconnect";
        /// Its motor, or the largest of them.
        motor: Motor;
        /// Whether somebody may have to work on it while it is live.
        serviced_energized: bool;
        /// Whether it can only be reached live behind a dead front.
        dead_front: bool;
        /// Height of its highest breaker handle or switch above the floor.
        highest_handle: Length;
        /// Whether it holds breakers or fuses, where its kind does not say so.
        overcurrent_devices: bool;
        /// Whether it hangs over the steps of a stairway.
        over_steps: bool;
        /// How far its door or hinged cover opens.
        door_opens: crate::quantity::Angle, like "90 deg";
        /// The side of the hinges of its door, seen by somebody who faces it.
        door_hinges: super::Hand;
        /// Width of its door leaf, where it is not as wide as the equipment.
        door_width: Length;
        /// Whether the space as wide and deep as it, below it and above it, is kept free of pipes, ducts and whatever else does
        /// not belong to the wiring.
        dedicated_space_clear: bool;
    }
}

record! {
    /// A set of conductors.
    ConductorSet {
        /// Size of each.
        size: String, like "4/0 AWG";
        /// What they are made of.
        material: ConductorMaterial;
        /// Insulation.
        insulation: String, like "THWN-2";
        /// Sets in parallel.
        parallel: u32;
        /// Ampacity, where it was worked out.
        ampacity: Current;
        /// Temperature rating of the terminals.
        terminal_rating: crate::quantity::Temperature, like "75 C";
    }
}

words! {
    /// The system of a service.
    SystemKind {
        /// 120/240 V, single phase, three wires.
        SplitPhase120240 "split-phase-120-240",
        /// 208Y/120 V.
        Wye208120 "wye-208-120",
        /// 480Y/277 V.
        Wye480277 "wye-480-277",
    }
}

record! {
    /// The disconnect outdoors that firefighters use.
    EmergencyDisconnect {
        /// Whether there is one; `false` says that there is none.
        present: bool;
        /// Whether one can get at it at once, from outdoors.
        readily_accessible: bool;
        /// Whether it is marked.
        marked: bool;
    }
}

record! {
    /// An electrical service.
    ElectricalService("service"): SystemKind {
        /// The dwelling unit it serves.
        dwelling_unit: String => "dwelling-unit";
        /// Rating.
        rating: Current, like "200 A";
        /// Available fault current.
        fault_current: Current, like "10 kA";
        /// Whether a surge-protective device is at the service equipment or beside it.
        surge_protection: bool;
        /// The equipment that holds its disconnect.
        disconnect: String => "equipment";
        /// The disconnect outdoors.
        emergency_disconnect: EmergencyDisconnect;
        /// Its conductors.
        conductors: ConductorSet;
        /// Load worked out.
        calculated_load: ApparentPower;
        /// Floor area its load calculation covers, by the outside dimensions.
        floor_area: crate::quantity::Area;
        /// Small-appliance circuits it carries.
        small_appliance_circuits: u32;
        /// Laundry circuits it carries.
        laundry_circuits: u32;
        /// Zones of electric heat it carries that are controlled apart from each other.
        heating_zones: u32;
        /// The calculation.
        calculation: Evidence;
    }
}

record! {
    /// A feeder.
    Feeder("feeder") {
        /// Where it comes from.
        from: String => ["service", "panel", "transfer", "inverter", "generator"];
        /// Where it goes.
        to: String => ["panel", "transfer", "disconnect"];
        /// Its overcurrent device.
        overcurrent: Current;
        /// Its conductors.
        conductors: ConductorSet;
        /// Its raceway.
        raceway: String => "raceway";
        /// Its length.
        length: Length;
    }
}

record! {
    /// A disconnect.
    Disconnect("disconnect") {
        /// The equipment that is the disconnect.
        equipment: String => "equipment";
        /// What it disconnects.
        serves: Vec<String> => ["equipment", "storage-system", "solar-array"];
        /// Distance to what it disconnects.
        distance: Length;
        /// Whether it can be seen from there.
        within_sight: bool;
        /// Whether it can be locked open.
        lockable: bool;
        /// Whether it is outdoors.
        outdoors: bool;
        /// Whether one can get at it at once.
        readily_accessible: bool;
        /// What is written on it.
        marking: String;
        /// Rating.
        rating: Current;
    }
}

words! {
    /// What a load is for: a load calculation counts each purpose in its own way.
    LoadPurpose {
        /// Lights and receptacles of general circuits, small-appliance and laundry circuits: the floor area and the circuits count.
        General "general",
        /// An appliance fastened in place or on a circuit of its own; water heaters and pumps too.
        Appliance "appliance",
        /// Cooking.
        Cooking "cooking",
        /// A clothes dryer.
        ClothesDryer "clothes-dryer",
        /// Electric space heating.
        SpaceHeating "space-heating",
        /// Blowers, burners and circulators of heating that burns fuel.
        HeatingAuxiliary "heating-auxiliary",
        /// Air conditioning.
        AirConditioning "air-conditioning",
        /// The compressor of a heat pump.
        HeatPump "heat-pump",
        /// Electric heat that runs with a heat pump.
        SupplementalHeat "supplemental-heat",
        /// Electric thermal storage.
        ThermalStorage "thermal-storage",
        /// Charging of electric vehicles.
        VehicleCharging "vehicle-charging",
    }
}

words! {
    /// The leg of a 120/240 V source a load hangs on.
    Leg {
        /// The first.
        A "a",
        /// The second.
        B "b",
        /// Both: it runs at 240 V.
        Both "both",
    }
}

record! {
    /// A load.
    Load("load") {
        /// What it is.
        name: String;
        /// What it is for.
        purpose: LoadPurpose;
        /// The leg it hangs on.
        leg: Leg;
        /// The equipment that draws it.
        equipment: String => "equipment";
        /// Nameplate load.
        nameplate: ApparentPower;
        /// Power while it runs.
        running: Power;
        /// Apparent power while it starts.
        starting: ApparentPower;
        /// Share of the time it runs.
        duty: Ratio;
        /// Share of each hour of the day it runs, from midnight, where one share of the day does not say enough.
        hourly_duty: Vec<Ratio>;
        /// Whether it must not be shed to make the stored energy last.
        essential: bool;
        /// How many there are.
        count: u32;
        /// Whether it runs for three hours or more.
        continuous: bool;
        /// Whether it runs from the standby source.
        backed_up: bool;
        /// Whether it is fastened in place.
        fastened_in_place: bool;
        /// Loads of one group never run together.
        noncoincident_group: String;
        /// Its motor.
        motor: Motor;
    }
}

words! {
    /// By which rule the standby source is large enough.
    CapacityBasis {
        /// It carries the whole load that is transferred.
        FullLoad "full-load",
        /// Load management keeps the load below a set point.
        LoadManagement "load-management",
        /// It carries the largest single load.
        LargestLoad "largest-load",
        /// It carries what the owner means to run at one time.
        SelectedLoads "selected-loads",
    }
}

words! {
    /// How motors start when the standby source takes over.
    StartOrder {
        /// One after the other, by delays or by their own controls.
        Staggered "staggered",
        /// All at once.
        Simultaneous "simultaneous",
    }
}

record! {
    /// What the standby system is meant to do.
    Standby {
        /// By which rule its source is large enough.
        basis: CapacityBasis;
        /// How long it should last.
        runtime: Duration, like "24 h";
        /// Floor area its load calculation covers.
        floor_area: crate::quantity::Area;
        /// Small-appliance circuits it carries.
        small_appliance_circuits: u32;
        /// Laundry circuits it carries.
        laundry_circuits: u32;
        /// Zones of electric heat it carries that are controlled apart from each other.
        heating_zones: u32;
        /// How its motors start.
        starts: StartOrder;
        /// Hour of the day, 0 to 23, at which the outage begins that it is judged for.
        outage_begins: u32;
        /// Signs at the service that name its sources.
        signs_posted: bool;
    }
}

words! {
    /// A grounding electrode.
    ElectrodeKind {
        /// A metal underground water pipe.
        WaterPipe "water-pipe",
        /// A concrete-encased electrode.
        ConcreteEncased "concrete-encased",
        /// A rod.
        Rod "rod",
        /// A plate.
        Plate "plate",
        /// A ground ring.
        Ring "ring",
        /// Structural metal in the ground.
        StructuralMetal "structural-metal",
        /// Gas pipe, which is never an electrode.
        GasPipe "gas-pipe",
    }
}

record! {
    /// A grounding electrode.
    Electrode: ElectrodeKind {
        /// Its length in the ground or concrete.
        length: Length;
        /// Distance to the next.
        spacing: Length;
        /// Its resistance to ground.
        resistance: Resistance;
        /// Size of the conductor to it.
        conductor_size: String, like "4 AWG";
    }
}

record! {
    /// Grounding and bonding.
    Grounding {
        /// The electrodes.
        electrodes: Vec<Electrode>;
        /// Whether any water pipe in the building is metal; `false` says that all of it is plastic.
        metal_water_pipe: bool;
        /// Whether a terminal for the bonds of telephone, antenna and cable is at the service.
        intersystem_termination: bool;
        /// Whether metal water pipe is bonded.
        water_pipe_bonded: bool;
        /// Size of the conductor that bonds it.
        water_bond_size: String, like "4 AWG";
        /// Whether a jumper bridges the meter, the filters and the softener.
        bridged_at_treatment: bool;
        /// Where neutral and ground are joined.
        neutral_bonds: Vec<String> => ["service", "panel", "generator", "inverter", "transfer"];
    }
}

record! {
    /// The wiring.
    Electrical {
        /// Services.
        services: Vec<ElectricalService>;
        /// Panels.
        panels: Vec<Panel>;
        /// Feeders.
        feeders: Vec<Feeder>;
        /// Disconnects.
        disconnects: Vec<Disconnect>;
        /// Transfer equipment.
        transfers: Vec<Transfer>;
        /// Generators and their inlets.
        generators: Vec<Generator>;
        /// Inverters.
        inverters: Vec<Inverter>;
        /// Energy storage systems.
        storage: Vec<StorageSystem>;
        /// Solar arrays.
        solar: Vec<SolarArray>;
        /// Pull boxes and junction boxes.
        boxes: Vec<PullBox>;
        /// Loads.
        loads: Vec<Load>;
        /// Whether these are all the loads of the building: none is left out of the list.
        loads_complete: bool;
        /// What the standby system is meant to do.
        standby: Standby;
        /// Grounding and bonding.
        grounding: Grounding;
        /// Receptacles outdoors, on the building or near it.
        outdoor_receptacles: Vec<super::Receptacle>;
    }
}
