//! How much propane boils off in a container on a cold day.

use super::{gallons, sources};
use crate::{Sourced, units};
use uom::si::f64::{Volume, VolumeRate};

/// Lowest outdoor temperatures of the columns, in degrees Fahrenheit.
const COLUMNS: [f64; 7] = [32.0, 20.0, 10.0, 0.0, -10.0, -30.0, -40.0];
/// Vapour drawn in ft3/h, and the water capacity in gallons each column asks for.
const ROWS: [(f64, [f64; 7]); 5] = [
    (50.0, [115.0, 115.0, 115.0, 250.0, 250.0, 400.0, 600.0]),
    (100.0, [250.0, 250.0, 250.0, 400.0, 500.0, 1000.0, 1500.0]),
    (150.0, [300.0, 400.0, 500.0, 500.0, 1000.0, 1500.0, 2500.0]),
    (200.0, [400.0, 500.0, 750.0, 1000.0, 1200.0, 2000.0, 2500.0]),
    (300.0, [750.0, 1000.0, 1500.0, 2000.0, 2500.0, 4000.0, 5000.0]),
];

/// The water capacity of a container above ground, at least half full, that gives this flow of propane vapour at the lowest
/// temperature to be expected, in degrees Fahrenheit. The row and the column are the next harder ones; `None` past the last.
pub fn capacity_for_vapour(flow: VolumeRate, fahrenheit: f64) -> Option<Sourced<Volume>> {
    let wanted = units::in_cubic_feet_per_hour(flow);
    let column = COLUMNS.iter().position(|&column| fahrenheit > column - 1e-6)?;
    let (_, row) = ROWS.iter().find(|(row, _)| wanted < row * (1.0 + 1e-9))?;
    Some(Sourced::new(gallons(row[column]), sources::VAPOUR))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gas_installation::in_gallons;

    fn wanted(flow: f64, fahrenheit: f64) -> Option<f64> {
        capacity_for_vapour(units::cubic_feet_per_hour(flow), fahrenheit).map(|row| in_gallons(row.value).round())
    }

    // Generator manual (Briggs & Stratton 206484GS, page 14).
    #[test]
    fn the_next_harder_row_and_column_hold() {
        assert_eq!([wanted(50.0, 40.0), wanted(50.0, 32.0), wanted(50.0, 0.0)], [115.0, 115.0, 250.0].map(Some));
        assert_eq!([wanted(100.0, -9.0), wanted(100.0, -10.0), wanted(100.0, -11.0)], [500.0, 500.0, 1000.0].map(Some));
        assert_eq!([wanted(100.1, 32.0), wanted(300.0, -40.0)], [300.0, 5000.0].map(Some));
        assert_eq!([wanted(300.1, 32.0), wanted(50.0, -41.0)], [None, None]);
    }

    // Computed in our notes: 199,000 Btu/h at 2,500 Btu/ft3 is about 80 ft3/h, with 80,000 more about 111.
    #[test]
    fn a_tankless_heater_and_a_furnace() {
        assert_eq!(wanted(199.0 / 2.5, 10.0), Some(250.0));
        assert_eq!(wanted(279.0 / 2.516, 10.0), Some(500.0));
    }

    #[test]
    fn colder_or_more_never_asks_for_less() {
        for (flow, row) in ROWS {
            assert!(row.windows(2).all(|pair| pair[0] <= pair[1]), "{flow}");
        }
        assert!(ROWS.windows(2).all(|pair| (0..7).all(|column| pair[0].1[column] <= pair[1].1[column])));
    }
}
