//! What louvers, grilles and screens leave of an opening.

use crate::units;
use redtag_schema::quantity::at_least;
use uom::si::f64::{Area, Length, Ratio};

/// What covers an opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Cover {
    /// Nothing.
    Nothing,
    /// A louver or grille of wood.
    Wood,
    /// A louver or grille of metal.
    Metal,
}

/// Free part of a louver or grille whose free area is not known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FreeFractions {
    /// Of wood.
    pub wood: Ratio,
    /// Of metal.
    pub metal: Ratio,
}

impl Default for FreeFractions {
    /// Wood 25 percent, metal 75 percent. Source: [`sources::LOUVERS`](super::sources::LOUVERS).
    fn default() -> Self {
        Self { wood: units::fraction(0.25), metal: units::fraction(0.75) }
    }
}

impl FreeFractions {
    /// Wood 20 percent, metal 60 percent, as older manuals still print. Source:
    /// [`sources::LOUVERS_SUPERSEDED`](super::sources::LOUVERS_SUPERSEDED).
    pub fn superseded() -> Self {
        Self { wood: units::fraction(0.20), metal: units::fraction(0.60) }
    }

    /// The free part under a cover.
    pub fn of(&self, cover: Cover) -> Ratio {
        match cover {
            Cover::Nothing => units::fraction(1.0),
            Cover::Wood => self.wood,
            Cover::Metal => self.metal,
        }
    }
}

/// Free area of an opening: the known one, else the gross area times the free part assumed for its cover. Source:
/// [`sources::LOUVERS`](super::sources::LOUVERS).
pub fn free_area(gross: Area, known: Option<Area>, cover: Cover, fractions: &FreeFractions) -> Area {
    known.unwrap_or_else(|| gross * fractions.of(cover))
}

/// Gross area that leaves `free` under the cover; `None` when the free part is not above zero.
pub fn gross_area_needed(free: Area, cover: Cover, fractions: &FreeFractions) -> Option<Area> {
    let part = fractions.of(cover);
    (units::in_fraction(part) > 0.0).then(|| free / part)
}

/// Whether a screen is coarse enough; the model code's least mesh is 1/4 in. Source:
/// [`sources::SCREENS`](super::sources::SCREENS).
pub fn screen_mesh_suffices(mesh: Length, least: Length) -> bool {
    at_least(mesh, least)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::*;

    #[test]
    fn metal_leaves_three_quarters_and_wood_one_quarter() {
        let fractions = FreeFractions::default();
        let free = |gross, cover| in_square_inches(free_area(square_inches(gross), None, cover, &fractions));
        assert!((free(120.0, Cover::Metal) - 90.0).abs() < 1e-9);
        assert!((free(139.0, Cover::Wood) - 34.75).abs() < 1e-9);
        assert!((free(139.0, Cover::Nothing) - 139.0).abs() < 1e-9);
    }

    #[test]
    fn a_known_free_area_is_taken_as_it_is() {
        let known = Some(square_inches(51.0));
        let free = free_area(square_inches(120.0), known, Cover::Wood, &FreeFractions::default());
        assert_eq!(free, square_inches(51.0));
    }

    #[test]
    fn gross_area_undoes_free_area() {
        for fractions in [FreeFractions::default(), FreeFractions::superseded()] {
            for cover in [Cover::Nothing, Cover::Wood, Cover::Metal] {
                let gross = gross_area_needed(square_inches(35.0), cover, &fractions).unwrap();
                let free = in_square_inches(free_area(gross, None, cover, &fractions));
                assert!((free - 35.0).abs() < 1e-9);
            }
        }
        let none = FreeFractions { wood: fraction(0.0), metal: fraction(0.75) };
        assert_eq!(gross_area_needed(square_inches(35.0), Cover::Wood, &none), None);
    }

    #[test]
    fn a_quarter_inch_mesh_is_coarse_enough() {
        assert!(screen_mesh_suffices(inches(0.25), inches(0.25)));
        assert!(!screen_mesh_suffices(inches(0.125), inches(0.25)));
    }
}
