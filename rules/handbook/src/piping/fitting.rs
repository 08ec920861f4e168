//! What screwed fittings add to the length of a pipe.

use super::NominalSize;
use super::sources;
use crate::{Sourced, units};
use uom::si::f64::Length;

/// A screwed fitting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Fitting {
    /// A 45-degree elbow.
    Elbow45,
    /// A 90-degree elbow.
    Elbow90,
    /// A tee, flow through the branch.
    TeeBranch,
    /// A close return bend, 180 degrees.
    ReturnBend,
}

/// Length of straight pipe, in inside diameters, that drops as much pressure as the fitting. Source:
/// [`sources::FITTINGS`].
pub fn equivalent_diameters(fitting: Fitting) -> f64 {
    match fitting {
        Fitting::Elbow45 => 14.0,
        Fitting::Elbow90 => 30.0,
        Fitting::TeeBranch => 60.0,
        Fitting::ReturnBend => 67.0,
    }
}

/// Length of straight schedule 40 pipe that drops as much pressure as the fitting, as printed; `None` for sizes whose row was
/// not read (above 2 in). Source: [`sources::FITTINGS`].
pub fn equivalent_length(fitting: Fitting, size: NominalSize) -> Option<Length> {
    let printed = match size {
        NominalSize::Half => [0.73, 1.55, 3.10, 3.47],
        NominalSize::ThreeQuarters => [0.96, 2.06, 4.12, 4.60],
        NominalSize::One => [1.22, 2.62, 5.24, 5.82],
        NominalSize::OneAndAQuarter => [1.61, 3.45, 6.90, 7.66],
        NominalSize::OneAndAHalf => [1.88, 4.02, 8.04, 8.95],
        NominalSize::Two => [2.41, 5.17, 10.3, 11.5],
        _ => return None,
    };
    Some(units::feet(match fitting {
        Fitting::Elbow45 => printed[0],
        Fitting::Elbow90 => printed[1],
        Fitting::TeeBranch => printed[2],
        Fitting::ReturnBend => printed[3],
    }))
}

/// The part of the measured length added where fittings are not known. Source: [`sources::UNKNOWN_FITTINGS`].
pub const UNKNOWN_FITTINGS: Sourced<f64> = Sourced::new(0.5, sources::UNKNOWN_FITTINGS);

/// Length in feet that each bend or fitting of corrugated tubing adds beyond those its table has in it. Source:
/// [`sources::TUBING_BENDS`].
pub const FEET_PER_TUBING_BEND: Sourced<f64> = Sourced::new(1.3, sources::TUBING_BENDS);

/// A measured length with an allowance for fittings nobody has counted.
pub fn with_unknown_fittings(measured: Length, allowance: f64) -> Length {
    measured * (1.0 + allowance)
}

#[cfg(test)]
mod tests {
    use super::super::{SIZES, inside_diameter};
    use super::*;
    use crate::units::*;

    const ALL: [Fitting; 4] = [Fitting::Elbow45, Fitting::Elbow90, Fitting::TeeBranch, Fitting::ReturnBend];

    // Published: 2018 IRC appendix A, table A.2.2, printed to three figures, against its own ratios of length to diameter.
    #[test]
    fn the_printed_lengths_follow_from_the_printed_ratios() {
        for size in SIZES.into_iter().filter(|size| *size <= NominalSize::Two) {
            for fitting in ALL {
                let printed = in_feet(equivalent_length(fitting, size).unwrap());
                let computed = in_feet(inside_diameter(size) * equivalent_diameters(fitting));
                assert!((printed / computed - 1.0).abs() < 0.011, "{fitting:?} {size}: {printed} {computed}");
            }
        }
        assert_eq!(equivalent_length(Fitting::Elbow90, NominalSize::Three), None);
    }

    #[test]
    fn uncounted_fittings_add_half() {
        let length = with_unknown_fittings(feet(40.0), UNKNOWN_FITTINGS.value);
        assert!((in_feet(length) - 60.0).abs() < 1e-9);
    }
}
