//! One layer of a wall or ceiling.

use uom::si::f64::Length;

/// What a layer is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Material {
    /// Gypsum board.
    Gypsum,
    /// Plaster.
    Plaster,
    /// Oriented strand board or plywood.
    StructuralPanel,
    /// Boards or panelling of wood.
    Wood,
    /// Fiber cement or cement board.
    CementBoard,
    /// Tile.
    Tile,
    /// Sheet steel.
    SheetSteel,
    /// Masonry or concrete.
    Masonry,
    /// Foam plastic, as board or sprayed.
    Foam,
    /// Mineral wool.
    MineralWool,
    /// Glass fiber.
    GlassFiber,
    /// Something else that does not burn.
    OtherNoncombustible,
    /// Something else that burns.
    OtherCombustible,
}

impl Material {
    /// Whether it does not burn.
    pub fn noncombustible(self) -> bool {
        use Material as M;
        matches!(
            self,
            M::Plaster | M::CementBoard | M::Tile | M::SheetSteel | M::Masonry | M::MineralWool | M::OtherNoncombustible
        )
    }

    /// Whether a face that ends with it counts as finished: board, plaster, tile or something else that does not burn. Panels
    /// and boards of wood are left to the caller.
    pub fn finishes(self) -> bool {
        use Material as M;
        matches!(self, M::Gypsum | M::Plaster | M::CementBoard | M::Tile | M::SheetSteel | M::Masonry | M::OtherNoncombustible)
    }
}

/// What may be unknown of a layer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum LayerFact {
    /// Which face it is on.
    Face,
    /// What it is made of.
    Material,
    /// How thick it is.
    Thickness,
    /// Whether it is Type X.
    TypeX,
    /// Whether it covers the whole face.
    Complete,
    /// How its surface spreads flame and smoke.
    Surface,
}

/// A layer as far as it is known. Layers of a face are listed from the framing outwards.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Layer {
    /// Whether it is on the face asked about.
    pub on_face: Option<bool>,
    /// What it is made of.
    pub material: Option<Material>,
    /// How thick it is.
    pub thickness: Option<Length>,
    /// Whether it is Type X.
    pub type_x: Option<bool>,
    /// Whether it covers the whole face, without gaps.
    pub complete: Option<bool>,
}
