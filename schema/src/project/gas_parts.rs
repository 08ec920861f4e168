//! What sits in or beside the gas piping: valves, traps, connectors, regulators, containers.

use super::Point;
use crate::quantity::{Length, Power, Pressure, Volume};

words! {
    /// What a gas valve shuts off.
    GasValveKind {
        /// One appliance, beside it.
        Appliance "appliance",
        /// One appliance, at the manifold.
        AtManifold "at-manifold",
        /// A fireplace or other appliance, from afar.
        Remote "remote",
        /// A regulator.
        Regulator "regulator",
        /// The building.
        Building "building",
        /// A branch.
        Branch "branch",
    }
}

record! {
    /// A shutoff valve in the gas piping.
    GasValve("gas-valve"): GasValveKind {
        /// The pipe it is in.
        segment: String => "gas-segment";
        /// The appliance it shuts off.
        equipment: String => "equipment";
        /// The space it is in.
        space: String => "space";
        /// Where it is, in plan.
        at: Point;
        /// Nominal size.
        nominal_size: Length, like "1/2 in";
        /// Distance to the appliance along the pipe.
        distance: Length;
        /// Whether it is upstream of the union, connector or quick-disconnect.
        upstream_of_union: bool;
        /// Whether one can get at it.
        accessible: bool;
        /// Whether one can get at it without moving anything.
        readily_accessible: bool;
        /// Whether it says which appliance it serves.
        identified: bool;
        /// Whether it is outdoors.
        outdoors: bool;
    }
}

record! {
    /// A sediment trap at an appliance.
    SedimentTrap("sediment-trap") {
        /// The appliance.
        equipment: String => "equipment";
        /// Whether there is one; `false` says that there is none.
        present: bool;
        /// Whether it is built into the appliance.
        built_in: bool;
        /// Length of the capped nipple.
        nipple_length: Length;
        /// Whether the nipple stands in the bottom of the tee's run, so that the gas must turn.
        gas_turns: bool;
        /// Whether it is downstream of the shutoff valve.
        downstream_of_shutoff: bool;
        /// Whether it is upstream of the flexible connector.
        upstream_of_connector: bool;
        /// Distance to the appliance's inlet.
        distance: Length;
    }
}

words! {
    /// What a connector goes through.
    ConnectorPasses {
        /// A wall or partition.
        Wall "wall",
        /// A floor.
        Floor "floor",
        /// A ceiling.
        Ceiling "ceiling",
        /// A cabinet.
        Cabinet "cabinet",
        /// The housing of an appliance.
        ApplianceHousing "appliance-housing",
    }
}

record! {
    /// A flexible connector between pipe and appliance.
    GasConnector("gas-connector") {
        /// The appliance.
        equipment: String => "equipment";
        /// Whether it is listed.
        listed: bool;
        /// The standard it is listed to.
        standard: String;
        /// Its length along the centre.
        length: Length, like "3 ft";
        /// Nominal size.
        nominal_size: Length;
        /// Load it can carry, by its tag.
        capacity: Power;
        /// How many are joined in a row.
        in_series: u32;
        /// What it goes through; an empty list says nothing.
        passes_through: Vec<ConnectorPasses>;
        /// Whether the opening of a housing it goes through was made for it, with the maker's grommet.
        grommet: bool;
        /// Whether it is concealed.
        concealed: bool;
        /// Whether it was used before.
        reused: bool;
    }
}

words! {
    /// What a regulator does.
    GasRegulatorKind {
        /// First stage, at the container.
        FirstStage "first-stage",
        /// Second stage, at the building.
        SecondStage "second-stage",
        /// Both stages in one body.
        IntegralTwoStage "integral-two-stage",
        /// One stage for everything.
        SingleStage "single-stage",
        /// From medium to low pressure, in the piping.
        Line "line",
        /// In the appliance.
        Appliance "appliance",
        /// At the utility's meter.
        Service "service",
    }
}

