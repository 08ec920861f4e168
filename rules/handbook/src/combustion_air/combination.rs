//! Indoor and outdoor air combined.

use crate::units;
use redtag_schema::quantity::at_least;
use uom::si::f64::{Ratio, Volume};

/// How much of the outdoor openings is still needed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Combination {
    /// Volume at hand over volume asked for.
    pub ratio: Ratio,
    /// The part of every outdoor opening's full size that is still asked for: one less the ratio, not below zero.
    pub reduction: Ratio,
    /// Whether indoor air alone suffices.
    pub indoor_suffices: bool,
}

/// The reduction of outdoor openings for the indoor volume at hand. Least dimensions and positions still bind. Source:
/// [`sources::COMBINATION`](super::sources::COMBINATION).
///
/// With nothing asked for, indoor air suffices.
pub fn combination(available: Volume, required: Volume) -> Combination {
    if at_least(available, required) {
        let ratio = if required > Volume::default() { available / required } else { units::fraction(1.0) };
        return Combination { ratio, reduction: units::fraction(0.0), indoor_suffices: true };
    }
    let ratio: Ratio = available / required;
    Combination { ratio, reduction: units::fraction(1.0) - ratio, indoor_suffices: false }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::*;

    #[test]
    fn half_the_volume_halves_the_openings() {
        let half = combination(cubic_feet(3500.0), cubic_feet(7000.0));
        assert!((in_fraction(half.reduction) - 0.5).abs() < 1e-12);
        assert!(!half.indoor_suffices);
    }

    #[test]
    fn enough_volume_needs_no_opening() {
        let full = combination(cubic_feet(7000.0), cubic_feet(7000.0));
        assert!(full.indoor_suffices);
        assert_eq!(in_fraction(full.reduction), 0.0);
        assert!(combination(cubic_feet(0.0), cubic_feet(0.0)).indoor_suffices);
    }
}
