//! How far containers for liquefied gas keep from buildings, lines of property and each other.

use super::{gallons, in_gallons, sources};
use crate::{Source, units};
use uom::si::f64::{Length, Volume};

/// A group of this much and more takes the row of its sum.
pub const LARGE_GROUP: f64 = 501.0;
/// Containers from this size on count each by itself.
const SMALL_GALLONS: f64 = 125.0;
/// Greatest single container that may stand nearer.
const SINGLE_GALLONS: f64 = 1200.0;
/// How far it keeps from others of more than 125 gal then.
const SINGLE_APART_FEET: f64 = 25.0;

/// How a container is set, and what is amended of the table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Siting {
    /// Whether it is in the ground.
    pub underground: bool,
    /// Distance to the nearest other container of more than 125 gal; `None` where there is none.
    pub apart: Option<Length>,
    /// Distance of buried containers of 501 to 2,000 gal: 10 ft, 25 ft in older tables.
    pub large_buried: Length,
    /// Whether a single container of 501 to 1,200 gal may stand at 10 ft.
    pub single_nearer: bool,
}

/// A row of the table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StorageRow {
    /// Least distance to buildings and to a line of property that can be built on.
    pub to_building: Length,
    /// Least distance between containers.
    pub between: Length,
    /// Where the row comes from.
    pub source: Source,
}

/// What the row is looked up by: the container itself; for one of less than 125 gal the sum of all such, where that is 501 gal
/// and more.
pub fn governing_capacity(own: Volume, all: &[Volume]) -> Volume {
    let small = |volume: &&Volume| **volume < gallons(SMALL_GALLONS) * (1.0 - 1e-9);
    let group = all.iter().filter(small).fold(gallons(0.0), |sum, one| sum + *one);
    if small(&&own) && group > gallons(LARGE_GROUP) * (1.0 - 1e-9) { group } else { own }
}

/// Which row a water capacity falls in, counted from the top; `None` past 30,000 gal.
pub fn row(capacity: Volume) -> Option<usize> {
    let gallons = in_gallons(capacity);
    let within = |limit: f64| gallons < limit * (1.0 + 1e-9);
    match gallons {
        small if small < 125.0 * (1.0 - 1e-9) => Some(0),
        _ if within(250.0) => Some(1),
        _ if within(500.0) => Some(2),
        _ if within(2_000.0) => Some(3),
        _ if within(30_000.0) => Some(4),
        _ => None,
    }
}

/// The distances of a container of this water capacity; `None` past the last row.
pub fn storage_row(capacity: Volume, siting: &Siting) -> Option<StorageRow> {
    let row = row(capacity)?;
    let above = [0.0, 10.0, 10.0, 25.0, 50.0];
    let buried = [10.0, 10.0, 10.0, units::in_feet(siting.large_buried), 50.0];
    let between = [0.0, 0.0, 3.0, 3.0, 5.0];
    let (feet, source) = match (siting.underground, row) {
        (true, 3) => (buried[3], sources::LARGE_BURIED),
        (true, row) => (buried[row], sources::CONTAINERS),
        (false, 3) if nearer(capacity, siting) => (10.0, sources::SINGLE_CONTAINER),
        (false, row) => (above[row], sources::CONTAINERS),
    };
    Some(StorageRow { to_building: units::feet(feet), between: units::feet(between[row]), source })
}

/// Whether it is a single container that may stand at 10 ft.
fn nearer(capacity: Volume, siting: &Siting) -> bool {
    let apart = siting.apart.is_none_or(|apart| units::in_feet(apart) > SINGLE_APART_FEET - 1e-6);
    siting.single_nearer && apart && in_gallons(capacity) < SINGLE_GALLONS * (1.0 + 1e-9)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn siting(underground: bool) -> Siting {
        Siting { underground, apart: Some(units::feet(3.0)), large_buried: units::feet(10.0), single_nearer: true }
    }

    fn feet(number: f64, siting: &Siting) -> Option<(f64, f64)> {
        let row = storage_row(gallons(number), siting)?;
        Some((units::in_feet(row.to_building).round(), units::in_feet(row.between).round()))
    }

    // NFPA 58-2017 annex I; WAC 296-24-47505, table H-23.
    #[test]
    fn the_table_row_by_row() {
        let above = [124.0, 125.0, 250.0, 251.0, 500.0, 501.0, 2_000.0, 2_001.0, 30_000.0].map(|g| feet(g, &siting(false)));
        let row = |building: f64, between: f64| Some((building, between));
        let expected = [
            row(0.0, 0.0),
            row(10.0, 0.0),
            row(10.0, 0.0),
            row(10.0, 3.0),
            row(10.0, 3.0),
            row(25.0, 3.0),
            row(25.0, 3.0),
            row(50.0, 5.0),
            row(50.0, 5.0),
        ];
        assert_eq!(above, expected);
        assert_eq!(
            [124.0, 500.0, 1_000.0, 2_001.0].map(|g| feet(g, &siting(true)).map(|row| row.0)),
            [10.0, 10.0, 10.0, 50.0].map(Some)
        );
        assert_eq!(feet(30_001.0, &siting(false)), None);
        let older = Siting { large_buried: units::feet(25.0), ..siting(true) };
        assert_eq!(feet(1_000.0, &older), row(25.0, 3.0));
    }

    #[test]
    fn a_single_thousand_gallon_tank_may_stand_at_ten_feet() {
        let alone = Siting { apart: None, ..siting(false) };
        assert_eq!(feet(1_000.0, &alone), Some((10.0, 3.0)));
        assert_eq!(feet(1_200.0, &alone), Some((10.0, 3.0)));
        assert_eq!(feet(1_201.0, &alone), Some((25.0, 3.0)));
        assert_eq!(feet(1_000.0, &Siting { apart: Some(units::feet(25.0)), ..alone }), Some((10.0, 3.0)));
        assert_eq!(feet(1_000.0, &Siting { apart: Some(units::feet(24.9)), ..alone }), Some((25.0, 3.0)));
        assert_eq!(feet(1_000.0, &Siting { single_nearer: false, ..alone }), Some((25.0, 3.0)));
    }

    // NFPA 58-2017 table 6.3.1.1, note on containers of less than 125 gal; WAC 296-24-47505, table H-23, prints it alike.
    #[test]
    fn a_group_of_small_containers_takes_the_row_of_its_sum() {
        let governs = |own, all: &[f64]| {
            let all: Vec<Volume> = all.iter().map(|one| gallons(*one)).collect();
            in_gallons(governing_capacity(gallons(own), &all)).round()
        };
        assert_eq!(governs(120.0, &[120.0; 4]), 120.0);
        assert_eq!(governs(120.0, &[120.0; 5]), 600.0);
        assert_eq!(governs(100.2, &[100.2; 5]), 501.0);
        assert_eq!(governs(500.0, &[500.0; 2]), 500.0);
        assert_eq!(governs(125.0, &[125.0; 5]), 125.0);
    }
}
