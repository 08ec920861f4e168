//! Vents: connectors, the vent or chimney itself, the terminal and what is near it.

use super::{Beyond, Compass, Evidence, Point};
use crate::quantity::{Area, Length, Position, Slope};

words! {
    /// What a vent is.
    VentKind {
        /// A listed double-wall vent of type B.
        TypeB "type-b",
        /// A listed double-wall vent of type BW, for wall furnaces.
        TypeBw "type-bw",
        /// A listed vent of type L.
        TypeL "type-l",
        /// Single-wall metal pipe.
        SingleWall "single-wall",
        /// A masonry chimney.
        MasonryChimney "masonry-chimney",
        /// A factory-built chimney.
        FactoryBuiltChimney "factory-built-chimney",
        /// A chimney with a liner.
        LinedChimney "lined-chimney",
        /// A listed special gas vent.
        SpecialGasVent "special-gas-vent",
        /// Plastic pipe.
        Plastic "plastic",
        /// The vent and air intake of a direct-vent appliance.
        DirectVent "direct-vent",
    }
}

words! {
    /// What a vent or connector is made of.
    VentMaterial {
        /// Galvanized steel.
        GalvanizedSteel "galvanized-steel",
        /// Aluminum inside, galvanized steel outside.
        DoubleWall "double-wall",
        /// Stainless steel.
        StainlessSteel "stainless-steel",
        /// Polyvinyl chloride.
        PolyvinylChloride "polyvinyl-chloride",
        /// Chlorinated polyvinyl chloride.
        ChlorinatedPolyvinylChloride "chlorinated-polyvinyl-chloride",
        /// Polypropylene.
        Polypropylene "polypropylene",
        /// Acrylonitrile butadiene styrene.
        Abs "abs",
        /// Masonry.
        Masonry "masonry",
        /// Clay tile.
        ClayTile "clay-tile",
        /// Something else.
        Other "other",
    }
}

record! {
    /// The pipe from one appliance to the vent.
    VentConnector("vent-connector") {
        /// The appliance.
        equipment: String => "equipment";
        /// What it is made of.
        material: VentMaterial;
        /// Diameter.
        diameter: Length;
        /// Flow area, where it is not round.
        area: Area;
        /// Length along it.
        length: Length;
        /// How much it rises.
        rise: Length;
        /// Its slope up towards the vent.
        slope: Slope;
        /// Clearance to combustible material.
        clearance: Length;
        /// How many 90 degree elbows it has.
        elbows: u32;
        /// Whether it is insulated or double-wall.
        insulated: bool;
        /// The spaces it goes through.
        spaces: Vec<String> => "space";
        /// Whether it passes through a floor, a ceiling or a concealed space.
        concealed: bool;
        /// Whether its joints are fastened by screws, rivets or as its maker says.
        fastened: bool;
        /// Whether it is supported so that it neither sags nor comes apart.
        supported: bool;
        /// Whether a damper set by hand is in it.
        manual_damper: bool;
    }
}

words! {
    /// What is near a terminal.
    NearbyKind {
        /// A window that opens.
        OperableWindow "operable-window",
        /// A door.
        Door "door",
        /// An opening through which air falls in by itself.
        GravityInlet "gravity-inlet",
        /// An opening through which a fan draws air in.
        ForcedAirInlet "forced-air-inlet",
        /// The air intake of another appliance.
        CombustionAirIntake "combustion-air-intake",
        /// The vent terminal of another appliance.
        VentTerminal "vent-terminal",
        /// A dryer exhaust or another exhaust outlet.
        ExhaustOutlet "exhaust-outlet",
        /// A gas meter.
        GasMeter "gas-meter",
        /// The vent of a gas regulator.
        RegulatorVent "regulator-vent",
        /// The fill connection of a gas container.
        ContainerFill "container-fill",
        /// The relief valve of a gas container.
        ContainerRelief "container-relief",
        /// An electric meter or panel.
        ElectricalEquipment "electrical-equipment",
        /// A walkway.
        Walkway "walkway",
        /// A deck or porch.
        Deck "deck",
        /// An inside corner.
        InsideCorner "inside-corner",
        /// A soffit.
        Soffit "soffit",
        /// A vent in a soffit.
        SoffitVent "soffit-vent",
        /// An opening of a neighbouring building.
        NeighborOpening "neighbor-opening",
        /// The line of the property.
        PropertyLine "property-line",
        /// A roof, a wall or another thing it must rise above.
        Obstruction "obstruction",
    }
}

record! {
    /// Something near a terminal.
    Nearby: NearbyKind {
        /// Shortest distance.
        distance: Length;
        /// Distance sideways.
        horizontal: Length;
        /// Height of the terminal above it; below zero where the terminal is lower.
        vertical: Position;
        /// The opening, equipment or other element meant.
        element: String => ["opening", "equipment", "vent", "duct", "gas-regulator", "gas-container"];
    }
}

