//! What counts as fireblocking and as draftstopping.

use super::Answer;
use crate::units::{feet, inches};
use redtag_schema::quantity::at_least;
use uom::si::f64::{Area, Length};

/// What blocks a hidden space.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Blocking {
    /// Lumber, 2 in nominal.
    Lumber,
    /// Two layers of lumber, 1 in nominal, with broken joints.
    DoubleBoard,
    /// Plywood or oriented strand board.
    StructuralPanel,
    /// Particleboard.
    Particleboard,
    /// Gypsum board.
    Gypsum,
    /// Cement millboard.
    Millboard,
    /// Mineral wool batts held in place.
    MineralWool,
    /// Glass fiber batts held in place.
    GlassFiber,
    /// Cellulose installed as tested.
    Cellulose,
    /// Sheet steel.
    SheetSteel,
    /// Anything else, and nothing.
    Nothing,
}

/// Least thicknesses, and the spacing of fireblocking.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BlockLimits {
    /// Lumber.
    pub lumber: Length,
    /// Wood structural panels with backed joints.
    pub panel: Length,
    /// Particleboard with backed joints.
    pub particleboard: Length,
    /// Gypsum board.
    pub gypsum: Length,
    /// Cement millboard.
    pub millboard: Length,
    /// Height of a glass fiber batt.
    pub batt: Length,
    /// Greatest distance along a wall.
    pub spacing: Length,
    /// Wood panels and particleboard as draftstopping.
    pub draft_panel: Length,
    /// Largest part of a floor between draftstops.
    pub part: Area,
}

impl Default for BlockLimits {
    fn default() -> Self {
        Self {
            lumber: inches(1.5),
            panel: inches(23.0 / 32.0),
            particleboard: inches(0.75),
            gypsum: inches(0.5),
            millboard: inches(0.25),
            batt: inches(16.0),
            spacing: feet(10.0),
            draft_panel: inches(0.375),
            part: feet(1000.0) * feet(1.0),
        }
    }
}

/// What decides whether it blocks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BlockFact {
    /// Its thickness.
    Thickness,
    /// Whether the joints of its panels are backed.
    Joints,
}

/// Whether it is fireblocking.
pub fn blocks(blocking: Blocking, thickness: Option<Length>, joints: Option<bool>, limits: &BlockLimits) -> Answer<BlockFact> {
    let thick = |least: Length| Answer::of(thickness.map(|thickness| at_least(thickness, least)), BlockFact::Thickness);
    let backed = || Answer::of(joints, BlockFact::Joints);
    match blocking {
        Blocking::Lumber => thick(limits.lumber),
        Blocking::StructuralPanel => Answer::all([thick(limits.panel), backed()]),
        Blocking::Particleboard => Answer::all([thick(limits.particleboard), backed()]),
        Blocking::Gypsum => thick(limits.gypsum),
        Blocking::Millboard => thick(limits.millboard),
        Blocking::GlassFiber => thick(limits.batt),
        Blocking::DoubleBoard | Blocking::MineralWool | Blocking::Cellulose => Answer::Yes,
        Blocking::SheetSteel | Blocking::Nothing => Answer::No,
    }
}

/// Whether it is draftstopping.
pub fn stops_draft(blocking: Blocking, thickness: Option<Length>, limits: &BlockLimits) -> Answer<BlockFact> {
    let thick = |least: Length| Answer::of(thickness.map(|thickness| at_least(thickness, least)), BlockFact::Thickness);
    match blocking {
        Blocking::Gypsum => thick(limits.gypsum),
        Blocking::StructuralPanel | Blocking::Particleboard => thick(limits.draft_panel),
        Blocking::Lumber => thick(limits.lumber),
        _ => Answer::No,
    }
}
