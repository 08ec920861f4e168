//! Standby and stored energy: generators, inverters, storage systems, solar arrays.

use super::{Evidence, Listing};
use crate::quantity::{
    Angle, ApparentPower, Area, Charge, Current, Duration, Energy, Length, Power, Ratio, Temperature, Voltage, VolumeFlow,
};

words! {
    /// What a generator is.
    GeneratorKind {
        /// It stays where it is.
        Stationary "stationary",
        /// It is carried or wheeled in and plugged into an inlet.
        Portable "portable",
    }
}

record! {
    /// A generator.
    Generator("generator"): GeneratorKind {
        /// The equipment that is the generator.
        equipment: String => "equipment";
        /// The equipment that is its inlet.
        inlet: String => "equipment";
        /// Rated power.
        power: Power;
        /// Rated current.
        current: Current;
        /// Whether its neutral is joined to its frame.
        neutral_bonded: bool;
        /// Whether it runs outdoors.
        outdoors: bool;
        /// Distance to the nearest door, window or vent of a building, where positions do not give it.
        to_opening: Length, like "6 ft";
        /// Whether it can be shut down from outdoors.
        outdoor_shutdown: bool;
        /// Whether its inlet has the sign that says how the neutral is joined.
        inlet_sign: bool;
        /// Ampacity of the conductors to the first overcurrent device.
        conductor_ampacity: Current;
        /// Whether the design of its overcurrent protection keeps it from overloading those conductors.
        overload_prevented: bool;
        /// Apparent power it can give while a motor starts.
        starting: ApparentPower;
        /// Power with which it charges the batteries beside the loads it carries.
        charging_power: Power;
        /// Share of the usable energy left at which it is started.
        starts_at_charge: Ratio;
        /// Share of the usable energy at which it is stopped.
        stops_at_charge: Ratio;
        /// Hours of the day, 0 to 23, in which it is run; all of them where nothing is said.
        hours: Vec<u32>;
        /// How long its fuel lasts.
        fuel_lasts: Duration, like "8 h";
    }
}

words! {
    /// Where a source is joined.
    InterconnectionKind {
        /// To a bus behind the service disconnect.
        LoadSide "load-side",
        /// Before the service disconnect.
        SupplySide "supply-side",
        /// To nothing: it runs alone.
        StandAlone "stand-alone",
    }
}

record! {
    /// An inverter.
    Inverter("inverter") {
        /// The equipment that is the inverter.
        equipment: String => "equipment";
        /// Its listing.
        listing: Listing;
        /// Continuous output current.
        output_current: Current, like "32 A";
        /// Continuous output.
        output: ApparentPower, like "7.6 kVA";
        /// Output it can give for a short time.
        surge: ApparentPower;
        /// How long it can give that.
        surge_duration: Duration;
        /// Locked-rotor current it can start.
        locked_rotor_capability: Current;
        /// Whether it makes both 120 V and 240 V.
        split_phase: bool;
        /// Share of its output one leg can carry.
        leg_share: Ratio;
        /// Lowest dc voltage it works at.
        dc_voltage_minimum: Voltage;
        /// Greatest dc voltage in it.
        dc_voltage_maximum: Voltage;
        /// Efficiency.
        efficiency: Ratio;
        /// What it draws while nothing runs.
        idle: Power;
        /// Whether it can run in parallel with the utility.
        interactive: bool;
        /// Where it is joined.
        interconnection: InterconnectionKind;
        /// The panel it is joined to.
        panel: String => "panel";
        /// The circuit it is joined through.
        circuit: String => "circuit";
        /// Current a listed power control system holds it to.
        power_control_current: Current;
        /// Whether it joins neutral and ground while it runs as an island.
        neutral_bonded: bool;
        /// Its conductors to the batteries.
        dc_conductors: super::ConductorSet;
        /// The overcurrent device of those.
        dc_overcurrent: Current;
        /// Its continuous output at the highest temperature of its place, where that is less.
        output_when_hot: ApparentPower;
    }
}

words! {
    /// What stores the energy.
    Chemistry {
        /// Lithium iron phosphate.
        LithiumIronPhosphate "lithium-iron-phosphate",
        /// Another lithium-ion chemistry.
        LithiumIon "lithium-ion",
        /// Lead acid, vented.
        LeadAcidVented "lead-acid-vented",
        /// Lead acid, valve-regulated.
        LeadAcidValveRegulated "lead-acid-valve-regulated",
        /// Nickel iron or nickel cadmium.
        Nickel "nickel",
        /// Flow battery.
        Flow "flow",
        /// Something else.
        Other "other",
    }
}

