//! What a face must be finished with, and whether its layers are that or better.

use super::{Answer, Layer, LayerFact, Material};
use crate::units::inches;
use redtag_schema::quantity::at_least;
use uom::si::f64::Length;

/// Which side of an assembly is asked about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Face {
    /// The side of the space that describes it.
    This,
    /// The other side.
    Beyond,
}

/// A demand on a face: gypsum board of a thickness, or what the section takes instead of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Finish {
    /// Least thickness of gypsum board.
    pub gypsum: Length,
    /// Whether the board must be Type X.
    pub type_x: bool,
    /// Least thickness of plywood or oriented strand board, where the section takes it instead.
    pub panel: Option<Length>,
    /// Materials taken as equal at the thickness of the gypsum board.
    pub equals: Vec<Material>,
}

impl Finish {
    /// Gypsum board and nothing else.
    pub fn gypsum(thickness: Length, type_x: bool) -> Self {
        Self { gypsum: thickness, type_x, panel: None, equals: Vec::new() }
    }

    /// Gypsum board of half an inch.
    pub fn half_inch() -> Self {
        Self::gypsum(inches(0.5), false)
    }

    /// Type X gypsum board of five eighths of an inch.
    pub fn type_x() -> Self {
        Self::gypsum(inches(0.625), true)
    }

    /// The same, or a wood structural panel of this thickness.
    #[must_use]
    pub fn or_panel(mut self, thickness: Length) -> Self {
        self.panel = Some(thickness);
        self
    }

    /// The same, or one of these materials at least as thick.
    #[must_use]
    pub fn or(mut self, equals: &[Material]) -> Self {
        self.equals.extend_from_slice(equals);
        self
    }
}

/// Whether boards behind one another count together.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Counting {
    /// One board must do it alone.
    #[default]
    OneBoard,
    /// Their thicknesses add up.
    Together,
}

/// A fact of a layer, by the layer's place in the list.
pub type Met = Answer<(usize, LayerFact)>;

/// Whether the layers of a face are the finish or better. A layer that leaves gaps counts for nothing; one of another material
/// over or under the board changes nothing.
pub fn face_meets(layers: &[Layer], finish: &Finish, counting: Counting) -> Met {
    let alone = layers.iter().enumerate().map(|(index, layer)| layer_meets(layer, finish).map(|fact| (index, fact)));
    match counting {
        Counting::OneBoard => Answer::any(alone),
        Counting::Together => Answer::any(alone.chain([together(layers, finish)])),
    }
}

/// Whether one layer alone is the finish or better.
fn layer_meets(layer: &Layer, finish: &Finish) -> Answer<LayerFact> {
    let there = [Answer::of(layer.on_face, LayerFact::Face), Answer::of(layer.complete, LayerFact::Complete)];
    let thick = |least: Length| Answer::of(layer.thickness.map(|thickness| at_least(thickness, least)), LayerFact::Thickness);
    let right = match layer.material {
        None => Answer::Depends(vec![LayerFact::Material]),
        Some(Material::Gypsum) if finish.type_x => {
            Answer::all([thick(finish.gypsum), Answer::of(layer.type_x, LayerFact::TypeX)])
        }
        Some(Material::Gypsum) => thick(finish.gypsum),
        Some(Material::StructuralPanel) => finish.panel.map_or(Answer::No, thick),
        Some(material) if finish.equals.contains(&material) => thick(finish.gypsum),
        Some(_) => Answer::No,
    };
    Answer::all(there.into_iter().chain([right]))
}

/// Whether the gypsum boards together are thick enough.
fn together(layers: &[Layer], finish: &Finish) -> Met {
    let counts = |layer: &Layer| {
        let gypsum = Answer::of(layer.material.map(|material| material == Material::Gypsum), LayerFact::Material);
        let of_type = if finish.type_x && gypsum.yes() { Answer::of(layer.type_x, LayerFact::TypeX) } else { Answer::Yes };
        let known = layer.thickness.map(|_| true);
        Answer::all([
            Answer::of(layer.on_face, LayerFact::Face),
            gypsum,
            of_type,
            Answer::of(layer.complete, LayerFact::Complete),
            Answer::of(known, LayerFact::Thickness),
        ])
    };
    let (mut sure, mut possible, mut boundless) = (inches(0.0), inches(0.0), false);
    let mut open = Vec::new();
    for (index, layer) in layers.iter().enumerate() {
        let thickness = layer.thickness.unwrap_or_default();
        match counts(layer) {
            Answer::Yes => sure += thickness,
            Answer::No => {}
            Answer::Depends(facts) => {
                possible += thickness;
                boundless |= layer.thickness.is_none();
                open.extend(facts.into_iter().map(|fact| (index, fact)));
            }
        }
    }
    match (at_least(sure, finish.gypsum), boundless || at_least(sure + possible, finish.gypsum)) {
        (true, _) => Answer::Yes,
        (false, true) if !open.is_empty() => Answer::Depends(open),
        _ => Answer::No,
    }
}

/// Whether every layer of foam on the face lies behind a complete layer of the finish: one listed after it, nearer the room.
pub fn behind_barrier(layers: &[Layer], barrier: &Finish, counting: Counting) -> Met {
    let foam = |layer: &Layer| layer.material.is_none_or(|material| material == Material::Foam);
    let one = |index: usize, layer: &Layer| {
        let is_foam = Answer::all([
            Answer::of(layer.on_face, (index, LayerFact::Face)),
            Answer::of(layer.material.map(|material| material == Material::Foam), (index, LayerFact::Material)),
        ]);
        let outside = layers.get(index + 1..).unwrap_or_default();
        let covered = face_meets(outside, barrier, counting).map(|(later, fact)| (later + index + 1, fact));
        match (is_foam, covered) {
            (Answer::No, _) | (_, Answer::Yes) => Answer::Yes,
            (Answer::Yes, covered) => covered,
            (Answer::Depends(facts), Answer::No) => Answer::Depends(facts),
            (Answer::Depends(mut facts), Answer::Depends(more)) => {
                facts.extend(more);
                Answer::Depends(facts)
            }
        }
    };
    Answer::all(layers.iter().enumerate().filter(|(_, layer)| foam(layer)).map(|(index, layer)| one(index, layer)))
}

/// Whether any layer of the face is known to be foam.
pub fn bare_foam(layers: &[Layer]) -> bool {
    layers.iter().any(|layer| layer.material == Some(Material::Foam) && layer.on_face != Some(false))
}

/// How much thickness the best board of the face lacks; `None` where none is of the right kind.
pub fn shortest(layers: &[Layer], finish: &Finish) -> Option<Length> {
    let right = |layer: &&Layer| {
        layer.on_face == Some(true) && layer.material == Some(Material::Gypsum) && (!finish.type_x || layer.type_x == Some(true))
    };
    let best = layers
        .iter()
        .filter(right)
        .filter_map(|layer| layer.thickness)
        .fold(None, |best: Option<Length>, more| Some(best.map_or(more, |best| if more > best { more } else { best })))?;
    Some(if at_least(best, finish.gypsum) { inches(0.0) } else { finish.gypsum - best })
}
