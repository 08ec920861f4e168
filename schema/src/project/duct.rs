//! Ducts.

use super::{Beyond, Evidence, Point};
use crate::quantity::{Area, Length, Position, Slope, ThermalResistance, VolumeFlow};

words! {
    /// What a duct carries.
    DuctKind {
        /// Conditioned air to rooms.
        Supply "supply",
        /// Air back from rooms.
        Return "return",
        /// Air to burn.
        CombustionAir "combustion-air",
        /// Outdoor air.
        OutdoorAir "outdoor-air",
        /// Air in place of what is exhausted.
        MakeUpAir "make-up-air",
        /// Air on its way between rooms.
        Transfer "transfer",
        /// Air out of the building.
        Exhaust "exhaust",
        /// The exhaust of a clothes dryer.
        DryerExhaust "dryer-exhaust",
        /// The exhaust of a kitchen hood.
        KitchenExhaust "kitchen-exhaust",
        /// Ventilation of stored energy.
        BatteryVentilation "battery-ventilation",
    }
}

words! {
    /// Which way a duct runs.
    Orientation {
        /// Up or down.
        Vertical "vertical",
        /// Level, or nearly so.
        Horizontal "horizontal",
    }
}

words! {
    /// What a duct is made of.
    DuctMaterial {
        /// Galvanized steel.
        GalvanizedSteel "galvanized-steel",
        /// Stainless steel.
        StainlessSteel "stainless-steel",
        /// Aluminum.
        Aluminum "aluminum",
        /// Flexible duct.
        Flexible "flexible",
        /// Duct board.
        DuctBoard "duct-board",
        /// Plastic pipe.
        Plastic "plastic",
        /// The space between studs or joists.
        BuildingCavity "building-cavity",
        /// Something else.
        Other "other",
    }
}

words! {
    /// Which of a pair of combustion-air openings a duct serves.
    ServedLevel {
        /// The upper.
        Upper "upper",
        /// The lower.
        Lower "lower",
        /// Both.
        Both "both",
        /// The only one.
        Single "single",
    }
}

words! {
    /// A damper in a duct.
    DamperKind {
        /// Set by hand.
        Manual "manual",
        /// A volume damper.
        Volume "volume",
        /// Moved by the air.
        Backdraft "backdraft",
        /// Moved by a motor.
        Motorized "motorized",
        /// Closed by fire.
        Fire "fire",
    }
}

words! {
    /// What a duct's opening is.
    DuctOpeningKind {
        /// Air comes out of it.
        Supply "supply",
        /// Air goes into it.
        Return "return",
        /// Air leaves a room through it.
        Exhaust "exhaust",
    }
}

record! {
    /// A register, grille or other opening of a duct.
    DuctOpening("duct-opening"): DuctOpeningKind {
        /// The space it is in.
        space: String => "space";
        /// Where it is, in plan.
        at: Point;
        /// Height of its middle above the floor.
        height: Length;
        /// Air that goes through it.
        flow: VolumeFlow;
        /// Distance to the nearest draft hood or open combustion chamber, where no positions are given.
        draft_hood_distance: Length;
    }
}

record! {
    /// A duct.
    Duct("duct"): DuctKind {
        /// The equipment it belongs to.
        equipment: String => "equipment";
        /// Which of a pair of combustion-air openings it serves.
        serves: ServedLevel;
        /// Where it ends, or where its air comes from.
        terminates: Beyond;
        /// Which way it runs.
        orientation: Orientation;
        /// What it is made of.
        material: DuctMaterial;
        /// Thickness of the material.
        thickness: Length, like "0.019 in";
        /// Width.
        width: Length;
        /// Height.
        height: Length;
        /// Diameter, where it is round.
        diameter: Length;
        /// Area of its cross-section, where its sizes do not give it.
        area: Area;
        /// Length along it.
        length: Length;
        /// Its slope.
        slope: Slope;
        /// Whether it slopes down towards the source of its air.
        slopes_toward_source: bool;
        /// Whether its end is screened.
        screened: bool;
        /// Clear width of the screen's mesh.
        screen_mesh: Length;
        /// Its dampers; an empty list says that there are none.
        dampers: Vec<DamperKind>;
        /// Whether nothing stands in the way of its end.
        end_unobstructed: bool;
        /// Whether it opens into one enclosure only.
        single_enclosure: bool;
        /// Whether it is kept apart from the duct of the other opening all the way to the source.
        separate_to_source: bool;
        /// Whether it is the space around a liner, vent or pipe in a chimney.
        in_chimney_space: bool;
        /// How many fireblocks were taken out for it.
        fireblocks_removed: u32;
        /// Lowest edge of its intake above the ground outside.
        intake_above_grade: Position;
        /// Height of its end above joists and insulation of an attic.
        end_above_insulation: Length;
        /// The spaces it goes through.
        spaces: Vec<String> => "space";
        /// The line it follows in plan.
        line: Vec<Point>;
        /// Height of its underside above the floor.
        base: Position;
        /// Height above the earth of a crawl space.
        above_earth: Length;
        /// Thermal resistance of its insulation.
        insulation: ThermalResistance;
        /// Whether a vapor retarder wraps it.
        vapor_retarder: bool;
        /// Whether it is joined to the casing of its equipment without leaks.
        tight_to_casing: bool;
        /// Clearance it has to combustible material over its first 3 ft.
        clearance: Length, like "1 in";
        /// A decision that allows its material where the code names another.
        approval: Evidence;
        /// Whether the part behind it serves the space it is in alone.
        dedicated: bool;
        /// Whether its joints are sealed.
        sealed: bool;
        /// Air that goes through it.
        flow: VolumeFlow;
        /// Leakage measured at 25 Pa.
        leakage: VolumeFlow;
        /// How many elbows of 90 degrees it has.
        right_elbows: u32;
        /// How many elbows of 45 degrees it has.
        half_elbows: u32;
        /// Whether screws or rivets reach into it far enough to catch lint.
        screws_inside: bool;
        /// The longest it may be by the instructions of what it serves, elbows counted their way.
        length_allowed: Length, like "45 ft";
        /// Its openings.
        openings: Vec<DuctOpening>;
    }
}
