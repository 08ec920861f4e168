//! Reading a printed column of capacities: what the row of a length says, and what it only bounds.

use redtag_schema::quantity::at_least;
use uom::si::f64::{Length, Power};

/// A printed capacity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CapacityPoint {
    /// The length of its row.
    pub length: Length,
    /// What the pipe carries, as heat.
    pub capacity: Power,
}

/// What a column says of a length: the capacity is at least `least` and at most `most`. Both are the same where the row to be
/// read is known; one is missing where a row beyond it, or before it, was not seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// The length of the row to be read, where one is printed.
    pub row: Option<Length>,
    /// Not less than this.
    pub least: Option<Power>,
    /// Not more than this.
    pub most: Option<Power>,
}

impl Reading {
    /// The capacity, where the row is known.
    pub fn exact(&self) -> Option<Power> {
        self.least.filter(|least| Some(*least) == self.most)
    }
}

/// Reads the row of a length: the next longer one where no row has that length, never between rows. `unseen` are rows that are
/// printed and were not read: a length that falls on one is bounded by the known rows around it, for capacities fall with
/// length. Past the last row nothing but the upper bound is known.
pub fn read(points: &[CapacityPoint], unseen: &[Length], length: Length) -> Reading {
    let next = |rows: &mut dyn Iterator<Item = Length>| {
        rows.filter(|row| at_least(*row, length)).min_by(|one, other| one.value.total_cmp(&other.value))
    };
    let row = next(&mut points.iter().map(|point| point.length).chain(unseen.iter().copied()));
    let least = points.iter().filter(|point| at_least(point.length, length)).min_by(|one, other| by_length(one, other));
    let wanted = row.unwrap_or(length);
    let most = points.iter().filter(|point| at_least(wanted, point.length)).max_by(|one, other| by_length(one, other));
    let exact = least.filter(|point| row == Some(point.length));
    Reading { row, least: least.map(|point| point.capacity), most: exact.or(most).map(|point| point.capacity) }
}

fn by_length(one: &CapacityPoint, other: &CapacityPoint) -> std::cmp::Ordering {
    one.length.value.total_cmp(&other.length.value)
}

/// Over which printed lengths a load keeps within the table's drop, and over which it no longer does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    /// The longest row that carries the load: over it the drop is not more than the table's.
    pub carried: Option<Length>,
    /// The shortest row that does not: over it the drop is more than the table's.
    pub not_carried: Option<Length>,
}

/// How far a column carries a load. Drop goes with length, so the drop of a shorter piece lies between the table's drop times
/// its length over each of the two rows. That needs no formula, which corrugated tubing has none of.
pub fn reach(points: &[CapacityPoint], load: Power) -> Reach {
    let lengths =
        |carries: bool| points.iter().filter(move |point| at_least(point.capacity, load) == carries).map(|point| point.length);
    let order = |one: &Length, other: &Length| one.value.total_cmp(&other.value);
    Reach { carried: lengths(true).max_by(order), not_carried: lengths(false).min_by(order) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::*;

    fn points() -> Vec<CapacityPoint> {
        [(10.0, 100.0), (20.0, 70.0), (40.0, 50.0)]
            .map(|(length, capacity)| CapacityPoint { length: feet(length), capacity: btu_per_hour(capacity) })
            .to_vec()
    }

    fn said(length: f64) -> (Option<f64>, Option<f64>) {
        let reading = read(&points(), &[feet(30.0)], feet(length));
        (reading.least.map(in_btu_per_hour), reading.most.map(in_btu_per_hour))
    }

    #[test]
    fn the_next_longer_row_is_read_and_never_between() {
        assert_eq!(said(3.0), (Some(100.0), Some(100.0)));
        assert_eq!(said(10.0), (Some(100.0), Some(100.0)));
        assert_eq!(said(10.01), (Some(70.0), Some(70.0)));
        assert_eq!(said(31.0), (Some(50.0), Some(50.0)));
    }

    #[test]
    fn a_row_that_was_not_seen_is_bounded_by_its_neighbours() {
        assert_eq!(said(21.0), (Some(50.0), Some(70.0)));
        assert_eq!(said(41.0), (None, Some(50.0)));
        assert_eq!(read(&[], &[], feet(10.0)), Reading { row: None, least: None, most: None });
        assert_eq!(read(&points(), &[], feet(10.0)).exact(), Some(btu_per_hour(100.0)));
    }

    #[test]
    fn a_load_reaches_as_far_as_its_rows_carry_it() {
        let far = reach(&points(), btu_per_hour(70.0));
        assert_eq!((far.carried, far.not_carried), (Some(feet(20.0)), Some(feet(40.0))));
        assert_eq!(reach(&points(), btu_per_hour(101.0)).carried, None);
        assert_eq!(reach(&points(), btu_per_hour(1.0)).not_carried, None);
    }
}
