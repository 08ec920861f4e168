//! What is known of each kind: names, examples, units.

pub(super) mod electricity;
mod exact;
pub(super) mod flow;
pub(super) mod geometry;
pub(super) mod heat;
pub(super) mod other;

use super::unit::{Scale, Unit};

/// What is known of one kind.
pub(super) struct Facts {
    /// In documents.
    pub name: &'static str,
    /// In a sentence.
    pub phrase: &'static str,
    /// Amounts as people write them, the most usual first.
    pub examples: &'static [&'static str],
    /// May be below zero.
    pub negative: bool,
    /// May be written in parts, such as feet and inches.
    pub parts: bool,
    /// Printed in US customary units.
    pub us: &'static str,
    /// Printed in SI units.
    pub si: &'static str,
    /// The coherent SI unit.
    pub base: &'static str,
    /// Every unit, the most usual first.
    pub units: &'static [Unit],
}

/// A unit that is a multiple of the SI unit.
const fn unit(symbol: &'static str, keys: &'static [&'static str], factor: fn() -> f64) -> Unit {
    Unit { symbol, keys, scale: Scale::Linear(factor) }
}

/// A unit of a temperature scale.
const fn thermometer(
    symbol: &'static str,
    keys: &'static [&'static str],
    to_si: fn(f64) -> f64,
    from_si: fn(f64) -> f64,
) -> Unit {
    Unit { symbol, keys, scale: Scale::Thermometer { to_si, from_si } }
}

/// The factor of a `uom` unit: `factor!(Length, length::inch)` is 0.0254.
macro_rules! factor {
    ($quantity:ident, $group:ident :: $unit:ident) => {
        uom::si::f64::$quantity::new::<uom::si::$group::$unit>(1.0).value
    };
}
use factor;
