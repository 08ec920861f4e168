//! A wall that has a rating of one hour without a test report: one layer of Type X board on each side of wood studs.

use super::{Answer, Counting, Finish, Layer, LayerFact, face_meets};
use crate::units::inches;
use redtag_schema::quantity::{at_least, at_most};
use uom::si::f64::Length;

/// A stud wall as far as it is known.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct WallConstruction {
    /// Whether its framing is wood.
    pub wood: Option<bool>,
    /// Depth of a stud.
    pub depth: Option<Length>,
    /// Spacing of the studs.
    pub spacing: Option<Length>,
    /// Whether its cavities are fireblocked.
    pub fireblocked: Option<bool>,
    /// Layers as seen from this side.
    pub this: Vec<Layer>,
    /// The same list as seen from the other.
    pub beyond: Vec<Layer>,
}

/// What decides.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RatedFault {
    /// The framing's material.
    Framing,
    /// The depth of the studs.
    Depth,
    /// The spacing of the studs.
    Spacing,
    /// Fireblocking.
    Fireblocking,
    /// A layer.
    Layer(usize, LayerFact),
}

/// What the construction asks for.
#[derive(Clone, Debug, PartialEq)]
pub struct Rated {
    /// The board on each face.
    pub board: Finish,
    /// Least depth of a stud.
    pub depth: Length,
    /// Greatest spacing of the studs.
    pub spacing: Length,
}

impl Default for Rated {
    fn default() -> Self {
        Self { board: Finish::type_x(), depth: inches(3.5), spacing: inches(16.0) }
    }
}

/// Each part of the construction with its answer.
pub fn hour_wall(wall: &WallConstruction, rated: &Rated) -> [(&'static str, Answer<RatedFault>); 6] {
    let layers = |layers: &[Layer]| {
        face_meets(layers, &rated.board, Counting::OneBoard).map(|(index, fact)| RatedFault::Layer(index, fact))
    };
    [
        ("wood framing", Answer::of(wall.wood, RatedFault::Framing)),
        ("stud depth", Answer::of(wall.depth.map(|depth| at_least(depth, rated.depth)), RatedFault::Depth)),
        ("stud spacing", Answer::of(wall.spacing.map(|spacing| at_most(spacing, rated.spacing)), RatedFault::Spacing)),
        ("fireblocking", Answer::of(wall.fireblocked, RatedFault::Fireblocking)),
        ("board on this side", layers(&wall.this)),
        ("board on the other side", layers(&wall.beyond)),
    ]
}
