//! What stands under a separation and what is hidden behind finishes: posts, beams, soffits, chases.

use super::{FramingMaterial, Layer, Point};
use crate::quantity::{Area, Length, Position, ThermalResistance};

words! {
    /// What carries a floor or ceiling.
    SupportKind {
        /// A beam or girder.
        Beam "beam",
        /// A post or column.
        Post "post",
        /// A header over an opening.
        Header "header",
    }
}

record! {
    /// A beam or post that carries a floor or ceiling.
    Support("support"): SupportKind {
        /// The floors, ceilings and walls it carries.
        carries: Vec<String> => "assembly";
        /// What it is made of.
        material: FramingMaterial;
        /// Its width.
        width: Length, like "3 1/2 in";
        /// Its depth: the other side of its cross-section.
        depth: Length, like "9 1/4 in";
        /// Its length or height.
        length: Length, like "8 ft";
        /// What covers it, from the member outwards; an empty list says that it is bare.
        layers: Vec<Layer>;
        /// Where it is in plan; one end of a beam.
        at: Point;
        /// The other end of a beam.
        to: Point;
        /// Elevation of its underside, from the floor of the space.
        base: Position;
    }
}

words! {
    /// What hides the space.
    ConcealedKind {
        /// A soffit or bulkhead.
        Soffit "soffit",
        /// A dropped ceiling or cove.
        DroppedCeiling "dropped-ceiling",
        /// A vertical chase for pipes, ducts or wires.
        Chase "chase",
        /// A box built out through a foundation wall for ducts or pipes.
        FoundationBumpOut "foundation-bump-out",
        /// A wall furred out, or with parallel or staggered studs.
        FurredWall "furred-wall",
        /// The space between the stringers of a stair.
        StairStringers "stair-stringers",
        /// The space around a chimney.
        ChimneySpace "chimney-space",
        /// The space in a floor, between its ceiling and the floor above.
        FloorCeiling "floor-ceiling",
    }
}

words! {
    /// What stops fire or draft in a concealed space.
    BlockMaterial {
        /// Lumber, 2 in nominal.
        Lumber "lumber",
        /// Two layers of lumber, 1 in nominal, with broken joints.
        DoubleBoard "double-board",
        /// Plywood or oriented strand board.
        StructuralPanel "structural-panel",
        /// Particleboard.
        Particleboard "particleboard",
        /// Gypsum board.
        GypsumBoard "gypsum-board",
        /// Cement millboard.
        CementMillboard "cement-millboard",
        /// Batts of mineral wool, held in place.
        MineralWool "mineral-wool",
        /// Batts of glass fiber, held in place.
        GlassFiber "glass-fiber",
        /// Cellulose installed as tested.
        Cellulose "cellulose",
        /// Sheet steel, as at chimneys.
        SheetSteel "sheet-steel",
        /// Foam, whatever its label says.
        Foam "foam",
        /// Nothing.
        None "none",
    }
}

record! {
    /// A hidden space that fire, air, pests or water could run through.
    ConcealedSpace("concealed-space"): ConcealedKind {
        /// What blocks it at the ceiling and floor lines, or where it meets other hidden spaces.
        block: BlockMaterial;
        /// How thick the blocking is; of a batt of glass fiber, how high.
        block_thickness: Length;
        /// Whether the joints of a panel that blocks it are backed.
        joints_backed: bool;
        /// Greatest distance between blocking along it.
        block_spacing: Length, like "10 ft";
        /// Its length along the wall or ceiling.
        length: Length;
        /// How many floor or ceiling lines it passes.
        lines_passed: u32;
        /// How many of those are blocked around what runs in it.
        lines_blocked: u32;
        /// Whether there is usable space both above and below it.
        usable_both_sides: bool;
        /// Whether its ceiling hangs from the floor above.
        suspended: bool;
        /// Whether the floor has members with open webs.
        open_webs: bool;
        /// Area of its largest part between draftstops.
        largest_part: Area, like "900 ft²";
        /// What stops draft between its parts.
        draftstop: BlockMaterial;
        /// How thick the draftstop is.
        draftstop_thickness: Length;
        /// Whether it is closed against rodents and insects.
        pest_tight: bool;
        /// Whether it is flashed and closed against water.
        water_tight: bool;
        /// Thermal resistance of its insulation.
        insulation: ThermalResistance;
        /// Thermal resistance the wall or floor around it has.
        insulation_around: ThermalResistance;
        /// Whether the framing around its hole carries the wall above, as drawn or calculated.
        header: bool;
        /// Whether the vapor retarder of a crawl space laps up to it.
        retarder_laps: bool;
        /// Whether one can reach the joints of ducts inside it, or there are none.
        joints_reachable: bool;
        /// Where it is in plan.
        at: Point;
    }
}
