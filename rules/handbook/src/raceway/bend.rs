//! Radii of bends, NEC chapter 9, Table 2.

use crate::source::Source;
use crate::units::inches;
use uom::si::f64::Length;

/// Where the radii come from.
pub const BEND_RADIUS: Source = Source::new("from memory of NEC chapter 9 Table 2, one-shot and full-shoe benders");

const RADII: [(u32, f64); 10] =
    [(8, 4.0), (12, 4.5), (16, 5.75), (20, 7.25), (24, 8.25), (32, 9.5), (40, 10.5), (48, 13.0), (56, 15.0), (64, 16.0)];

/// The least radius to the centre line of a bend made with a one-shot or full-shoe bender.
pub fn least_bend_radius(trade_size: Length) -> Option<Length> {
    let sixteenths = super::sixteenths(trade_size)?;
    RADII.iter().find(|row| row.0 == sixteenths).map(|row| inches(row.1))
}
