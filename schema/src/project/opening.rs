//! Openings: everything air, people or light pass through from a space to what lies beyond.

use super::{Beyond, Point};
use crate::quantity::{Area, Duration, Length, Position, Ratio};

words! {
    /// What the opening is.
    OpeningKind {
        /// An opening without a door.
        DoorlessOpening "doorless-opening",
        /// A door.
        Door "door",
        /// A vehicle door.
        VehicleDoor "vehicle-door",
        /// A hatch.
        Hatch "hatch",
        /// A window.
        Window "window",
        /// A grille between two spaces.
        TransferGrille "transfer-grille",
        /// A grille in a floor.
        FloorGrille "floor-grille",
        /// A louver to the outdoors.
        Louver "louver",
        /// The end of a duct, with or without a grille.
        DuctTerminal "duct-terminal",
        /// A vent of a foundation, a soffit or a gable.
        BuildingVent "building-vent",
        /// A plain hole.
        Hole "hole",
    }
}

words! {
    /// Why the opening is there.
    OpeningPurpose {
        /// Air to burn.
        CombustionAir "combustion-air",
        /// Air in place of what is exhausted.
        MakeUpAir "make-up-air",
        /// Air on its way between rooms.
        TransferAir "transfer-air",
        /// Ventilation.
        Ventilation "ventilation",
        /// People, light, goods.
        Passage "passage",
    }
}

words! {
    /// How the air gets from the opening to its source.
    AirPath {
        /// Straight through the wall, floor or door.
        Direct "direct",
        /// Through a vertical duct.
        VerticalDuct "vertical-duct",
        /// Through a horizontal duct.
        HorizontalDuct "horizontal-duct",
    }
}

words! {
    /// What a louver or grille is made of.
    DeviceMaterial {
        /// Wood.
        Wood "wood",
        /// Metal.
        Metal "metal",
        /// Plastic.
        Plastic "plastic",
        /// There is no louver or grille: the hole is free.
        None "none",
    }
}

words! {
    /// Whether the opening can be closed.
    Permanence {
        /// It stays open.
        Fixed "fixed",
        /// A person can close it.
        Closable "closable",
        /// A motor opens and closes it.
        Motorized "motorized",
    }
}

record! {
    /// A screen in an opening.
    Screen {
        /// Whether there is one; `false` says that there is none.
        fitted: bool;
        /// Clear width of its mesh.
        mesh: Length, like "1/4 in";
        /// The part of its face that is free, where the maker states it.
        free_fraction: Ratio;
    }
}

record! {
    /// What a motorized louver does before and while a burner fires.
    LouverInterlock {
        /// Whether it is proven fully open before a burner may light.
        proven_open_before_ignition: bool;
        /// Whether burners stop when it closes.
        burners_stop_when_closed: bool;
    }
}

words! {
    /// How a door moves.
    DoorAction {
        /// It swings.
        Swinging "swinging",
        /// It slides along the wall.
        Sliding "sliding",
        /// It slides into the wall.
        Pocket "pocket",
        /// It folds.
        Folding "folding",
        /// It rolls or tilts up.
        Overhead "overhead",
    }
}

words! {
    /// What a door's leaf is.
    DoorCore {
        /// Solid wood.
        SolidWood "solid-wood",
        /// Solid or honeycomb-core steel.
        SteelCore "steel-core",
        /// Hollow.
        Hollow "hollow",
        /// Glass.
        Glass "glass",
    }
}

words! {
    /// A hand, seen from the space that names the opening.
    Hand {
        /// Left.
        Left "left",
        /// Right.
        Right "right",
    }
}

record! {
    /// The leaf of a door.
    Door {
        /// How it moves.
        action: DoorAction;
        /// The space it swings into.
        swings_into: String => "space";
        /// The side of its hinges, seen from the opening's own space.
        hinges: Hand;
        /// How far it opens, as a clear width.
        clear_width: Length;
        /// Clear height.
        clear_height: Length;
        /// Thickness of the leaf.
        thickness: Length, like "1 3/8 in";
        /// What the leaf is.
        core: DoorCore;
        /// Its fire rating.
        fire_rating: Duration, like "20 min";
        /// Whether it has no louver or other opening in it.
        solid: bool;
        /// Whether it closes by itself.
        self_closing: bool;
        /// Whether it latches by itself.
        self_latching: bool;
        /// Whether its edges are sealed.
        weather_stripped: bool;
        /// Gap under it.
        undercut: Length as descriptive;
        /// Height of its threshold above the floor.
        threshold: Position;
        /// Whether it lifts off its hinges without tools.
        lifts_off: bool as descriptive;
        /// Whether it has panic hardware.
        panic_hardware: bool;
    }
}

record! {
    /// An opening between a space and what lies beyond.
    Opening("opening"): OpeningKind {
        /// The space it opens into.
        space: String => "space";
        /// What lies on its other side.
        beyond: Beyond;
        /// Why it is there.
        purpose: OpeningPurpose;
        /// How the air gets from it to its source.
        path: AirPath;
        /// The duct behind it.
        duct: String => "duct";
        /// Width of its face.
        width: Length;
        /// Height of its face, or its length in a floor.
        height: Length;
        /// Diameter, where it is round.
        diameter: Length;
        /// Area of its face, where width and height do not give it.
        gross_area: Area, like "140 in²";
        /// Free area the maker of its louver or grille states.
        free_area: Area, like "105 in²";
        /// What its louver or grille is made of.
        material: DeviceMaterial;
        /// Its screen.
        screen: Screen;
        /// Its smallest dimension, where width, height and diameter do not give it.
        smallest_dimension: Length, like "3 in";
        /// Distance from the ceiling of the space down to its upper edge.
        top_below_ceiling: Length, like "6 in";
        /// Distance from the floor of the space up to its lower edge.
        bottom_above_floor: Length, like "6 in";
        /// Distance from the ground outside up to its lower edge.
        bottom_above_grade: Position;
        /// Whether it can be closed.
        permanence: Permanence;
        /// What a motorized louver does before and while a burner fires.
        interlock: LouverInterlock;
        /// Its door leaf.
        door: Door;
        /// Whether a window can be opened.
        operable: bool;
        /// Where its middle is in plan.
        at: Point;
        /// The wall, floor or ceiling it is in.
        assembly: String => "assembly";
    }
}
