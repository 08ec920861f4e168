//! Water: sources, treatment, pipes, valves, fixtures.

use super::{Point, WaterValve};
use crate::quantity::{Concentration, Length, Position, Pressure, Temperature, ThermalResistance, VolumeFlow};

words! {
    /// Where water comes from.
    WaterSourceKind {
        /// A public main.
        PublicMain "public-main",
        /// A drilled well.
        DrilledWell "drilled-well",
        /// A dug or driven well.
        ShallowWell "shallow-well",
        /// A spring.
        Spring "spring",
        /// A cistern that is filled from a roof.
        RainwaterCistern "rainwater-cistern",
        /// A cistern that is filled by truck.
        HauledWater "hauled-water",
        /// A system several houses share.
        SharedSystem "shared-system",
    }
}

record! {
    /// A source of water.
    WaterSource("water-source"): WaterSourceKind {
        /// Whether its water may be drunk.
        potable: bool;
        /// Highest pressure of the day while nothing runs.
        static_pressure: Pressure, like "60 psi";
        /// Pressure while water runs.
        residual_pressure: Pressure;
        /// The flow at that pressure.
        residual_flow: VolumeFlow as descriptive;
        /// Flow it can sustain.
        sustained_flow: VolumeFlow, like "8 gpm";
        /// Lowest temperature of the water.
        temperature: Temperature;
        /// Hardness.
        hardness: Concentration, like "18 gpg";
        /// Whether chlorine is in it.
        chlorinated: bool;
        /// Iron.
        iron: Concentration, like "2 ppm";
        /// How acid it is, as pH.
        ph: f64, like 6.8;
        /// The pump.
        pump: String => "equipment";
        /// The pressure tank.
        pressure_tank: String => "equipment";
        /// The cistern.
        cistern: String => "equipment";
        /// Pressure at which the pump starts.
        pump_on: Pressure, like "40 psi";
        /// Pressure at which the pump stops.
        pump_off: Pressure, like "60 psi";
        /// Whether a valve keeps it apart from every other source.
        cross_connection_protected: bool;
        /// Nominal size of the water meter.
        meter_size: Length, like "3/4 in";
        /// Pressure lost in the water meter at the greatest flow.
        meter_pressure_drop: Pressure;
    }
}

record! {
    /// A device in the order the water meets it.
    TreatmentStep("treatment-step") {
        /// The device.
        equipment: String => "equipment";
        /// Whether water can be led past it.
        bypass: bool;
        /// Whether there is a gauge before and behind it.
        gauges: bool;
        /// Pressure lost in it, clean, at the design flow.
        pressure_drop: Pressure;
        /// Whether it stands between the pump and the pressure switch.
        before_pressure_switch: bool;
    }
}

words! {
    /// What a water pipe is made of.
    WaterPipeMaterial {
        /// Copper tube, type K.
        CopperK "copper-k",
        /// Copper tube, type L.
        CopperL "copper-l",
        /// Copper tube, type M.
        CopperM "copper-m",
        /// Cross-linked polyethylene.
        Pex "pex",
        /// Polyethylene of raised temperature.
        PeRt "pe-rt",
        /// Chlorinated polyvinyl chloride.
        Cpvc "cpvc",
        /// Polyvinyl chloride.
        Pvc "pvc",
        /// Polyethylene.
        Polyethylene "polyethylene",
        /// Galvanized steel.
        GalvanizedSteel "galvanized-steel",
        /// Stainless steel.
        StainlessSteel "stainless-steel",
        /// Something else.
        Other "other",
    }
}

words! {
    /// What a water pipe is.
    WaterPipeKind {
        /// From the source to the building.
        Service "service",
        /// Cold water in the building.
        Cold "cold",
        /// A manifold, from which each outlet has a line of its own.
        Manifold "manifold",
        /// Hot water.
        Hot "hot",
        /// Hot water on its way back.
        Recirculation "recirculation",
        /// Water that is not to be drunk.
        Nonpotable "nonpotable",
        /// Water of a heating system.
        Hydronic "hydronic",
    }
}

words! {
    /// What keeps a pipe from freezing.
    FreezeProtection {
        /// Insulation.
        Insulation "insulation",
        /// Heat, such as a listed heating cable.
        HeatTracing "heat-tracing",
        /// Both.
        InsulationAndHeat "insulation-and-heat",
        /// It is drained for the winter.
        DrainedForWinter "drained-for-winter",
        /// Nothing.
        None "none",
    }
}

