//! Reading a capacity table: rows by height and a second length, interpolated inside the table and never beyond it.

use crate::units;
use redtag_schema::quantity::{at_least, at_most};
use uom::si::f64::{Length, Power};

/// One printed number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Cell {
    /// Seen in print.
    Printed(u16),
    /// From memory.
    Remembered(u16),
    /// Printed as not recommended or not allowed.
    NotRecommended,
    /// Not known here.
    Unknown,
}

/// One row: height, the second length (lateral or rise), three numbers for each of the seven diameters.
#[derive(Clone, Copy, Debug)]
pub(super) struct Row {
    /// Height in feet.
    pub(super) height: f64,
    /// Lateral or rise in feet.
    pub(super) second: f64,
    /// The numbers.
    pub(super) cells: [[Cell; 3]; 7],
}

/// A row of a table.
pub(super) const fn row(height: f64, second: f64, cells: [[Cell; 3]; 7]) -> Row {
    Row { height, second, cells }
}

/// What a capacity rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Basis {
    /// Every number used was seen in print.
    Printed,
    /// At least one number used is from memory.
    Remembered,
}

/// What a table says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Capacity {
    /// An input, and what it rests on.
    Known(Power, Basis),
    /// The table bars the combination.
    NotRecommended,
    /// The table has no such row or column, or its number is not known here.
    Unknown,
}

impl Capacity {
    /// The same less a share: `factor` 0.9 leaves nine tenths.
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        match self {
            Self::Known(input, basis) => Self::Known(input * factor.max(0.0), basis),
            other => other,
        }
    }
}

/// Whether two lengths are one amount written in two units.
pub(super) fn same(left: Length, right: Length) -> bool {
    at_least(left, right) && at_most(left, right)
}

/// Where a length lies among the rows: the two around it and how far along, or one twice.
fn bracket(steps: &[f64], wanted: Length) -> Option<(f64, f64, f64)> {
    if let Some(&exact) = steps.iter().find(|&&step| same(units::feet(step), wanted)) {
        return Some((exact, exact, 0.0));
    }
    let wanted = units::in_feet(wanted);
    let below = steps.iter().copied().filter(|&step| step < wanted).fold(f64::NAN, f64::max);
    let above = steps.iter().copied().filter(|&step| step > wanted).fold(f64::NAN, f64::min);
    (below.is_finite() && above.is_finite()).then(|| (below, above, (wanted - below) / (above - below)))
}

fn between(below: Capacity, above: Capacity, share: f64) -> Capacity {
    match (below, above) {
        (Capacity::Known(low, first), Capacity::Known(high, second)) => {
            Capacity::Known(low + (high - low) * share, first.max(second))
        }
        (Capacity::Unknown, _) | (_, Capacity::Unknown) => Capacity::Unknown,
        _ => Capacity::NotRecommended,
    }
}

fn capacity(cell: Cell) -> Capacity {
    let thousands = |number: u16| units::btu_per_hour(f64::from(number) * 1000.0);
    match cell {
        Cell::Printed(number) => Capacity::Known(thousands(number), Basis::Printed),
        Cell::Remembered(number) => Capacity::Known(thousands(number), Basis::Remembered),
        Cell::NotRecommended => Capacity::NotRecommended,
        Cell::Unknown => Capacity::Unknown,
    }
}

/// The number at a height and a second length. `second` answers, for the second lengths printed at one height, the one to read
/// instead of the one wanted; nothing where the table says nothing.
pub(super) fn read(
    rows: &[Row],
    (column, number): (usize, usize),
    height: Length,
    second: impl Fn(&[f64]) -> Option<Length>,
) -> Capacity {
    let mut heights: Vec<f64> = rows.iter().map(|row| row.height).collect();
    heights.dedup();
    let at_height = |height: f64| {
        let block: Vec<&Row> = rows.iter().filter(|row| row.height == height).collect();
        let seconds: Vec<f64> = block.iter().map(|row| row.second).collect();
        let cell = |wanted: f64| {
            let found = block.iter().find(|row| row.second == wanted).and_then(|row| row.cells.get(column)?.get(number));
            found.map_or(Capacity::Unknown, |&cell| capacity(cell))
        };
        let place = second(&seconds).and_then(|wanted| bracket(&seconds, wanted));
        place.map_or(
            Capacity::Unknown,
            |(below, above, share)| {
                if below == above { cell(below) } else { between(cell(below), cell(above), share) }
            },
        )
    };
    match bracket(&heights, height) {
        Some((below, above, _)) if below == above => at_height(below),
        Some((below, above, share)) => between(at_height(below), at_height(above), share),
        None => Capacity::Unknown,
    }
}
