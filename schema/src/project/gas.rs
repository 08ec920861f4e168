//! Fuel gas: the supply and the piping as a graph of nodes and segments.

use super::{Fuel, GasConnector, GasContainer, GasRegulator, GasValve, Point, SedimentTrap};
use crate::quantity::{Duration, HeatingValue, Length, Position, Power, Pressure, VolumeFlow};

words! {
    /// What delivers the gas.
    GasSupplyKind {
        /// A meter of the gas utility.
        Meter "meter",
        /// A second-stage regulator behind containers on the site.
        SecondStageRegulator "second-stage-regulator",
        /// A regulator that holds both stages.
        IntegralTwoStageRegulator "integral-two-stage-regulator",
        /// A system that brings two pounds per square inch into the building.
        TwoPoundSystem "two-pound-system",
    }
}

record! {
    /// The gas supply, at the point of delivery.
    GasSupply: GasSupplyKind {
        /// The gas.
        fuel: Fuel;
        /// Who supplies it.
        supplier: String;
        /// Heat it gives per volume, as delivered here.
        heating_value: HeatingValue;
        /// Its density over that of air.
        specific_gravity: f64, like 0.6;
        /// Pressure at the point of delivery while nothing burns.
        pressure: Pressure, like "7 in wc";
        /// Least pressure the supplier guarantees there.
        pressure_minimum: Pressure;
        /// Greatest pressure there.
        pressure_maximum: Pressure;
        /// Whether it carries more than 0.3 grain of hydrogen sulfide in 100 ft³, which attacks copper.
        corrosive: bool;
        /// Drop of pressure the piping is designed for.
        allowable_drop: Pressure, like "0.5 in wc";
        /// The node of the piping where it delivers.
        node: String => "gas-node";
    }
}

words! {
    /// What a node of the piping is.
    GasNodeKind {
        /// The point of delivery.
        PointOfDelivery "point-of-delivery",
        /// A tee.
        Tee "tee",
        /// A manifold.
        Manifold "manifold",
        /// A regulator.
        Regulator "regulator",
        /// A change of size or material.
        Transition "transition",
        /// An outlet.
        Outlet "outlet",
        /// A capped end.
        Cap "cap",
    }
}

words! {
    /// How an appliance is joined to its outlet.
    ApplianceConnection {
        /// By rigid pipe with a union or a flange.
        Union "union",
        /// By a flexible connector.
        FlexibleConnector "flexible-connector",
        /// By corrugated tubing.
        CorrugatedTubing "corrugated-tubing",
        /// By semirigid tubing.
        SemirigidTubing "semirigid-tubing",
        /// By a quick-disconnect device.
        QuickDisconnect "quick-disconnect",
        /// By a gas hose.
        Hose "hose",
        /// By rigid pipe that cannot be taken apart.
        RigidWithoutUnion "rigid-without-union",
    }
}

record! {
    /// A node of the gas piping.
    GasNode("gas-node"): GasNodeKind {
        /// The space it is in.
        space: String => "space";
        /// Where it is, in plan.
        at: Point;
        /// Its elevation, from the building's datum.
        elevation: Position;
        /// The appliance an outlet feeds.
        equipment: String => "equipment";
        /// How the appliance is joined to an outlet.
        connection: ApplianceConnection;
        /// The regulator that is here.
        regulator: String => "gas-regulator";
        /// Whether an outlet without an appliance is closed gas-tight by a plug or cap.
        closed: bool;
        /// Load an outlet is meant for while no appliance stands at it.
        load: Power, like "60,000 Btu/h";
    }
}

words! {
    /// What a gas pipe is made of.
    GasPipeMaterial {
        /// Steel, Schedule 40.
        SteelSchedule40 "steel-schedule-40",
        /// Steel, Schedule 10.
        SteelSchedule10 "steel-schedule-10",
        /// Corrugated stainless steel tubing.
        CorrugatedStainlessSteel "corrugated-stainless-steel",
        /// Copper tube, type K.
        CopperK "copper-k",
        /// Copper tube, type L.
        CopperL "copper-l",
        /// Copper tube, type ACR.
        CopperAcr "copper-acr",
        /// Aluminum.
        Aluminum "aluminum",
        /// Polyethylene.
        Polyethylene "polyethylene",
        /// Polyvinyl chloride, which is not for fuel gas.
        PolyvinylChloride "polyvinyl-chloride",
        /// Something else.
        Other "other",
    }
}

words! {
    /// A fitting.
    FittingKind {
        /// A 45 degree elbow.
        Elbow45 "elbow-45",
        /// A 90 degree elbow.
        Elbow90 "elbow-90",
        /// A tee, straight through.
        TeeRun "tee-run",
        /// A tee, through its branch.
        TeeBranch "tee-branch",
        /// A return bend.
        ReturnBend "return-bend",
        /// A coupling.
        Coupling "coupling",
        /// A union.
        Union "union",
        /// A bushing.
        Bushing "bushing",
        /// A compression or flared coupling.
        TubingFitting "tubing-fitting",
        /// A valve.
        Valve "valve",
        /// A bend of a flexible tube.
        Bend "bend",
    }
}

