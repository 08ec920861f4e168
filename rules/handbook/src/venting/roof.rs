//! How high a vent ends above a roof.

use crate::units;
use redtag_schema::quantity::at_most;
use uom::si::f64::Length;

/// Rise in 12, and the least height above the roof in feet.
const BY_PITCH: [(f64, f64); 12] = [
    (6.0, 1.0),
    (7.0, 1.25),
    (8.0, 1.5),
    (9.0, 2.0),
    (10.0, 2.5),
    (11.0, 3.25),
    (12.0, 4.0),
    (14.0, 5.0),
    (16.0, 6.0),
    (18.0, 7.0),
    (20.0, 7.5),
    (21.0, 8.0),
];

/// The least height of a listed cap above the roof, for a roof that rises `slope` per run; nothing above 21 in 12.
/// Source: IRC figure G2427.6.4 (2018 IRC page 591); the last row from memory.
pub fn listed_cap(slope: f64) -> Option<Length> {
    BY_PITCH.iter().find(|(rise, _)| at_most(slope, rise / 12.0)).map(|&(_, height)| units::feet(height))
}
