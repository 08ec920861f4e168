//! Drainage: drains and their traps, pipes, what is discharged, pumps.

use super::{FreezeProtection, IndirectWaste, Point};
use crate::quantity::{Area, Duration, Length, Position, Slope, Volume, VolumeFlow};

words! {
    /// What a drain is.
    DrainKind {
        /// A floor drain.
        FloorDrain "floor-drain",
        /// A floor sink.
        FloorSink "floor-sink",
        /// A hub drain.
        HubDrain "hub-drain",
        /// A standpipe.
        Standpipe "standpipe",
        /// A laundry tub.
        LaundryTub "laundry-tub",
        /// A sink.
        Sink "sink",
        /// A sump.
        Sump "sump",
        /// A sump that takes rain or ground water.
        StormSump "storm-sump",
        /// A dry well or another place in the ground.
        DryWell "dry-well",
        /// The open air.
        Outdoors "outdoors",
    }
}

words! {
    /// What a trap looks like.
    TrapKind {
        /// A P-trap.
        P "p",
        /// An S-trap.
        S "s",
        /// A bell trap.
        Bell "bell",
        /// A drum trap.
        Drum "drum",
        /// There is none.
        None "none",
    }
}

words! {
    /// What keeps a trap from drying out.
    TrapProtection {
        /// A primer fed with drinking water.
        PotablePrimer "potable-primer",
        /// A primer fed with waste water.
        WastePrimer "waste-primer",
        /// A barrier in the drain.
        Barrier "barrier",
        /// A deep seal.
        DeepSeal "deep-seal",
        /// Something drains into it often.
        RegularUse "regular-use",
        /// Nothing.
        None "none",
    }
}

record! {
    /// A trap and the pipe from it to its vent.
    Trap: TrapKind {
        /// Nominal size.
        size: Length, like "2 in";
        /// Depth of its seal.
        seal: Length;
        /// What keeps it from drying out.
        protection: TrapProtection;
        /// Elevation of its weir, from the floor.
        weir: Position;
        /// Height from the drain's outlet down to the weir.
        outlet_to_weir: Length;
        /// Distance sideways from the drain's outlet to the weir.
        outlet_to_weir_sideways: Length;
        /// Nominal size of the trap arm.
        arm_size: Length;
        /// Length of the trap arm to its vent.
        arm_length: Length;
        /// Slope of the trap arm.
        arm_slope: Slope;
        /// Whether it is vented.
        vented: bool;
        /// Whether it hangs on a combination waste and vent system, where the pipe behind it is its vent.
        combination_waste_and_vent: bool;
    }
}

record! {
    /// A drain or another receptor.
    Drain("drain"): DrainKind {
        /// The equipment that is the drain, where its body matters.
        equipment: String => "equipment";
        /// The space it is in.
        space: String => "space";
        /// Where its middle is, in plan.
        at: Point;
        /// Nominal size of its outlet.
        outlet_size: Length;
        /// Diameter of its strainer.
        strainer_diameter: Length;
        /// Open area of its strainer.
        strainer_open_area: Area;
        /// Whether its strainer comes off.
        strainer_removable: bool;
        /// Elevation of its rim, from the floor of the space.
        rim: Position;
        /// Whether one can get at it.
        accessible: bool;
        /// Height of a standpipe above its trap weir.
        above_weir: Length;
        /// Its trap.
        trap: Trap;
        /// The pipe it drains into.
        pipe: String => "drain-pipe";
    }
}

words! {
    /// What a drainage pipe is.
    DrainPipeKind {
        /// From a trap to its vent.
        TrapArm "trap-arm",
        /// From one fixture.
        FixtureDrain "fixture-drain",
        /// A horizontal branch of a stack.
        Branch "branch",
        /// A branch of the building drain.
        BuildingDrainBranch "building-drain-branch",
        /// A stack.
        Stack "stack",
        /// The building drain.
        BuildingDrain "building-drain",
        /// The building sewer.
        BuildingSewer "building-sewer",
        /// A condensate drain.
        Condensate "condensate",
        /// The discharge of a pump.
        PumpDischarge "pump-discharge",
        /// Rain or ground water.
        Storm "storm",
    }
}

words! {
    /// What a drainage pipe is made of.
    DrainPipeMaterial {
        /// Polyvinyl chloride.
        PolyvinylChloride "polyvinyl-chloride",
        /// Acrylonitrile butadiene styrene.
        Abs "abs",
        /// Cast iron.
        CastIron "cast-iron",
        /// Copper.
        Copper "copper",
        /// Galvanized steel.
        GalvanizedSteel "galvanized-steel",
        /// Something else.
        Other "other",
    }
}