record! {
    /// Fittings of one kind.
    Fitting: FittingKind {
        /// How many.
        count: u32;
        /// Equivalent length of one, where the maker states it.
        equivalent_length: Length;
        /// Whether they are concealed.
        concealed: bool;
        /// Whether they are listed to be concealed.
        listed_for_concealment: bool;
    }
}

record! {
    /// One capacity of a sizing table.
    GasCapacity {
        /// Nominal size it is printed for.
        nominal_size: Length;
        /// Equivalent hydraulic diameter number it is printed for.
        equivalent_hydraulic_diameter: u32, like 25;
        /// Length it is printed for.
        length: Length, like "20 ft";
        /// What it carries, as heat.
        heat: Power, like "120,000 Btu/h";
        /// What it carries, as a flow of gas.
        flow: VolumeFlow, like "120 cfh";
    }
}

record! {
    /// A sizing table that is not the code's: of the maker of a listed piping system, or a printed table the designer used.
    GasSizingTable("gas-sizing-table") {
        /// Where it is printed.
        document: String;
        /// Whose pipe it is for.
        maker: String;
        /// What the pipe is made of.
        material: GasPipeMaterial;
        /// The gas.
        fuel: Fuel;
        /// Pressure at the start of the piping it is for.
        pressure: Pressure, like "7 in wc";
        /// Drop of pressure it allows.
        drop: Pressure, like "0.5 in wc";
        /// Bends of each run that it has in it already.
        bends_included: u32, like 4;
        /// Length that each further bend adds.
        length_per_bend: Length;
        /// Its capacities.
        capacities: Vec<GasCapacity>;
    }
}

words! {
    /// A place gas pipe should not run.
    GasPipeRoute {
        /// In a duct.
        InDuct "in-duct",
        /// In a chimney or vent.
        InChimney "in-chimney",
        /// In a shaft for an elevator, dumbwaiter or clothes.
        InShaft "in-shaft",
        /// Through another dwelling unit.
        ThroughOtherUnit "through-other-unit",
        /// Through a room set aside for batteries.
        ThroughBatteryRoom "through-battery-room",
        /// In the ground.
        Underground "underground",
        /// Over a roof or along an outside wall.
        Outdoors "outdoors",
        /// In the ground under a building.
        UnderBuilding "under-building",
        /// In the open in a crawl space.
        InCrawlSpace "in-crawl-space",
        /// In a solid floor.
        InSolidFloor "in-solid-floor",
        /// In a wall, floor or ceiling.
        Concealed "concealed",
        /// In the open, indoors.
        Exposed "exposed",
    }
}

words! {
    /// How lengths of gas pipe are joined.
    GasJoint {
        /// By threads.
        Threaded "threaded",
        /// By welding.
        Welded "welded",
        /// By brazing.
        Brazed "brazed",
        /// By press-connect fittings.
        PressConnect "press-connect",
        /// By flares or the maker's own fittings.
        Mechanical "mechanical",
        /// By heat fusion.
        HeatFusion "heat-fusion",
    }
}

record! {
    /// A length of gas pipe between two nodes.
    GasSegment("gas-segment") {
        /// The node it comes from.
        from: String => "gas-node";
        /// The node it goes to.
        to: String => "gas-node";
        /// What it is made of.
        material: GasPipeMaterial;
        /// Nominal size.
        nominal_size: Length, like "3/4 in";
        /// Inside diameter, where it is not a listed size.
        inside_diameter: Length;
        /// Equivalent hydraulic diameter number of corrugated tubing.
        equivalent_hydraulic_diameter: u32, like 25;
        /// Who made it.
        maker: String;
        /// The sizing table that belongs to it.
        sizing_table: String => "gas-sizing-table";
        /// Measured length.
        length: Length, like "20 ft";
        /// Its fittings.
        fittings: Vec<Fitting>;
        /// Pressure in it while nothing burns.
        pressure: Pressure;
        /// The spaces it runs through.
        spaces: Vec<String> => "space";
        /// How it runs.
        routes: Vec<GasPipeRoute>;
        /// The line it follows in plan.
        line: Vec<Point>;
        /// Height above the floor.
        height: Length;
        /// Whether it stands upright for its whole length.
        vertical: bool;
        /// How its lengths are joined.
        joint: GasJoint;
        /// Greatest distance between supports.
        support_spacing: Length;
        /// Greatest distance between supports its maker allows.
        maker_support_spacing: Length;
        /// Whether each floor it passes supports it.
        supported_at_floors: bool;
        /// Depth of earth over it.
        burial_depth: Length;
        /// Height above the ground or roof it runs over.
        above_grade: Length;
        /// Distance from the nearest edge of the framing it goes through.
        edge_distance: Length;
        /// Whether steel plates shield it there.
        shielded: bool;
        /// Thickness of those plates.
        plate_thickness: Length, like "0.0575 in";
        /// How far those plates reach past the framing.
        plate_extension: Length, like "4 in";
        /// Whether coating, zinc or wrapping made for its place keeps it from corroding.
        corrosion_protected: bool;
        /// Whether it lies in a casing that is sealed indoors and open to the outdoors, or in a covered channel.
        vented_casing: bool;
        /// Greatest distance between its labels; none said means nothing is known.
        label_spacing: Length;
        /// Whether its labels state the pressure.
        label_states_pressure: bool;
        /// Whether its jacket is listed as resistant to arcs.
        arc_resistant_jacket: bool;
        /// Whether a tracer wire runs with it.
        tracer_wire: bool;
        /// Whether it was there before this work.
        existing: bool;
    }
}

