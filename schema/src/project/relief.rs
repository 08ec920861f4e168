//! Pipes that end above a receptor, and relief valves.

use super::{DischargeKind, WaterPipeMaterial};
use crate::quantity::{Angle, Length, Position, Power, Pressure, Slope, Temperature};

words! {
    /// How an indirect pipe ends.
    GapKind {
        /// Clear of the receptor's rim.
        AirGap "air-gap",
        /// Inside the receptor, below its rim, but above its trap seal.
        AirBreak "air-break",
        /// Joined to the drain.
        Direct "direct",
    }
}

record! {
    /// A pipe or tube that ends above a receptor.
    IndirectWaste("indirect-waste") {
        /// The equipment it comes from.
        equipment: String => "equipment";
        /// The receptor it ends above.
        drain: String => "drain";
        /// What runs out of it.
        carries: DischargeKind;
        /// Nominal size.
        size: Length;
        /// Inside diameter of its end.
        inside_diameter: Length, like "1/2 in";
        /// Length sideways.
        horizontal_length: Length;
        /// Length along it.
        length: Length;
        /// Whether it is trapped.
        trapped: bool;
        /// How it ends.
        gap: GapKind;
        /// Height of its end above the receptor's rim.
        air_gap: Length, like "1 in";
        /// Elevation of its end, from the floor of the space, where the gap is not measured.
        end: Position;
        /// Distance of its end from the nearest wall.
        wall_distance: Length;
        /// Whether its end is fastened.
        secured: bool;
        /// Slope.
        slope: Slope;
        /// How high it climbs above the equipment's outlet.
        lift: Length;
    }
}

words! {
    /// What a relief valve answers to.
    ReliefKind {
        /// Temperature and pressure.
        TemperatureAndPressure "temperature-and-pressure",
        /// Pressure.
        Pressure "pressure",
        /// Vacuum.
        Vacuum "vacuum",
    }
}

words! {
    /// Where a relief pipe ends.
    ReliefEnd {
        /// Above the floor.
        Floor "floor",
        /// In the pan under the heater.
        Pan "pan",
        /// Above a receptor.
        Receptor "receptor",
        /// Outdoors.
        Outdoors "outdoors",
        /// It ends nowhere: there is no pipe.
        None "none",
    }
}

record! {
    /// The pipe from a relief valve.
    ReliefPipe {
        /// What it is made of.
        material: WaterPipeMaterial;
        /// Nominal size.
        size: Length, like "3/4 in";
        /// Where it ends.
        ends_at: ReliefEnd;
        /// The receptor it ends above.
        drain: String => "drain";
        /// Height of its end above the floor or rim.
        end_height: Length, like "4 in";
        /// Least slope along it; nothing or less means that it does not drain.
        slope: Slope;
        /// Whether it is trapped.
        trapped: bool;
        /// Whether its end is threaded.
        threaded_end: bool;
        /// Whether a valve or tee is in it.
        has_valve_or_tee: bool;
        /// Whether it serves this valve alone.
        serves_one_valve: bool;
        /// Whether it has an air gap in the room of the appliance.
        air_gap_in_room: bool;
        /// Whether its end is seen at once.
        visible_end: bool;
        /// Sum of its turns.
        turns: Angle;
        /// Whether its end is fastened.
        secured: bool;
        /// Whether what comes out could damage the building, as on a floor above finished rooms.
        could_damage: bool;
    }
}

record! {
    /// A relief valve.
    Relief("relief-valve"): ReliefKind {
        /// Pressure it opens at.
        pressure: Pressure, like "150 psi";
        /// Temperature it opens at.
        temperature: Temperature, like "210 F";
        /// Heat it can carry off.
        capacity: Power;
        /// Nominal size of its outlet.
        outlet_size: Length, like "3/4 in";
        /// Whether its probe is in the top 6 in of the tank.
        in_top_of_tank: bool;
        /// Whether a valve stands between it and what it protects.
        valve_before_it: bool;
        /// The pipe from it.
        pipe: ReliefPipe;
    }
}
