//! How far apart the supports of gas pipe may be.

use super::sources;
use crate::{Sourced, units};
use uom::si::f64::Length;

/// What runs, and which way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Run {
    /// Steel pipe.
    Steel {
        /// Whether it stands upright.
        vertical: bool,
    },
    /// Smooth-wall tubing.
    Tubing {
        /// Whether it stands upright.
        vertical: bool,
    },
    /// Corrugated tubing.
    Corrugated,
}

/// What the table asks for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Support {
    /// Supports no farther apart than this.
    Within(Length),
    /// A support at every floor level.
    EveryFloor,
    /// What the maker says.
    Maker,
}

/// The support a pipe of this nominal size needs; `None` where the table has no row for it.
pub fn support_spacing(run: Run, nominal: Length) -> Option<Sourced<Support>> {
    let size = units::in_inches(nominal);
    let feet = |number: f64| Support::Within(units::feet(number));
    let is = |row: f64| (size - row).abs() < 1e-6;
    let (support, source) = match run {
        Run::Corrugated => (Support::Maker, sources::CORRUGATED_SUPPORT),
        Run::Steel { .. } if is(0.5) => (feet(6.0), sources::STEEL_SUPPORT),
        Run::Steel { .. } if is(0.75) || is(1.0) => (feet(8.0), sources::STEEL_SUPPORT),
        Run::Steel { vertical } if size > 1.25 - 1e-6 => (large(vertical, 10.0), sources::LARGE_STEEL_SUPPORT),
        Run::Tubing { .. } if is(0.5) => (feet(4.0), sources::TUBING_SUPPORT),
        Run::Tubing { .. } if is(0.625) || is(0.75) => (feet(6.0), sources::TUBING_SUPPORT),
        Run::Tubing { vertical: true } if size > 1.0 - 1e-6 => (Support::EveryFloor, sources::TUBING_SUPPORT),
        Run::Tubing { .. } if is(0.875) || is(1.0) => (feet(8.0), sources::TUBING_SUPPORT),
        _ => return None,
    };
    Some(Sourced::new(support, source))
}

fn large(vertical: bool, horizontal_feet: f64) -> Support {
    if vertical { Support::EveryFloor } else { Support::Within(units::feet(horizontal_feet)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn feet(run: Run, inches: f64) -> Option<f64> {
        match support_spacing(run, units::inches(inches))?.value {
            Support::Within(length) => Some(units::in_feet(length).round()),
            _ => None,
        }
    }

    // IFGC table 415.1; rows other than steel of 1/2 in to 1 in are from memory.
    #[test]
    fn the_table_row_by_row() {
        let steel = Run::Steel { vertical: false };
        let rows = [0.375, 0.5, 0.75, 1.0, 1.25, 2.0].map(|size| feet(steel, size));
        assert_eq!(rows, [None, Some(6.0), Some(8.0), Some(8.0), Some(10.0), Some(10.0)]);
        let tubing = Run::Tubing { vertical: false };
        let rows = [0.375, 0.5, 0.625, 0.75, 0.875, 1.0, 1.25].map(|size| feet(tubing, size));
        assert_eq!(rows, [None, Some(4.0), Some(6.0), Some(6.0), Some(8.0), Some(8.0), None]);
    }

    #[test]
    fn upright_pipe_of_size_is_held_at_every_floor() {
        let at = |run, size| support_spacing(run, units::inches(size)).unwrap().value;
        assert_eq!(at(Run::Steel { vertical: true }, 1.25), Support::EveryFloor);
        assert_eq!(at(Run::Steel { vertical: true }, 1.0), Support::Within(units::feet(8.0)));
        assert_eq!(at(Run::Tubing { vertical: true }, 1.0), Support::EveryFloor);
        assert_eq!(at(Run::Corrugated, 0.5), Support::Maker);
    }
}
