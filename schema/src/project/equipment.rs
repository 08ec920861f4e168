//! Equipment: everything that stands, hangs or is set in the room, as a body and as what it does.

use super::{
    Boiler, ClearanceProtection, Clearances, ElectricalSupply, EquipmentKind, Footprint, FuelBurning, Listing, Placement, Pump,
    Relief, Side, Tank, Treatment, WaterHeating,
};
use crate::quantity::{Length, Mass, Power, Pressure, Velocity, Volume, VolumeFlow};

words! {
    /// How it is held.
    Mounting {
        /// It stands on the floor.
        Floor "floor",
        /// It stands on a platform or pad.
        Platform "platform",
        /// It hangs on a wall.
        Wall "wall",
        /// It is set in a wall.
        Recessed "recessed",
        /// It hangs from above.
        Suspended "suspended",
        /// It stands on the roof.
        Roof "roof",
        /// It stands on the ground outside.
        Ground "ground",
    }
}

record! {
    /// Room a part needs to be pulled out or opened.
    Pull {
        /// What is pulled: filter, drawer, coil, anode, blower, door.
        part: String, like "filter";
        /// The side it comes out of.
        side: Side;
        /// How far it must come.
        distance: Length;
        /// How wide the part is.
        width: Length;
        /// How high the part is.
        height: Length;
        /// Height of the part above the underside of the equipment.
        base: Length;
    }
}

record! {
    /// The largest piece that must be carried out when the equipment is replaced.
    LargestPart {
        /// Width.
        width: Length;
        /// Depth.
        depth: Length;
        /// Height.
        height: Length;
        /// Weight.
        weight: Mass;
        /// Its shape seen from above.
        footprint: Footprint;
    }
}

record! {
    /// What service, inspection and removal need.
    Service {
        /// The sides that must be reached.
        sides: Vec<Side>;
        /// Depth of the service space the instructions ask for.
        depth: Length;
        /// Width of the service space the instructions ask for.
        width: Length;
        /// Parts that are pulled out or opened.
        pulls: Vec<Pull>;
        /// The largest piece that must be carried out.
        largest_part: LargestPart;
        /// Whether reaching it means taking away permanent construction or other equipment.
        blocked_by_construction: bool;
    }
}

words! {
    /// What keeps vehicles off.
    VehicleProtection {
        /// A bollard or rail.
        Barrier "barrier",
        /// A wheel stop.
        WheelStop "wheel-stop",
        /// It stands where no vehicle comes.
        OutOfPath "out-of-path",
        /// It is mounted above vehicles.
        Raised "raised",
        /// Nothing.
        None "none",
    }
}

record! {
    /// A strap or other brace against earthquakes.
    SeismicStrap {
        /// Height above the equipment's underside.
        height: Length;
    }
}

words! {
    /// What a pan is made of.
    PanMaterial {
        /// Galvanized steel.
        GalvanizedSteel "galvanized-steel",
        /// Aluminum.
        Aluminum "aluminum",
        /// Plastic.
        Plastic "plastic",
    }
}

record! {
    /// A pan under equipment that may leak.
    Pan {
        /// What it is made of.
        material: PanMaterial;
        /// Thickness of the material.
        thickness: Length;
        /// Inside width, or diameter.
        width: Length;
        /// Inside depth in plan.
        length: Length;
        /// Height of its rim.
        depth: Length, like "1 1/2 in";
        /// Nominal size of its drain; none said means nothing is known.
        drain_size: Length;
        /// Whether it has a drain.
        drained: bool;
        /// The drain its pipe ends at.
        drains_to: String => "drain";
        /// Height of its pipe's end above the ground, where it ends outdoors.
        outdoor_end_height: Length;
        /// Whether the pan it replaces, or the heater without a pan, had a drain.
        had_drain: bool;
        /// Whether its plastic is listed with a flame spread of 25 and smoke developed of 450 at most.
        flame_rated: bool;
        /// Whether a water-level device in it stops the equipment.
        shuts_off: bool;
    }
}

record! {
    /// Air that equipment moves.
    AirMoving {
        /// Air it moves.
        flow: VolumeFlow;
        /// Outdoor air it supplies.
        outdoor_air: VolumeFlow;
        /// Air it exhausts.
        exhaust_air: VolumeFlow as descriptive;
        /// External static pressure it is rated at.
        static_pressure: Pressure;
        /// How many filters lie side by side in the flow; 1 unless said.
        filters: u32, like 1;
        /// Greatest face velocity the filter's label allows.
        filter_velocity: Velocity, like "300 ft/min";
        /// Whether the filter can be pulled without taking anything else away.
        filter_accessible: bool;
        /// Filter face width.
        filter_width: Length;
        /// Filter face height.
        filter_height: Length;
        /// Whether its cabinet and filter slot are sealed.
        sealed: bool;
    }
}

