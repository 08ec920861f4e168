//! What holds gas piping, keeps it safe and proves it tight: supports, test pressures, purging, bonds, distances of
//! containers for liquefied gas.

mod bond;
mod container;
mod purge;
pub mod sources;
mod support;
mod test;
mod vapour;

pub use bond::{BONDING_GAUGES, gauge};
pub use container::{LARGE_GROUP, Siting, StorageRow, governing_capacity, row, storage_row};
pub use purge::outdoor_purge_beyond;
pub use support::{Run, Support, support_spacing};
pub use test::{greatest_gauge, least_test_pressure};
pub use vapour::capacity_for_vapour;

use crate::units;
use uom::si::f64::Volume;

/// A volume in US gallons of 231 in3.
pub fn gallons(number: f64) -> Volume {
    units::cubic_feet(number * 231.0 / 1728.0)
}

/// The volume as a number of US gallons.
pub fn in_gallons(volume: Volume) -> f64 {
    units::in_cubic_feet(volume) * 1728.0 / 231.0
}