words! {
    /// Where a vent ends.
    TerminalKind {
        /// Above a roof.
        Roof "roof",
        /// Through a wall.
        Wall "wall",
        /// In an attic, which is never allowed.
        Attic "attic",
        /// Indoors, which is never allowed.
        Indoors "indoors",
    }
}

record! {
    /// Distances of its terminal that an appliance's instructions ask for.
    TerminalInstructions {
        /// To windows and doors that open, gravity inlets and the air intakes of other appliances.
        openings: Length;
        /// To openings through which a fan draws air in.
        forced_air_inlets: Length;
        /// To an inside corner.
        inside_corner: Length;
        /// Below a soffit without vents.
        soffit: Length;
        /// Below or beside a vent in a soffit.
        soffit_vent: Length;
        /// Below a deck or porch.
        below_deck: Length;
        /// To a gas meter, a regulator or its vent.
        meter: Length;
        /// To another terminal.
        terminals: Length;
        /// Above the ground and the snow to be expected.
        above_grade: Length;
        /// Above a public walkway.
        above_walkway: Length;
    }
}

record! {
    /// The end of a vent.
    VentTerminal: TerminalKind {
        /// Where it is, in plan.
        at: Point;
        /// Which way it blows.
        facing: Compass;
        /// Height above the ground.
        above_grade: Length;
        /// Height above the snow to be expected.
        above_snow: Length;
        /// Height above the roof, measured where it passes through.
        above_roof: Length;
        /// Slope of the roof.
        roof_slope: Slope, like "6 in/ft";
        /// Distance to the nearest wall it stands beside.
        wall_distance: Length;
        /// Whether it has a listed cap.
        listed_cap: bool;
        /// Distances the appliance's instructions ask for.
        instructions: TerminalInstructions;
        /// What is near it; an empty list says that nothing is.
        nearby: Vec<Nearby>;
    }
}

record! {
    /// The pipe that brings air to a direct-vent appliance.
    AirIntake {
        /// Where it ends.
        beyond: Beyond;
        /// What it is made of.
        material: VentMaterial;
        /// Diameter.
        diameter: Length;
        /// Length along it.
        length: Length;
        /// Height of its end above the ground.
        above_grade: Length;
        /// Height of its end above the insulation of an attic.
        above_insulation: Length;
        /// Clear width of its screen's mesh.
        screen_mesh: Length;
        /// Where it ends, in plan.
        at: Point;
        /// What is near its end.
        nearby: Vec<Nearby>;
    }
}

record! {
    /// Sheet metal that keeps insulation off a vent.
    InsulationShield {
        /// Whether there is one; `false` says that there is none.
        present: bool;
        /// How far it reaches above the insulation.
        above_insulation: Length, like "2 in";
    }
}

record! {
    /// A vent or chimney with everything that ends in it.
    Vent("vent"): VentKind {
        /// The appliances it serves.
        equipment: Vec<String> => "equipment";
        /// Whether these are all the appliances on it: none is left out of the list.
        equipment_complete: bool;
        /// What it is made of.
        material: VentMaterial;
        /// The standard the pipe is listed to.
        standard: String;
        /// Diameter.
        diameter: Length;
        /// Flow area, where it is not round.
        area: Area;
        /// Height from the highest draft hood or flue collar to the end.
        height: Length;
        /// Length sideways: with its connector where it serves one appliance, of the common part where it serves several.
        lateral: Length;
        /// Length along it.
        length: Length;
        /// How many elbows it has.
        elbows: u32;
        /// Slope up towards the end, or back towards a condensing appliance.
        slope: Slope;
        /// Greatest distance between supports.
        support_spacing: Length;
        /// Clearance to combustible material.
        clearance: Length;
        /// Whether its joints were primed, where its material asks for that.
        primed: bool;
        /// Whether condensate drains out of it.
        condensate_drained: bool;
        /// Height of its end above the bottom of the wall furnace it serves.
        height_above_furnace: Length, like "12 ft";
        /// Whether a masonry chimney has a liner fit for what it carries.
        lined: bool;
        /// Whether it goes through insulation, as in an attic or an insulated ceiling.
        through_insulation: bool;
        /// What keeps that insulation off it.
        insulation_shield: InsulationShield;
        /// Whether a chimney stands against the outdoors.
        exterior: bool;
        /// Whether what else is in the chimney's shaft draws air to burn through it.
        shaft_used_for_air: bool as descriptive;
        /// Whether something that burns solid fuel shares it.
        shared_with_solid_fuel: bool;
        /// The calculation of its size, where the tables do not decide.
        sizing_evidence: Evidence;
        /// The pipes from its appliances; an empty list says that it stands on its appliance.
        connectors: Vec<VentConnector>;
        /// Its end.
        terminal: VentTerminal;
        /// The air intake that belongs to it.
        intake: AirIntake;
        /// Whether another appliance has been taken off it.
        appliance_removed: bool;
        /// The calculation that it still fits those left on it.
        resize_evidence: Evidence;
        /// The spaces it goes through.
        spaces: Vec<String> => "space";
    }
}
