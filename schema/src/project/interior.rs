//! What a space has besides walls: ways in, a floor that was measured, lights, switches, receptacles.

use super::{Placement, Point};
use crate::quantity::{Length, Position, Slope};

words! {
    /// What one gets in through.
    AccessKind {
        /// A door.
        Door "door",
        /// A hatch in a wall.
        WallHatch "wall-hatch",
        /// A hatch in a floor.
        FloorHatch "floor-hatch",
        /// A hatch in a ceiling.
        CeilingHatch "ceiling-hatch",
        /// A folding ladder.
        PullDownLadder "pull-down-ladder",
    }
}

record! {
    /// The way to equipment in an attic, a crawl space or above a ceiling.
    Access: AccessKind {
        /// Clear width of the opening.
        opening_width: Length, like "22 in";
        /// Clear length or height of the opening.
        opening_length: Length, like "30 in";
        /// Least width of the passage.
        passage_width: Length;
        /// Least height of the passage.
        passage_height: Length;
        /// Length of the passage along its centre.
        passage_length: Length;
        /// Width of its solid floor.
        floor_width: Length;
        /// Level service space in front of the equipment, width.
        service_width: Length;
        /// Level service space in front of the equipment, depth.
        service_depth: Length;
        /// Whether the equipment can be serviced and removed from the opening.
        serviced_from_opening: bool;
        /// Whether the ground is dug out for the equipment.
        excavated: bool;
        /// How far below the equipment the ground is dug out.
        excavated_below: Length;
        /// How far beyond its sides.
        excavated_beside: Length;
        /// How far before its control side.
        excavated_before: Length;
    }
}

record! {
    /// A height measured on a floor.
    SurveyPoint {
        /// Where, in plan.
        at: Point;
        /// Elevation, from the floor elevation of the space.
        elevation: Position, like "-0.5 in";
    }
}

record! {
    /// A sunken part of a floor.
    Recess {
        /// Its outline in plan.
        outline: Vec<Point>;
        /// Its depth below the floor around it.
        depth: Length, like "1 in";
    }
}

words! {
    /// What the floor's surface is.
    FloorMaterial {
        /// Concrete.
        Concrete "concrete",
        /// Tile.
        Tile "tile",
        /// Wood.
        Wood "wood",
        /// Vinyl or another sheet.
        Sheet "sheet",
        /// Earth.
        Earth "earth",
    }
}

record! {
    /// A floor that was measured, to see where water runs.
    FloorSurvey {
        /// The floor's surface.
        material: FloorMaterial;
        /// Measured heights.
        points: Vec<SurveyPoint>;
        /// Lines along which the floor bends.
        break_lines: Vec<Vec<Point>>;
        /// Outlines of pads and curbs that water does not cross.
        pads: Vec<Vec<Point>>;
        /// Sunken parts.
        recesses: Vec<Recess>;
        /// How far off a measured height may be.
        uncertainty: Length, like "1/16 in";
        /// Slope the floor was built to.
        slope: Slope;
        /// Whether the floor is level and flat, where nothing was measured.
        level: bool;
    }
}

record! {
    /// A light.
    Luminaire("luminaire") {
        /// Where it is.
        at: Point;
        /// The equipment it lights.
        lights: Vec<String> => "equipment";
        /// The switch that controls it.
        switch: String => "switch";
    }
}

words! {
    /// What works a switch.
    SwitchKind {
        /// A hand.
        Manual "manual",
        /// A sensor alone.
        Automatic "automatic",
        /// A sensor, with a switch that overrides it.
        AutomaticWithOverride "automatic-with-override",
    }
}

record! {
    /// A switch.
    Switch("switch"): SwitchKind {
        /// Where it is.
        at: Point;
        /// Height above the floor.
        height: Length;
        /// Whether it is at an entry to the space.
        at_entry: bool;
    }
}

record! {
    /// A receptacle.
    Receptacle("receptacle") {
        /// Where it is.
        at: Point;
        /// Height above the floor.
        height: Length;
        /// Its circuit.
        circuit: String => "circuit";
        /// Whether it is protected by a ground-fault circuit interrupter.
        gfci: bool;
        /// The equipment it is there to service or feed.
        serves: Vec<String> => "equipment";
        /// Distance to that equipment, where no positions are given.
        distance: Length;
        /// Where its box stands, where its size matters.
        placement: Placement;
    }
}
