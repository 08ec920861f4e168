//! What elbows, long connectors and corrugated liners take off a table's capacity, and when a vent may be smaller than the
//! outlet of its appliance.

use crate::units;
use redtag_schema::quantity::{at_least, at_most};
use uom::si::f64::Length;

/// The factor for elbows beyond those the table has counted in: `share` (10 %) for each. Source: IFGC 504.2.3 and 504.3.3; the
/// worked example 1 of IFGC Appendix B.
pub fn elbows(number: u32, included: u32, share: f64) -> f64 {
    (1.0 - share * f64::from(number.saturating_sub(included))).max(0.0)
}

/// The longest connector of a shared vent without reduction: `per_inch` (1.5 ft) for each inch of diameter. Source: IFGC 504.3.2.
pub fn free_connector_length(diameter: Length, per_inch: Length) -> Length {
    per_inch * units::in_inches(diameter)
}

/// The factor for a common part that runs sideways before it rises: 10 % off. Its elbows take no less. Source: IFGC 504.3.4,
/// the share from memory; its greatest length stands in appendix B (2018).
pub fn manifold(sideways: Length) -> f64 {
    if sideways.value > 0.0 { 0.9 } else { 1.0 }
}

/// The factor for a longer connector: 10 % off for each further such length begun. Source: IFGC 504.3.2 (2018 IRC page 599).
pub fn long_connector(length: Length, free: Length) -> f64 {
    if at_most(length, free) {
        return 1.0;
    }
    if free.value <= 0.0 {
        return 0.0;
    }
    // On a whole multiple the shorter band holds: 12 ft of 6 ft is "not exceeding 12 ft".
    let times = (length / free).value;
    let begun = (times * (1.0 - redtag_schema::quantity::TOLERANCE)).ceil() - 1.0;
    (1.0 - 0.1 * begun).max(0.0)
}

/// Why a vent may not be smaller than the outlet of its appliance.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Smaller {
    /// The vent is lower than 10 ft.
    Low,
    /// It is more than one size smaller.
    TwoSizes,
    /// A 3 in vent on a 4 in draft hood.
    ThreeOnFour,
}

/// Whether a vent of this diameter may serve this outlet. Outlets to 12 in. Source: IFGC 504.2.2 (UPC 2018 510.1.2 after NFPA 54
/// 13.1.2).
///
/// # Errors
/// The first condition it breaks.
pub fn smaller_than_outlet(diameter: Length, outlet: Length, height: Length, fan: bool) -> Result<(), Smaller> {
    if at_least(diameter, outlet) {
        return Ok(());
    }
    if !fan && at_most(outlet, units::inches(4.0)) {
        return Err(Smaller::ThreeOnFour);
    }
    if !at_least(diameter + units::inches(1.0), outlet) {
        return Err(Smaller::TwoSizes);
    }
    if at_least(height, units::feet(10.0)) { Ok(()) } else { Err(Smaller::Low) }
}