record! {
    /// A water pipe.
    WaterPipe("water-pipe"): WaterPipeKind {
        /// The pipe it branches from.
        from: String => "water-pipe";
        /// What it is made of.
        material: WaterPipeMaterial;
        /// Nominal size.
        size: Length, like "1 in";
        /// Inside diameter.
        inside_diameter: Length;
        /// Length.
        length: Length;
        /// Equivalent length of its fittings.
        fittings_length: Length;
        /// How much it rises.
        rise: Position;
        /// Insulation.
        insulation: ThermalResistance;
        /// The spaces it goes through.
        spaces: Vec<String> => "space";
        /// Depth of earth over it.
        burial_depth: Length;
        /// Whether it lies under the floor slab.
        under_slab: bool;
        /// Whether it runs where it can freeze.
        can_freeze: bool;
        /// What keeps it from freezing.
        freeze_protection: FreezeProtection;
        /// Greatest distance between its supports where it runs level.
        support_spacing: Length;
        /// Greatest distance between its supports where it runs upright.
        upright_support_spacing: Length;
        /// The water heater a hot pipe begins at.
        heater: String => "equipment";
        /// The line it follows in plan.
        line: Vec<Point>;
        /// Height above the floor.
        height: Length;
    }
}

words! {
    /// What water is used at.
    FixtureKind {
        /// A bathtub, with or without a shower.
        Bathtub "bathtub",
        /// A shower.
        Shower "shower",
        /// A lavatory.
        Lavatory "lavatory",
        /// A water closet.
        WaterCloset "water-closet",
        /// A bidet.
        Bidet "bidet",
        /// A kitchen sink.
        KitchenSink "kitchen-sink",
        /// A bar sink.
        BarSink "bar-sink",
        /// A dishwasher.
        Dishwasher "dishwasher",
        /// A clothes washer.
        ClothesWasher "clothes-washer",
        /// A laundry tub.
        LaundryTub "laundry-tub",
        /// A hose bibb.
        HoseBibb "hose-bibb",
        /// Irrigation.
        Irrigation "irrigation",
    }
}

words! {
    /// What keeps water at a fixture from scalding.
    ScaldProtection {
        /// A valve that balances pressure.
        PressureBalance "pressure-balance",
        /// A thermostatic valve.
        Thermostatic "thermostatic",
        /// Both in one.
        Combination "combination",
        /// A tempering valve before it.
        Tempering "tempering",
        /// Nothing.
        None "none",
    }
}

record! {
    /// Fixtures of one sort.
    Fixture("fixture"): FixtureKind {
        /// The dwelling unit.
        dwelling_unit: String => "dwelling-unit";
        /// The space.
        space: String => "space";
        /// How many.
        count: u32;
        /// Flow of one.
        flow: VolumeFlow;
        /// Pressure needed at it.
        pressure: Pressure;
        /// Height above the source.
        rise: Position;
        /// What keeps its water from scalding.
        scald_protection: ScaldProtection;
        /// The standard that device is listed to.
        scald_standard: String, like "ASSE 1016";
        /// Whether a tub has a shower over it.
        with_shower: bool;
        /// Whether a stop of its own shuts off each of its supply pipes; a valve that serves it says so too.
        stop_valves: bool;
        /// The hottest it can get.
        maximum_temperature: Temperature;
        /// How many of them run at one time at most.
        simultaneous: u32;
        /// Whether its water is softened.
        softened: bool;
        /// The drain it empties into.
        drain: String => "drain";
        /// The pipe its cold water comes through.
        cold_pipe: String => "water-pipe";
        /// The pipe its hot water comes through.
        hot_pipe: String => "water-pipe";
        /// What keeps its water from flowing back.
        backflow: BackflowProtection;
    }
}

words! {
    /// What keeps used water at a fixture from flowing back into the supply.
    BackflowProtection {
        /// Its outlet ends clear above the rim.
        AirGap "air-gap",
        /// A vacuum breaker, in the fixture or at its connection.
        VacuumBreaker "vacuum-breaker",
        /// A preventer on the supply; the valve says which.
        Preventer "preventer",
        /// It is built into the listed fixture.
        Integral "integral",
        /// Nothing.
        None "none",
    }
}

words! {
    /// How hot water is kept moving.
    RecirculationControl {
        /// When somebody asks for it.
        OnDemand "on-demand",
        /// By temperature or time.
        Automatic "automatic",
        /// All the time.
        Continuous "continuous",
        /// By itself, without a pump.
        Thermosiphon "thermosiphon",
    }
}

record! {
    /// Water.
    Water {
        /// Sources.
        sources: Vec<WaterSource>;
        /// Treatment devices in the order the water meets them.
        treatment: Vec<TreatmentStep>;
        /// Pipes.
        pipes: Vec<WaterPipe>;
        /// Valves, regulators and backflow preventers.
        valves: Vec<WaterValve>;
        /// Fixtures.
        fixtures: Vec<Fixture>;
        /// Whether these are all the fixtures of the building: none is left out of the list.
        fixtures_complete: bool;
        /// Greatest flow expected.
        design_flow: VolumeFlow;
        /// Greatest length from the source to a fixture.
        longest_length: Length;
        /// How hot water is kept moving.
        recirculation: RecirculationControl;
    }
}
