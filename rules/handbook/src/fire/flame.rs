//! Flame spread of wall and ceiling finishes and of insulation.

use super::{Answer, LayerFact, Material};

/// Flame spread and smoke-developed indexes, as ASTM E84 and UL 723 measure them.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct FlameIndexes {
    /// Flame spread index.
    pub flame: Option<f64>,
    /// Smoke-developed index.
    pub smoke: Option<f64>,
}

/// The most each index may be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FlameLimits {
    /// Flame spread of a finish.
    pub finish: f64,
    /// Flame spread of insulation and its facing.
    pub insulation: f64,
    /// Smoke developed by either.
    pub smoke: f64,
}

impl Default for FlameLimits {
    fn default() -> Self {
        Self { finish: 200.0, insulation: 25.0, smoke: 450.0 }
    }
}

/// How a surface is judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Surface {
    /// As a finish.
    Finish,
    /// As insulation.
    Insulation,
}

impl Surface {
    /// How a material is judged.
    pub fn of(material: Material) -> Self {
        match material {
            Material::MineralWool | Material::GlassFiber | Material::Foam => Self::Insulation,
            _ => Self::Finish,
        }
    }
}

/// Greatest flame spread and smoke of untreated wood and wood panels: class C of AWC DCA 1.
const WOOD: (f64, f64) = (200.0, 450.0);

/// Whether a surface keeps its limits: by its stated indexes, or by what its material is known for. Mineral finishes and gypsum
/// board keep any limit of a finish.
pub fn surface_meets(material: Material, indexes: FlameIndexes, limits: &FlameLimits) -> Answer<LayerFact> {
    let most = match Surface::of(material) {
        Surface::Finish => limits.finish,
        Surface::Insulation => limits.insulation,
    };
    let held = |flame: f64, smoke: f64| flame <= most && smoke <= limits.smoke;
    match (indexes.flame, indexes.smoke, material) {
        (Some(flame), Some(smoke), _) => Answer::known(held(flame, smoke)),
        (Some(flame), _, _) if flame > most => Answer::No,
        (_, Some(smoke), _) if smoke > limits.smoke => Answer::No,
        (_, _, Material::StructuralPanel | Material::Wood) if held(WOOD.0, WOOD.1) => Answer::Yes,
        (_, _, Material::Gypsum) => Answer::Yes,
        (_, _, material) if material.finishes() => Answer::Yes,
        _ => Answer::Depends(vec![LayerFact::Surface]),
    }
}