record! {
    /// One listed unit of a storage system.
    StorageUnit("storage-unit") {
        /// The equipment that is the unit.
        equipment: String => "equipment";
        /// Energy on the plate.
        energy: Energy, like "14.2 kWh";
        /// Energy that can be used.
        usable_energy: Energy;
        /// Charge on the plate.
        charge: Charge;
        /// Distance to the next unit, where positions do not give it.
        to_next_unit: Length;
        /// Distance to the nearest door or window of the dwelling, where positions do not give it.
        to_opening: Length;
        /// Height of its underside above the floor.
        base: Length;
    }
}

words! {
    /// How a fire near stored energy is noticed.
    StorageDetection {
        /// By a smoke alarm that sounds with the others.
        SmokeAlarm "smoke-alarm",
        /// By a heat alarm or detector that sounds with the others.
        HeatAlarm "heat-alarm",
        /// By one that sounds alone.
        NotInterconnected "not-interconnected",
        /// Not at all.
        None "none",
    }
}

record! {
    /// An energy storage system.
    StorageSystem("storage-system") {
        /// Its listing as a system.
        listing: Listing;
        /// What stores the energy.
        chemistry: Chemistry;
        /// Whether it is listed and marked for use in habitable space of a dwelling.
        marked_for_habitable_space: bool;
        /// Whether live parts of it can be touched during routine maintenance.
        live_parts_accessible: bool;
        /// Its units.
        units: Vec<StorageUnit>;
        /// The inverter it works through.
        inverter: String => "inverter";
        /// Distance between units that a large-scale fire test allows.
        tested_spacing: Length;
        /// The report of that test.
        fire_test: Evidence;
        /// Greatest dc voltage to ground.
        voltage_to_ground: Voltage;
        /// Lowest temperature it may stand in.
        temperature_minimum: Temperature;
        /// Highest temperature it may stand in.
        temperature_maximum: Temperature;
        /// How a fire near it is noticed.
        detection: StorageDetection;
        /// Whether it makes gas that burns while it charges.
        gas_while_charging: bool;
        /// Ventilation of its room.
        ventilation: VolumeFlow;
        /// Whether it can be shut down from outdoors.
        outdoor_shutdown: bool;
        /// Its disconnect.
        disconnect: String => "disconnect";
        /// The record of its commissioning.
        commissioning: Evidence;
        /// Share of its energy it may give.
        depth_of_discharge: Ratio;
        /// Energy it holds back.
        reserve: Energy;
        /// Share of its energy left at the age it is judged for.
        health: Ratio;
        /// Share of its energy left at the lowest temperature of its place.
        cold_capacity: Ratio;
        /// Lowest temperature at which it may be charged.
        charging_temperature_minimum: Temperature;
        /// The most power it takes up.
        charging_limit: Power;
        /// The most power it gives.
        discharging_limit: Power;
        /// Share of what charges it that is stored.
        charging_efficiency: Ratio;
    }
}

record! {
    /// Solar modules that work together.
    SolarArray("solar-array") {
        /// The equipment that is the array.
        equipment: String => "equipment";
        /// Rated power.
        power: Power;
        /// Greatest dc voltage.
        dc_voltage: Voltage;
        /// Greatest dc current.
        dc_current: Current;
        /// Area.
        area: Area;
        /// Direction it faces, clockwise from true north.
        azimuth: Angle as descriptive;
        /// The inverter it works through.
        inverter: String => "inverter";
        /// The raceway its conductors run in.
        raceway: String => "raceway";
        /// Its output in each hour of the day, from midnight, in the season the standby system is judged for.
        hourly_output: Vec<Power>;
        /// Whether it is only prepared for.
        future: bool;
        /// Whether it is on or in a building; `false` says that it stands on the ground away from it.
        on_building: bool;
        /// Whether its conductors can be brought to a safe voltage from outdoors within seconds.
        rapid_shutdown: bool;
        /// Whether the label that says how is at the service equipment.
        rapid_shutdown_labelled: bool;
        /// The disconnect of its dc conductors.
        disconnect: String => "disconnect";
    }
}