record! {
    /// Condensate that equipment makes.
    Condensate {
        /// How much.
        flow: VolumeFlow, like "0.8 gph";
        /// Whether it is acid, as from a condensing burner.
        acid: bool;
        /// Whether it is neutralized.
        neutralized: bool;
        /// Input the neutralizer is rated for.
        neutralizer_rating: Power;
        /// Whether one can get at the neutralizer to refill it.
        neutralizer_accessible: bool;
        /// The drain pipe that carries it away.
        pipe: String => "drain-pipe";
        /// The drain it ends at.
        drain: String => "drain";
        /// Whether its drain is trapped at the equipment.
        trapped: bool;
        /// Depth of that trap.
        trap_depth: Length;
        /// Suction of the fan at the drain outlet, where the coil is drawn through.
        suction: Pressure, like "0.5 in wc";
        /// What keeps an overflow from doing damage.
        overflow_protection: OverflowProtection;
        /// Nominal size of the second drain, or of the drain of the pan under the equipment.
        overflow_size: Length;
        /// Whether that drain ends where it is noticed at once.
        overflow_conspicuous: bool;
        /// Whether the second drain begins higher than the first.
        overflow_above_primary: bool;
        /// Whether its water-level device is listed and stops the equipment.
        device_listed: bool;
        /// Whether a pump lifts it.
        pumped: bool;
        /// Whether an overflow would damage the building.
        overflow_would_damage: bool;
        /// Whether failure of its pump stops the equipment.
        pump_stops_equipment: bool;
    }
}

words! {
    /// What keeps an overflow of condensate from doing damage.
    OverflowProtection {
        /// A pan with a drain of its own to a conspicuous place.
        PanWithDrain "pan-with-drain",
        /// A second drain of the equipment's own pan.
        SecondDrain "second-drain",
        /// A pan without a drain, with a water-level device.
        PanWithDevice "pan-with-device",
        /// A water-level device in the equipment.
        Device "device",
        /// Nothing.
        None "none",
    }
}

record! {
    /// A piece of equipment.
    Equipment("equipment"): EquipmentKind {
        /// What people call it.
        name: String as descriptive;
        /// Who made it.
        maker: String as descriptive;
        /// The maker's model.
        model: String as descriptive;
        /// The space it is in; outdoor equipment leaves it out and says `outdoors`.
        space: String => "space";
        /// Whether it stands outdoors.
        outdoors: bool;
        /// Whether it was there before this work.
        existing: bool;
        /// Where it stands and how large it is.
        placement: Placement;
        /// How it is held.
        mounting: Mounting;
        /// Its weight, filled.
        weight: Mass;
        /// Its listing.
        listing: Listing;
        /// Clearances to combustible material its label asks for.
        label_clearances: Clearances;
        /// Clearances to combustible material its label asks for in an alcove or closet, where those differ.
        closet_clearances: Clearances;
        /// Whether its instructions allow clearances to be reduced by protection.
        reduction_allowed: bool;
        /// What protects combustible material near it, so that it may stand closer; an empty list says that nothing does.
        protections: Vec<ClearanceProtection>;
        /// Whether its outside can burn, as a wooden shelf or a plastic tank can.
        combustible: bool;
        /// Clearances it has in the room, where positions do not give them.
        room_clearances: Clearances;
        /// What service and removal need.
        service: Service;
        /// What keeps vehicles off.
        vehicle_protection: VehicleProtection;
        /// Straps against earthquakes.
        seismic_straps: Vec<SeismicStrap>;
        /// Whether its surface is metal joined to earth, as a grounded jacket is.
        grounded_surface: bool;
        /// Whether it burns fuel; `false` says that it burns nothing, as an electric furnace does.
        burns_fuel: bool;
        /// What it burns and how.
        fuel_burning: FuelBurning;
        /// What it draws from the wiring.
        electrical: ElectricalSupply;
        /// Heat it gives to a room or to water, after losses.
        heating_output: Power;
        /// Heat it takes from a room.
        cooling_capacity: Power;
        /// Air it moves.
        air_moving: AirMoving;
        /// Condensate it makes.
        condensate: Condensate;
        /// Water it heats.
        water_heating: WaterHeating;
        /// The boiler it is and the system it heats.
        boiler: Boiler;
        /// Water it holds under pressure.
        tank: Tank;
        /// Water it treats.
        treatment: Treatment;
        /// What it pumps.
        pump: Pump;
        /// Its relief valves.
        relief: Vec<Relief>;
        /// The pan under it.
        pan: Pan;
        /// Water it holds.
        water_volume: Volume;
        /// Its flood-level rim above the floor, where water stands open in it.
        flood_rim: Length as descriptive;
    }
}
