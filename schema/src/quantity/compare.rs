//! The one place where an amount meets a limit.

use super::{Amount, Dimension};
use uom::si::Quantity;

/// How far apart, relative to the larger, two SI numbers may lie and still be the same amount written in two units.
///
/// Two conversions leave a few units in the sixteenth digit; no shortfall anybody can measure is this small.
pub const TOLERANCE: f64 = 1e-9;

/// Anything that has a number in SI base units: a plain `f64`, an [`Amount`] or a `uom` quantity.
pub trait SiNumber {
    /// The number in SI base units.
    fn si_number(&self) -> f64;
}

impl SiNumber for f64 {
    fn si_number(&self) -> f64 {
        *self
    }
}

impl<D: Dimension> SiNumber for Amount<D> {
    fn si_number(&self) -> f64 {
        self.si()
    }
}

impl<D, U> SiNumber for Quantity<D, U, f64>
where
    D: uom::si::Dimension + ?Sized,
    U: uom::si::Units<f64> + ?Sized,
{
    fn si_number(&self) -> f64 {
        self.value
    }
}

impl<T: SiNumber> SiNumber for &T {
    fn si_number(&self) -> f64 {
        (*self).si_number()
    }
}

/// Whether `actual` is not less than `limit`; equal amounts pass. False when either is not a number.
pub fn at_least<T: SiNumber>(actual: T, limit: T) -> bool {
    let (actual, limit) = (actual.si_number(), limit.si_number());
    actual >= limit || same(actual, limit)
}

/// Whether `actual` is not more than `limit`; equal amounts pass. False when either is not a number.
pub fn at_most<T: SiNumber>(actual: T, limit: T) -> bool {
    let (actual, limit) = (actual.si_number(), limit.si_number());
    actual <= limit || same(actual, limit)
}

/// Whether two finite SI numbers differ by no more than conversion leaves behind.
fn same(left: f64, right: f64) -> bool {
    left.is_finite() && right.is_finite() && (left - right).abs() <= TOLERANCE * left.abs().max(right.abs())
}
