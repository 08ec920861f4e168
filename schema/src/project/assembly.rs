//! Walls, floors and ceilings: framing, layers on each side, what goes through them.

use super::{Beyond, Evidence, Point};
use crate::quantity::{Area, Duration, Length, Position, ThermalResistance};

words! {
    /// What part of the building it is.
    AssemblyKind {
        /// A wall.
        Wall "wall",
        /// A foundation wall.
        FoundationWall "foundation-wall",
        /// A floor.
        Floor "floor",
        /// A ceiling, with the floor or roof above it.
        Ceiling "ceiling",
        /// A roof without a ceiling under it.
        Roof "roof",
    }
}

words! {
    /// What holds it up.
    FramingMaterial {
        /// Sawn lumber.
        Wood "wood",
        /// Wood I-joists.
        WoodIJoist "wood-i-joist",
        /// Wood trusses with open webs.
        OpenWebTruss "open-web-truss",
        /// Structural composite lumber.
        CompositeLumber "composite-lumber",
        /// Steel studs or joists.
        Steel "steel",
        /// Concrete.
        Concrete "concrete",
        /// Concrete block or brick.
        Masonry "masonry",
    }
}

record! {
    /// The framing of an assembly.
    Framing {
        /// Its material.
        material: FramingMaterial;
        /// Actual width of a member, across the assembly's face.
        member_width: Length, like "1 1/2 in";
        /// Actual depth of a member, through the assembly.
        member_depth: Length, like "3 1/2 in";
        /// Spacing, centre to centre.
        spacing: Length, like "16 in";
        /// Whether it carries load.
        bearing: bool;
        /// Insulation in the cavities.
        insulation: ThermalResistance;
        /// Whether cavities are fireblocked.
        fireblocked: bool;
    }
}

words! {
    /// Which face a layer is on.
    Face {
        /// The face towards the space that describes the assembly.
        This "this",
        /// The face towards what lies beyond.
        Beyond "beyond",
    }
}

words! {
    /// What a layer is made of.
    LayerMaterial {
        /// Gypsum board.
        GypsumBoard "gypsum-board",
        /// Plaster.
        Plaster "plaster",
        /// Oriented strand board.
        OrientedStrandBoard "oriented-strand-board",
        /// Plywood.
        Plywood "plywood",
        /// Boards or panelling of wood.
        Wood "wood",
        /// Fibre cement or cement board.
        CementBoard "cement-board",
        /// Tile.
        Tile "tile",
        /// Sheet steel.
        SheetSteel "sheet-steel",
        /// Masonry or concrete.
        Masonry "masonry",
        /// Foam plastic board.
        FoamBoard "foam-board",
        /// Sprayed foam plastic.
        SprayFoam "spray-foam",
        /// Mineral wool.
        MineralWool "mineral-wool",
        /// Glass fibre.
        GlassFiber "glass-fiber",
        /// Something else that does not burn.
        OtherNoncombustible "other-noncombustible",
        /// Something else that burns.
        OtherCombustible "other-combustible",
    }
}

words! {
    /// What holds a layer.
    Fastener {
        /// Nails.
        Nails "nails",
        /// Screws.
        Screws "screws",
    }
}

record! {
    /// One layer, listed from the framing outwards.
    Layer {
        /// Which face it is on.
        face: Face;
        /// What it is made of.
        material: LayerMaterial;
        /// How thick it is.
        thickness: Length, like "5/8 in";
        /// Whether it is Type X.
        type_x: bool;
        /// What holds it.
        fastener: Fastener;
        /// Spacing of its nails or screws.
        fastener_spacing: Length;
        /// Whether its long edges run across the framing.
        perpendicular: bool;
        /// Whether its joints are taped.
        taped: bool;
        /// Whether it covers the whole face.
        complete: bool;
        /// Area it covers, where it does not cover the whole face.
        area: Area, like "60 ft²";
        /// Flame spread index of its surface, from its listing or report.
        flame_spread: u32, like 75;
        /// Smoke-developed index of its surface, from its listing or report.
        smoke_developed: u32, like 450;
    }
}

words! {
    /// Why an assembly must hold back fire.
    SeparationKind {
        /// Between a garage and the dwelling or its attic.
        Garage "garage",
        /// Between dwelling units.
        DwellingUnits "dwelling-units",
        /// Between townhouses.
        Townhouses "townhouses",
        /// Around a place of work.
        Workplace "workplace",
        /// Around stored energy.
        EnergyStorage "energy-storage",
    }
}

words! {
    /// What goes through an assembly.
    PenetrationKind {
        /// A pipe of steel, iron or copper.
        MetalPipe "metal-pipe",
        /// A plastic pipe.
        PlasticPipe "plastic-pipe",
        /// A duct.
        Duct "duct",
        /// A vent or chimney.
        Vent "vent",
        /// A raceway.
        Raceway "raceway",
        /// A cable.
        Cable "cable",
        /// A box.
        Box "box",
    }
}

