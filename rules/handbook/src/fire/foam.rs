//! Foam plastic where it is not behind a thermal barrier.

use super::{Answer, Layer, LayerFact, Material};
use crate::units::inches;
use redtag_schema::quantity::{at_least, at_most};
use uom::si::f64::Length;

/// Limits of foam plastic.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FoamLimits {
    /// Flame spread index of any foam.
    pub flame: f64,
    /// Smoke-developed index of any foam.
    pub smoke: f64,
    /// Thickness on a rim joist without a covering.
    pub rim_thickness: Length,
    /// Flame spread index there.
    pub rim_flame: f64,
    /// Smoke-developed index there.
    pub rim_smoke: f64,
}

impl Default for FoamLimits {
    fn default() -> Self {
        Self { flame: 75.0, smoke: 450.0, rim_thickness: inches(3.25), rim_flame: 25.0, rim_smoke: 450.0 }
    }
}

/// Foam on a rim joist, as far as it is known.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct FoamFacts {
    /// How thick it is.
    pub thickness: Option<Length>,
    /// Flame spread index.
    pub flame: Option<f64>,
    /// Smoke-developed index.
    pub smoke: Option<f64>,
}

/// What decides about foam on a rim joist.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RimJoist {
    /// Its thickness.
    Thickness,
    /// Its flame spread index.
    Flame,
    /// Its smoke-developed index.
    Smoke,
}

/// Whether foam on a rim joist may go without a covering, its density aside.
pub fn rim_joist(facts: &FoamFacts, limits: &FoamLimits) -> Answer<RimJoist> {
    Answer::all([
        Answer::of(facts.thickness.map(|thickness| at_most(thickness, limits.rim_thickness)), RimJoist::Thickness),
        Answer::of(facts.flame.map(|index| index <= limits.rim_flame), RimJoist::Flame),
        Answer::of(facts.smoke.map(|index| index <= limits.rim_smoke), RimJoist::Smoke),
    ])
}

/// Least thickness of each material that makes an ignition barrier, for attics and crawl spaces entered only to service what is
/// there. Sheet steel is meant to resist corrosion.
const IGNITION: [(Material, f64); 5] = [
    (Material::MineralWool, 1.5),
    (Material::StructuralPanel, 0.25),
    (Material::Gypsum, 0.375),
    (Material::SheetSteel, 0.016),
    (Material::CementBoard, 0.25),
];

/// Whether a layer is an ignition barrier.
pub fn ignition_barrier(layer: &Layer) -> Answer<LayerFact> {
    let Some(material) = layer.material else { return Answer::Depends(vec![LayerFact::Material]) };
    let Some((_, least)) = IGNITION.iter().find(|(listed, _)| *listed == material) else { return Answer::No };
    Answer::all([
        Answer::of(layer.on_face, LayerFact::Face),
        Answer::of(layer.complete, LayerFact::Complete),
        Answer::of(layer.thickness.map(|thickness| at_least(thickness, inches(*least))), LayerFact::Thickness),
    ])
}
