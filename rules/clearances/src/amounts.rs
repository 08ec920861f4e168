//! Numbers of the geometry, in metres, as amounts.

use redtag_rule::prelude::*;
use uom::si::f64::Length;
use uom::si::length::meter;

/// A length.
pub fn metres(number: f64) -> Length {
    Length::new::<meter>(number)
}

/// A length to be said in inches.
pub fn inches(number: f64) -> redtag_rule::Part {
    in_unit(metres(number), "in")
}