words! {
    /// What a box is made of.
    BoxMaterial {
        /// Steel.
        Steel "steel",
        /// Plastic.
        Plastic "plastic",
    }
}

words! {
    /// What fills the gap around a penetration.
    Seal {
        /// A listed firestop system.
        ListedFirestop "listed-firestop",
        /// Material approved as fireblocking.
        Fireblocking "fireblocking",
        /// Material that held back flame in a test of ASTM E119 or UL 263 under pressure, for the time it is rated.
        TestedFill "tested-fill",
        /// Concrete, grout or mortar.
        Grout "grout",
        /// Sealant that is not rated for fire.
        Sealant "sealant",
        /// Nothing.
        Unsealed "unsealed",
    }
}

words! {
    /// The framing member something is bored or notched through.
    BoredMember {
        /// A stud.
        Stud "stud",
        /// A joist, rafter or beam of sawn lumber.
        Joist "joist",
        /// A top or sole plate.
        Plate "plate",
        /// It goes between members.
        None "none",
    }
}

record! {
    /// Something that goes through an assembly.
    Penetration("penetration"): PenetrationKind {
        /// What goes through: a duct, vent, raceway, gas segment, drain or water pipe.
        carries: String => ["duct", "vent", "vent-connector", "raceway", "gas-segment", "drain-pipe", "water-pipe"];
        /// Face area of a box.
        area: Area, like "16 in²";
        /// What a box is made of.
        box_material: BoxMaterial;
        /// Gap between a box and the board around it.
        gap: Length, like "1/8 in";
        /// Horizontal distance to the nearest box in the other face of the wall.
        to_opposite_box: Length, like "24 in";
        /// Whether listed putty pads or solid blocking guard a box.
        guarded: bool;
        /// Its outside diameter.
        diameter: Length;
        /// Diameter of the hole, or its width where it is not round.
        hole: Length;
        /// Height of its middle above the floor.
        height: Length;
        /// Where it goes through, in plan.
        at: Point;
        /// What fills the gap.
        seal: Seal;
        /// Fire rating of the seal.
        fire_rating: Duration;
        /// Size of a sleeve around it.
        sleeve: Length;
        /// Distance of the hole from the nearest edge of the framing member.
        edge_distance: Length;
        /// Whether a steel plate shields it.
        shielded: bool;
        /// Thickness of that plate.
        shield_thickness: Length;
        /// The framing member it is bored or notched through.
        bores: BoredMember;
        /// Depth of the notch, where the member is notched and not bored.
        notch: Length;
        /// Length of that notch along the member.
        notch_length: Length;
        /// Distance of a hole or notch from the nearest end of the member's span.
        end_distance: Length;
        /// Span of the member, where it is a joist or rafter.
        span: Length;
        /// Whether the bored stud is doubled.
        doubled: bool;
        /// Clearance to the nearest combustible material.
        clearance: Length;
    }
}

record! {
    /// Foam plastic that faces a space.
    FoamPlastic {
        /// Whether it faces the space without a covering.
        exposed: bool;
        /// How thick it is.
        thickness: Length;
        /// Whether a thermal barrier or ignition barrier that the code names covers it.
        covered: bool;
        /// Whether it lies on the rim joist alone.
        at_rim_joist: bool;
        /// Its flame spread index.
        flame_spread: u32, like 25;
        /// Its smoke-developed index.
        smoke_developed: u32, like 450;
        /// A test report that allows it uncovered.
        report: super::Evidence;
    }
}

record! {
    /// A wall, floor or ceiling of a space.
    Assembly("assembly"): AssemblyKind {
        /// One end of a wall in plan.
        from: Point;
        /// The other end.
        to: Point;
        /// What lies on the other side.
        beyond: Beyond;
        /// Whether it is an exterior wall.
        exterior: bool;
        /// Whether its cavity holds no plumbing, ducts, vents or mechanical equipment.
        cavity_clear: bool;
        /// Whether it must hold back fire, and why.
        separation: SeparationKind;
        /// Its fire-resistance rating.
        fire_rating: Duration, like "1 h";
        /// The tested design it follows.
        design: String, like "UL U305";
        /// What shows that it follows the design or has the rating.
        design_evidence: Evidence;
        /// A decision by which what is there counts as equal to the finish the code names.
        equal_finish: Evidence;
        /// Distance of a garage's outer wall to the nearest dwelling on the lot, where positions do not give it.
        to_dwelling: Length, like "5 ft";
        /// Area of its underside that is left open, where the rest is covered.
        open_area: Area, like "80 ft²";
        /// Whether the edge of that open part is fireblocked.
        open_area_blocked: bool;
        /// What holds it up.
        framing: Framing;
        /// Its layers on both faces, from the framing outwards.
        layers: Vec<Layer>;
        /// Elevation of its lower edge, from the floor of the space.
        base: Position;
        /// What goes through it.
        penetrations: Vec<Penetration>;
    }
}
