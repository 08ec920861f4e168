//! The run of a vent connector.

use uom::si::f64::Length;

/// Its length sideways, from its length along and its rise: where it has an elbow it is taken to rise first and then to run;
/// without one it is the long side of the slope. A rise longer than the pipe is taken for the whole.
pub fn horizontal(length: Length, rise: Length, elbows: u32) -> Length {
    let zero = Length::default();
    if rise > length {
        return zero;
    }
    if elbows > 0 { length - rise } else { (length * length - rise * rise).max(zero * zero).sqrt() }
}

/// The longest horizontal run: three quarters of the vent's height for a bare connector, the whole for an insulated one.
/// Source: IFGC 503.10 (a gas utility's guide).
pub fn longest(height: Length, insulated: bool, bare_share: f64, insulated_share: f64) -> Length {
    height * if insulated { insulated_share } else { bare_share }
}
