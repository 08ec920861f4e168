//! The vent of one Category I appliance: tables 504.2(1) and 504.2(2).

use super::grid::{Capacity, read, same};
use super::single_tables::{SINGLE_WALL, TYPE_B};
use super::{Draft, Wall, column};
use crate::units;
use redtag_schema::quantity::at_most;
use uom::si::f64::Length;

/// A vent as its table asks for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vent {
    /// The wall of the connector; `Double` also where the vent stands on its appliance.
    pub wall: Wall,
    /// Diameter.
    pub diameter: Length,
    /// Height from the draft hood or flue collar to the end.
    pub height: Length,
    /// Length sideways, connector included.
    pub lateral: Length,
}

impl Vent {
    fn read(&self, number: usize) -> Capacity {
        let rows = match self.wall {
            Wall::Double => TYPE_B,
            Wall::Single => SINGLE_WALL,
        };
        let Some(column) = column(self.diameter) else { return Capacity::Unknown };
        read(rows, (column, number), self.height, |laterals| Some(self.row_lateral(laterals)))
    }

    /// The row without lateral is for vents without elbows: a short lateral is read in the next row and never between the two.
    fn row_lateral(&self, laterals: &[f64]) -> Length {
        let straight = same(self.lateral, units::feet(0.0));
        let first = laterals.iter().copied().filter(|&lateral| lateral > 0.0).fold(f64::INFINITY, f64::min);
        if !straight && first.is_finite() && at_most(self.lateral, units::feet(first)) {
            units::feet(first)
        } else {
            self.lateral
        }
    }
}

/// The greatest input the vent carries, with the elbows the table has counted in: none without a lateral, else two.
/// Source: IFGC tables 504.2(1) and 504.2(2).
pub fn greatest(vent: &Vent, draft: Draft) -> Capacity {
    vent.read(match draft {
        Draft::Fan => 1,
        Draft::Natural => 2,
    })
}

/// The least input a fan-assisted appliance must have for the vent to stay dry. Draft-hood appliances have no least input.
/// Source: IFGC tables 504.2(1) and 504.2(2).
pub fn least_fan(vent: &Vent) -> Capacity {
    vent.read(0)
}

/// How many quarter-turn elbows the table has counted in.
pub fn elbows_included(lateral: Length) -> u32 {
    if same(lateral, units::feet(0.0)) { 0 } else { 2 }
}
