//! How much of a raceway may be filled, NEC chapter 9, Table 1 and its notes.

use super::{Conductor, Inside};
use crate::source::Source;
use crate::units::{in_inches, in_square_inches};
use uom::si::f64::{Area, Length};

/// Where the limits come from.
pub const FILL: Source = Source::new("NEC chapter 9 Table 1 (2017 text, web copy)");

/// The share of the inside that may be filled.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// One conductor or cable.
    pub one: f64,
    /// Two.
    pub two: f64,
    /// More than two.
    pub more: f64,
    /// A nipple between enclosures, whatever the count.
    pub nipple: f64,
}

impl Default for Limits {
    fn default() -> Self {
        Self { one: 0.53, two: 0.31, more: 0.40, nipple: 0.60 }
    }
}

impl Limits {
    /// The share for a number of conductors.
    pub fn share(&self, count: u32, nipple: bool) -> f64 {
        match count {
            _ if nipple => self.nipple,
            0 | 1 => self.one,
            2 => self.two,
            _ => self.more,
        }
    }
}

/// The area that `count` conductors may take.
pub fn limit(inside: &Inside, limits: &Limits, count: u32, nipple: bool) -> Area {
    inside.area * limits.share(count, nipple)
}

/// How many conductors of one size, alone, may run in a raceway: the number that fits, rounded up where its decimal part is
/// 0.8 or more (note 7).
pub fn same_size_count(inside: &Inside, limits: &Limits, conductor: &Conductor, nipple: bool) -> u32 {
    let area = in_square_inches(conductor.area);
    if area <= 0.0 {
        return 0;
    }
    let fits = |count: u32| in_square_inches(limit(inside, limits, count, nipple)) / area;
    let rounded = |exact: f64| {
        let whole = libm::floor(exact);
        // 1e-9: what dividing printed decimals leaves over.
        (if exact - whole >= 0.8 - 1e-9 { whole + 1.0 } else { whole }) as u32
    };
    let many = rounded(fits(3));
    if many >= 3 {
        return many;
    }
    if rounded(fits(2)) >= 2 { 2 } else { u32::from(rounded(fits(1)) >= 1) }
}

/// How many more of one conductor could be pulled beside what is there.
///
/// `taken` is the area of what is there, `count` its number. Where the raceway would hold conductors of this size alone, note
/// 7 rounds; in a mixture nothing is rounded.
pub fn more(inside: &Inside, limits: &Limits, (count, taken): (u32, Area), conductor: &Conductor, nipple: bool) -> u32 {
    if count == 0 {
        return same_size_count(inside, limits, conductor, nipple);
    }
    let each = in_square_inches(conductor.area);
    if each <= 0.0 {
        return 0;
    }
    // Two may take less than three: the answer is the largest number that fits, not the first that does not.
    let holds = |extra: u32| {
        let total = in_square_inches(taken) + f64::from(extra) * each;
        total <= in_square_inches(limit(inside, limits, count + extra, nipple)) * (1.0 + 1e-12)
    };
    let most = libm::floor(in_square_inches(inside.area) / each).min(10_000.0) as u32;
    (1..=most).rev().find(|extra| holds(*extra)).unwrap_or(0)
}

/// The ratio of the inside diameter to that of one of three equal conductors pulled together; between about 2.8 and 3.2 they
/// may wedge side by side. `bent` takes the raceway 5 percent wider, as cable makers do for bends.
pub fn jam_ratio(inside: Length, conductor: Length, bent: bool) -> f64 {
    let widened = if bent { 1.05 } else { 1.0 };
    widened * in_inches(inside) / in_inches(conductor)
}
