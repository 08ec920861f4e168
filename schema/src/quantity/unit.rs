//! One unit: how it is printed, how it may be spelled, what it is in SI.

use super::spelling;

/// A unit of one [`Kind`](super::Kind).
#[derive(Debug)]
pub struct Unit {
    /// As it is printed: `"ft³"`.
    pub(super) symbol: &'static str,
    /// Spellings in the form [`spelling::key`] gives; the first is that of the symbol.
    pub(super) keys: &'static [&'static str],
    pub(super) scale: Scale,
}

/// How a number of the unit becomes a number in SI base units.
#[derive(Debug, Clone, Copy)]
pub(super) enum Scale {
    /// Multiply by the factor.
    Linear(fn() -> f64),
    /// A temperature scale, whose zero is not that of the kelvin.
    Thermometer { to_si: fn(f64) -> f64, from_si: fn(f64) -> f64 },
}

impl Unit {
    /// The symbol as it is printed, such as `"in²"`.
    pub fn symbol(&self) -> &'static str {
        self.symbol
    }

    /// A number of this unit in SI base units.
    pub fn to_si(&self, number: f64) -> f64 {
        match self.scale {
            Scale::Linear(factor) => number * factor(),
            Scale::Thermometer { to_si, .. } => to_si(number),
        }
    }

    /// A number in SI base units as a number of this unit.
    pub fn from_si(&self, si: f64) -> f64 {
        match self.scale {
            Scale::Linear(factor) => si / factor(),
            Scale::Thermometer { from_si, .. } => from_si(si),
        }
    }
}

/// The unit of the list that is spelled so. Letter case decides only where it must: `"PSI"` is psi.
pub(super) fn find(units: &'static [Unit], text: &str) -> Option<&'static Unit> {
    let key = spelling::key(text);
    let exact = units.iter().find(|unit| unit.keys.contains(&key.as_str()));
    exact.or_else(|| find_any_case(units, &key))
}

/// The only unit of the list that is spelled so when letter case is overlooked, but for that of a leading m: it is a
/// thousandth or a million.
fn find_any_case(units: &'static [Unit], key: &str) -> Option<&'static Unit> {
    let alike = |k: &str| k.eq_ignore_ascii_case(key) && k.starts_with('m') == key.starts_with('m');
    let mut found = units.iter().filter(|unit| unit.keys.iter().any(|k| alike(k)));
    match (found.next(), found.next()) {
        (Some(unit), None) => Some(unit),
        _ => None,
    }
}