words! {
    /// Where the bonding jumper is attached.
    BondAttachment {
        /// To rigid pipe.
        RigidPipe "rigid-pipe",
        /// To a brass fitting of corrugated tubing.
        TubingFitting "tubing-fitting",
        /// To the corrugated tubing itself.
        Tubing "tubing",
        /// To the manifold.
        Manifold "manifold",
    }
}

record! {
    /// The bond of the gas piping to the grounding electrode system.
    GasBonding {
        /// Whether there is one; `false` says that there is none.
        present: bool;
        /// Size of the jumper.
        conductor_size: String, like "6 AWG";
        /// Length of the jumper.
        length: Length;
        /// Where it is attached.
        attached_to: BondAttachment;
        /// Whether that is behind the point of delivery, on the building's own piping.
        behind_delivery: bool;
        /// Whether its clamp is listed.
        clamp_listed: bool;
        /// Whether it reaches the grounding electrode system.
        to_electrode_system: bool;
        /// Whether the gas piping itself serves as a grounding electrode.
        used_as_electrode: bool;
    }
}

words! {
    /// What the piping was filled with for its test.
    TestMedium {
        /// Air.
        Air "air",
        /// Nitrogen.
        Nitrogen "nitrogen",
        /// Carbon dioxide.
        CarbonDioxide "carbon-dioxide",
        /// Fuel gas.
        FuelGas "fuel-gas",
        /// Oxygen, which is never allowed.
        Oxygen "oxygen",
        /// Water.
        Water "water",
    }
}

record! {
    /// The pressure test of a piping system.
    PressureTest {
        /// Test pressure.
        pressure: Pressure, like "3 psi";
        /// How long it held.
        duration: Duration, like "10 min";
        /// Greatest reading of the gauge.
        gauge_range: Pressure;
        /// What the piping was filled with.
        medium: TestMedium;
        /// Whether the joints could be seen.
        joints_exposed: bool;
        /// Whether appliances were isolated or taken off.
        appliances_isolated: bool;
        /// Who was there, and when.
        evidence: super::Evidence;
    }
}

words! {
    /// Where the gas goes when piping is purged.
    PurgeDischarge {
        /// To the outdoors.
        Outdoors "outdoors",
        /// Through a burner that is lit.
        LitBurner "lit-burner",
        /// Indoors, watched with a gas detector.
        IndoorsWatched "indoors-watched",
        /// Indoors, by nose.
        IndoorsUnwatched "indoors-unwatched",
    }
}

record! {
    /// How piping is purged.
    GasPurge {
        /// Where the gas goes.
        discharge: PurgeDischarge;
        /// Who did it, and when.
        evidence: super::Evidence;
    }
}

words! {
    /// How the piping was sized.
    GasSizingMethod {
        /// By the longest length.
        LongestLength "longest-length",
        /// By the length of each branch.
        BranchLength "branch-length",
        /// By sections of different pressure.
        HybridPressure "hybrid-pressure",
        /// By an engineer.
        Engineered "engineered",
    }
}

record! {
    /// Fuel gas in the building.
    Gas {
        /// The supply.
        supply: GasSupply;
        /// Containers on the site.
        containers: Vec<GasContainer>;
        /// Regulators.
        regulators: Vec<GasRegulator>;
        /// Nodes of the piping.
        nodes: Vec<GasNode>;
        /// Whether these are all the outlets and branches of the piping: none is left out of the list.
        nodes_complete: bool;
        /// Pipes between nodes.
        segments: Vec<GasSegment>;
        /// Valves.
        valves: Vec<GasValve>;
        /// Sediment traps.
        traps: Vec<SedimentTrap>;
        /// Flexible connectors.
        connectors: Vec<GasConnector>;
        /// Sizing tables other than the code's.
        sizing_tables: Vec<GasSizingTable>;
        /// How the piping was sized.
        sizing: GasSizingMethod;
        /// The calculation, where an engineer sized it or diversity was approved.
        sizing_evidence: super::Evidence;
        /// The bond to the grounding electrode system.
        bonding: GasBonding;
        /// The check for leaks with the gas turned on, after the work.
        leak_check: super::Evidence;
        /// The pressure test.
        test: PressureTest;
        /// How it was, or will be, purged.
        purge: GasPurge;
    }
}
