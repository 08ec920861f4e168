//! Tube and pipe: what the nominal size means inside and outside.

use crate::units;
use uom::si::f64::Length;

/// What a tube is, as far as its diameters go.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TubeKind {
    /// Copper tube type K.
    CopperK,
    /// Copper tube type L.
    CopperL,
    /// Copper tube type M.
    CopperM,
    /// Cross-linked or raised-temperature polyethylene, copper tube size, SDR 9.
    Pex,
    /// Chlorinated polyvinyl chloride, copper tube size, SDR 11.
    Cpvc,
    /// Polyethylene controlled by its inside diameter.
    Polyethylene,
    /// Polyvinyl chloride or steel, schedule 40.
    Schedule40,
}

/// The nominal sizes the tables know, in inches, the smallest first.
pub const NOMINAL: [f64; 9] = [0.5, 0.75, 1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0];

/// The place of a size among [`NOMINAL`]; `None` for sizes that are not made.
pub fn nominal(size: Length) -> Option<usize> {
    let inches = units::in_inches(size);
    NOMINAL.iter().position(|&made| (inches - made).abs() < 0.01)
}

/// The size so many steps up on a ladder of sizes in inches, the least first. A size between two steps counts from the next above it;
/// `None` past its end. The ladder decides what "two sizes larger" means: with 2-1/2 in a sleeve of a 2 in pipe is 3 in, without it
/// 4 in.
pub fn size_up(ladder: &[f64], size: Length, steps: usize) -> Option<Length> {
    let inches = units::in_inches(size);
    let at = ladder.iter().position(|&made| made >= inches - 0.01)?;
    ladder.get(at + steps).map(|&made| units::inches(made))
}

/// Inside diameter; `None` where the size is not made or not known. Source: [`sources::TUBE`](super::sources::TUBE).
pub fn inside_diameter(kind: TubeKind, size: Length) -> Option<Length> {
    let made: &[f64] = match kind {
        TubeKind::CopperK => &[0.527, 0.745, 0.995, 1.245, 1.481, 1.959],
        TubeKind::CopperL => &[0.545, 0.785, 1.025, 1.265, 1.505, 1.985],
        TubeKind::CopperM => &[0.569, 0.811, 1.055, 1.291, 1.527, 2.009],
        TubeKind::Pex => &[0.485, 0.681, 0.875, 1.069, 1.263, 1.653],
        TubeKind::Cpvc => &[0.485, 0.713, 0.921, 1.125, 1.329, 1.739],
        TubeKind::Polyethylene | TubeKind::Schedule40 => &[0.622, 0.824, 1.049, 1.380, 1.610, 2.067, 2.469, 3.068, 4.026],
    };
    made.get(nominal(size)?).map(|&inches| units::inches(inches))
}

/// Outside diameter; `None` where the size is not made or not known. Source: [`sources::TUBE`](super::sources::TUBE).
pub fn outside_diameter(kind: TubeKind, size: Length) -> Option<Length> {
    const IRON_PIPE: [f64; 9] = [0.840, 1.050, 1.315, 1.660, 1.900, 2.375, 2.875, 3.500, 4.500];
    let at = nominal(size)?;
    match kind {
        // Copper tube size: an eighth of an inch above the nominal size.
        TubeKind::CopperK | TubeKind::CopperL | TubeKind::CopperM | TubeKind::Pex | TubeKind::Cpvc => {
            NOMINAL.get(at).map(|made| units::inches(made + 0.125))
        }
        TubeKind::Schedule40 => IRON_PIPE.get(at).map(|&inches| units::inches(inches)),
        TubeKind::Polyethylene => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{in_inches, inches};

    #[test]
    fn the_ladder_decides_what_two_sizes_larger_means() {
        let with = [0.5, 0.75, 1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0];
        let without = [0.5, 0.75, 1.0, 1.25, 1.5, 2.0, 3.0, 4.0];
        let sleeve =
            |ladder: &[f64], size: f64| size_up(ladder, inches(size), 2).map(in_inches).map(|up| (up * 100.0).round() / 100.0);
        assert_eq!(sleeve(&with, 1.0), Some(1.5));
        assert_eq!((sleeve(&with, 2.0), sleeve(&without, 2.0)), (Some(3.0), Some(4.0)));
        assert_eq!(sleeve(&with, 3.0), None);
    }

    #[test]
    fn inside_is_smaller_than_outside() {
        for kind in [TubeKind::CopperK, TubeKind::CopperL, TubeKind::CopperM, TubeKind::Pex, TubeKind::Cpvc, TubeKind::Schedule40]
        {
            for size in [0.5, 0.75, 1.0, 1.25, 1.5, 2.0].map(inches) {
                assert!(inside_diameter(kind, size) < outside_diameter(kind, size));
            }
        }
        assert_eq!(inside_diameter(TubeKind::Pex, inches(0.6)), None);
    }
}
