//! Raceways: how much may run in one, whether it can be pulled, how it is held, what heat leaves of its conductors.
//!
//! Lengths, areas and currents are typed; trade sizes are lengths (`1 1/4 in`), AWG sizes are text (`10 AWG`). A function
//! answers `None` where the row of a table is not known: that is no statement that there is none.

mod ampacity;
mod bend;
mod boxes;
mod conductor;
mod fill;
mod inside;
mod support;

pub use ampacity::{
    AMBIENT, AMPACITY, BUNDLING, Derated, Metal, TerminalRating, ambient_factor, bundling_factor, cable_column, derated,
    insulation_rating, largest_device, next_standard, rooftop_adder, small_conductor_limit, standard_below, table_ampacity,
};
pub use bend::{BEND_RADIUS, least_bend_radius};
pub use boxes::{BOX_FILL, BoxFill, PULL_BOX, Row, angle_distance, conductor_volume, partner_distance, straight_length};
pub use conductor::{
    Conductor, Insulation, ORDER, TABLE_5, TABLE_5_LARGE, TABLE_5_RUBBER, TABLE_8, bare_size, kcmil, rank, size_of_kcmil,
    with_unit,
};
pub use fill::{FILL, Limits, jam_ratio, limit, more, same_size_count};
pub use inside::{Inside, TABLE_4, inside, trade_sizes};
pub use support::{Support, support};

#[cfg(test)]
mod tests;

use crate::units::in_inches;
use uom::si::f64::Length;

/// A kind of raceway whose inside is tabulated.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Electrical metallic tubing.
    ElectricalMetallicTubing,
    /// Intermediate metal conduit.
    IntermediateMetalConduit,
    /// Rigid metal conduit.
    RigidMetalConduit,
    /// Rigid PVC conduit, Schedule 40.
    Pvc40,
    /// Rigid PVC conduit, Schedule 80.
    Pvc80,
    /// Electrical nonmetallic tubing.
    ElectricalNonmetallicTubing,
    /// Flexible metal conduit.
    FlexibleMetalConduit,
    /// Liquidtight flexible metal conduit.
    LiquidtightMetal,
    /// Liquidtight flexible nonmetallic conduit, type B.
    LiquidtightNonmetallic,
}

impl Kind {
    /// All of them.
    pub const ALL: [Self; 9] = [
        Self::ElectricalMetallicTubing,
        Self::IntermediateMetalConduit,
        Self::RigidMetalConduit,
        Self::Pvc40,
        Self::Pvc80,
        Self::ElectricalNonmetallicTubing,
        Self::FlexibleMetalConduit,
        Self::LiquidtightMetal,
        Self::LiquidtightNonmetallic,
    ];

    /// Whether it is made to bend.
    pub const fn is_flexible(self) -> bool {
        matches!(self, Self::FlexibleMetalConduit | Self::LiquidtightMetal | Self::LiquidtightNonmetallic)
    }
}

/// A trade size in sixteenths of an inch; `None` where it is not a whole number of them.
fn sixteenths(trade_size: Length) -> Option<u32> {
    let exact = in_inches(trade_size) * 16.0;
    let rounded = libm::round(exact);
    // A size written in millimetres as the metric designator (16, 21, 27 ...) is not one of these.
    ((exact - rounded).abs() < 1e-6 && (0.0..=1600.0).contains(&rounded)).then_some(rounded as u32)
}