words! {
    /// Where a regulator breathes.
    RegulatorVent {
        /// To the outdoors.
        Outdoors "outdoors",
        /// Through a listed vent limiter.
        VentLimiter "vent-limiter",
        /// Into the room.
        Indoors "indoors",
        /// Under the dome of the container.
        UnderDome "under-dome",
    }
}

words! {
    /// What keeps the pressure behind a regulator from rising too far when it fails.
    OverpressureProtection {
        /// A relief device.
        ReliefDevice "relief-device",
        /// A second regulator in series that takes over.
        MonitoringRegulator "monitoring-regulator",
        /// A regulator in series before it that always limits its inlet.
        SeriesRegulator "series-regulator",
        /// A device that shuts the gas off.
        AutomaticShutoff "automatic-shutoff",
        /// Nothing does.
        None "none",
    }
}

record! {
    /// A gas regulator.
    GasRegulator("gas-regulator"): GasRegulatorKind {
        /// The space it is in; one outdoors leaves it out and says `outdoors`.
        space: String => "space";
        /// Whether it is outdoors.
        outdoors: bool;
        /// Where it is, in plan.
        at: Point;
        /// Pressure before it.
        inlet_pressure: Pressure;
        /// Pressure behind it.
        outlet_pressure: Pressure;
        /// Least pressure before it at which it holds the pressure behind it while everything burns.
        inlet_pressure_minimum: Pressure;
        /// Drop of pressure the piping behind it is designed for.
        allowable_drop: Pressure, like "0.5 in wc";
        /// Load it can carry.
        capacity: Power;
        /// Whether it is listed to lock up when nothing burns.
        lockup: bool;
        /// Where it breathes.
        vents_to: RegulatorVent;
        /// Distance from its vent to the nearest opening of the building below it, horizontally.
        vent_to_opening: Length;
        /// Distance from its vent to the nearest source of ignition or air intake.
        vent_to_ignition_source: Length;
        /// Whether its vent points down and is screened.
        vent_protected: bool;
        /// Whether its vent is above the snow.
        above_snow: bool;
        /// Distance to the nearest union.
        union_distance: Length;
        /// Distance to the capped test tee behind it, in pipe diameters.
        test_tee_diameters: f64, like 10.0;
        /// Whether the appliance behind it has an inlet test port in the same room.
        test_port: bool;
        /// Whether a shutoff valve is before it.
        valve_upstream: bool;
        /// Whether a capped tee to measure the pressure is between that valve and it.
        tee_upstream: bool;
        /// What keeps the pressure behind it from rising too far when it fails.
        overpressure_protection: OverpressureProtection;
        /// Whether one can get at it.
        accessible: bool;
    }
}

words! {
    /// What a container for liquefied gas is.
    GasContainerKind {
        /// A tank built as a pressure vessel.
        Tank "tank",
        /// A cylinder.
        Cylinder "cylinder",
    }
}

record! {
    /// A container for liquefied gas on the site.
    GasContainer("gas-container"): GasContainerKind {
        /// How much water would fill it.
        water_capacity: Volume, like "500 gal";
        /// Whether it is in the ground.
        underground: bool;
        /// Whether it is inside a building.
        indoors: bool;
        /// Whether it is filled where it stands.
        filled_on_site: bool;
        /// Distance to the nearest building.
        to_building: Length;
        /// Distance to the nearest line of property that can be built on.
        to_property_line: Length;
        /// Distance to the next container.
        to_container: Length;
        /// Distance from its fill connection to the nearest source of ignition.
        fill_to_ignition_source: Length;
        /// Distance from its fill connection to the nearest air intake.
        fill_to_intake: Length;
        /// Distance from its relief valve to the nearest opening of the building below it, horizontally.
        relief_to_opening: Length;
        /// Where its middle is, in plan.
        at: Point;
        /// Whether posts or a place of its own keep vehicles off.
        protected_from_vehicles: bool;
    }
}