record! {
    /// A drainage pipe.
    DrainPipe("drain-pipe"): DrainPipeKind {
        /// The pipe it empties into.
        into: String => "drain-pipe";
        /// Nominal size.
        size: Length;
        /// Inside diameter, where its size and material do not give it.
        inside_diameter: Length;
        /// What it is made of.
        material: DrainPipeMaterial;
        /// Length.
        length: Length;
        /// Invert at its upper end, from the building's datum.
        upper_invert: Position;
        /// Invert at its lower end, from the building's datum.
        lower_invert: Position;
        /// Slope, where no inverts are given.
        slope: Slope, like "1/4 in/ft";
        /// Drainage fixture units from what is not described.
        fixture_units: f64;
        /// Whether a water closet drains into it.
        carries_water_closet: bool;
        /// Greatest distance between its hangers.
        support_spacing: Length;
        /// Whether a blockage can be cleared without cutting it.
        clearable: bool;
        /// Distances of its cleanouts from its upper end.
        cleanouts: Vec<Length>;
        /// Clearance in front of the nearest cleanout.
        cleanout_clearance: Length;
        /// Whether a cleanout stands where a building drain meets the building sewer.
        cleanout_at_junction: bool;
        /// The spaces it goes through.
        spaces: Vec<String> => "space";
        /// The line it follows in plan.
        line: Vec<Point>;
        /// Height above the floor.
        height: Length;
        /// Whether it runs where it can freeze.
        can_freeze: bool;
        /// What keeps it from freezing.
        freeze_protection: FreezeProtection;
    }
}

words! {
    /// What is discharged.
    DischargeKind {
        /// Backwash of a filter or softener.
        Backwash "backwash",
        /// The whole regeneration of a softener.
        Regeneration "regeneration",
        /// Condensate.
        Condensate "condensate",
        /// A relief valve.
        Relief "relief",
        /// The relief port of a backflow preventer.
        BackflowRelief "backflow-relief",
        /// The waste of reverse osmosis.
        ReverseOsmosisWaste "reverse-osmosis-waste",
        /// A pan.
        Pan "pan",
        /// A clothes washer.
        ClothesWasher "clothes-washer",
        /// A drained boiler or tank.
        TankDrain "tank-drain",
        /// What a pump lifts out of a sump.
        PumpOut "pump-out",
    }
}

record! {
    /// One step of a discharge.
    DischargeStep {
        /// Flow.
        flow: VolumeFlow, like "2.4 gpm";
        /// How long.
        duration: Duration;
    }
}

record! {
    /// Water that equipment lets go.
    Discharge("discharge"): DischargeKind {
        /// The equipment.
        equipment: String => "equipment";
        /// Where it goes.
        drain: String => "drain";
        /// Greatest flow.
        flow: VolumeFlow;
        /// Volume of one discharge.
        volume: Volume;
        /// How long one lasts.
        duration: Duration;
        /// Its steps, in order.
        steps: Vec<DischargeStep>;
        /// How acid it is, as pH.
        ph: f64, like 4.0;
        /// Discharges of one group never run together.
        exclusive_group: String;
        /// Whether it bypasses the septic tank.
        bypasses_septic: bool;
    }
}

record! {
    /// A pump that lifts waste or ground water.
    DrainagePump("drainage-pump") {
        /// The equipment that is the pump.
        equipment: String => "equipment";
        /// The sump it stands in.
        sump: String => "drain";
        /// Diameter or least width of the sump.
        sump_diameter: Length;
        /// Depth of the sump.
        sump_depth: Length;
        /// Flow at its head.
        flow: VolumeFlow;
        /// Whether it lifts sewage.
        sewage: bool;
        /// Whether it grinds what it lifts.
        grinder: bool;
        /// Whether its sump is sealed and vented.
        sealed: bool;
        /// Whether a check valve is in its discharge.
        check_valve: bool;
        /// Whether a full-open valve is in its discharge.
        shutoff_valve: bool;
        /// The pipe it pumps into.
        pipe: String => "drain-pipe";
    }
}

record! {
    /// Drainage.
    Drainage {
        /// Drains and other receptors.
        drains: Vec<Drain>;
        /// Pipes.
        pipes: Vec<DrainPipe>;
        /// Pipes that end above a receptor.
        indirect: Vec<IndirectWaste>;
        /// What is discharged.
        discharges: Vec<Discharge>;
        /// Whether these are all the discharges of the building: none is left out of the list.
        discharges_complete: bool;
        /// Pumps.
        pumps: Vec<DrainagePump>;
    }
}
