//! A vent that several Category I appliances share: tables 504.3(1) and 504.3(2).

use super::common_tables::{COMMON_SINGLE_WALL, COMMON_TYPE_B, CONNECTOR_SINGLE_WALL, CONNECTOR_TYPE_B};
use super::grid::{Capacity, read};
use super::{Draft, Wall, column};
use crate::units;
use redtag_schema::quantity::at_most;
use uom::si::f64::Length;

/// Which appliances share a vent.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Mix {
    /// Fan-assisted ones only.
    Fan,
    /// Fan-assisted ones and ones with draft hoods.
    FanAndNatural,
    /// Ones with draft hoods only.
    Natural,
}

impl Mix {
    /// The mix of a list; an empty one counts as draft hoods.
    pub fn of(drafts: &[Draft]) -> Self {
        let fans = drafts.iter().filter(|&&draft| draft == Draft::Fan).count();
        match fans {
            0 => Self::Natural,
            all if all == drafts.len() => Self::Fan,
            _ => Self::FanAndNatural,
        }
    }
}

/// One connector of a shared vent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Connector {
    /// Its wall.
    pub wall: Wall,
    /// Diameter.
    pub diameter: Length,
    /// Height of the whole vent above the appliance.
    pub height: Length,
    /// How far the connector rises to where it joins.
    pub rise: Length,
}

impl Connector {
    fn read(&self, number: usize) -> Capacity {
        let rows = match self.wall {
            Wall::Double => CONNECTOR_TYPE_B,
            Wall::Single => CONNECTOR_SINGLE_WALL,
        };
        let Some(column) = column(self.diameter) else { return Capacity::Unknown };
        // Capacity grows with the rise: a connector that rises more than the last row is held against the last row.
        read(rows, (column, number), self.height, |rises| {
            let last = units::feet(rises.iter().copied().fold(0.0, f64::max));
            Some(if at_most(self.rise, last) { self.rise } else { last })
        })
    }
}

/// The greatest input a connector carries, two elbows counted in. Below 1 ft of rise the table says nothing.
/// Source: IFGC tables 504.3(1) and 504.3(2).
pub fn greatest_in_connector(connector: &Connector, draft: Draft) -> Capacity {
    connector.read(match draft {
        Draft::Fan => 1,
        Draft::Natural => 2,
    })
}

/// The least input of a fan-assisted appliance on this connector. Source: IFGC tables 504.3(1) and 504.3(2).
pub fn least_fan_in_connector(connector: &Connector) -> Capacity {
    connector.read(0)
}

/// The greatest sum of inputs the common part carries, without elbows. `wall` is that of the connectors.
/// Source: IFGC tables 504.3(1) and 504.3(2).
pub fn greatest_common(wall: Wall, diameter: Length, height: Length, mix: Mix) -> Capacity {
    let rows = match wall {
        Wall::Double => COMMON_TYPE_B,
        Wall::Single => COMMON_SINGLE_WALL,
    };
    let number = match mix {
        Mix::Fan => 0,
        Mix::FanAndNatural => 1,
        Mix::Natural => 2,
    };
    let Some(column) = column(diameter) else { return Capacity::Unknown };
    read(rows, (column, number), height, |_| Some(units::feet(0.0)))
}
