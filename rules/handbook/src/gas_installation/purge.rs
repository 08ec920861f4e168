//! Which piping must be purged to the outdoors.

use super::sources;
use crate::{Sourced, units};
use uom::si::f64::Length;

/// Rows: nominal size from, in inches; length in feet beyond which gas is let out to the outdoors only.
const ROWS: [(f64, f64); 5] = [(8.0, 0.0), (6.0, 10.0), (4.0, 15.0), (3.0, 30.0), (2.5, 50.0)];

/// The length of pipe of this nominal size beyond which it is purged to the outdoors; `None` below 2 1/2 in, where no
/// length asks for it.
pub fn outdoor_purge_beyond(nominal: Length) -> Option<Sourced<Length>> {
    let size = units::in_inches(nominal);
    let &(_, feet) = ROWS.iter().find(|(from, _)| size > from - 1e-6)?;
    Some(Sourced::new(units::feet(feet), sources::PURGE))
}

#[cfg(test)]
mod tests {
    use super::*;

    // 2018 IRC G2417.7.1.
    #[test]
    fn the_table_row_by_row() {
        let beyond = |inches| outdoor_purge_beyond(units::inches(inches)).map(|row| units::in_feet(row.value).round());
        let rows = [2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0].map(beyond);
        assert_eq!(rows, [None, Some(50.0), Some(30.0), Some(15.0), Some(15.0), Some(10.0), Some(0.0), Some(0.0)]);
    }
}
