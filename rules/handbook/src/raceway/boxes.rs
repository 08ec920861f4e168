//! Sizes of pull and junction boxes for conductors of 4 AWG and larger, NEC 314.28.

use crate::source::Source;
use uom::si::f64::Length;

/// Where the sizes come from.
pub const PULL_BOX: Source = Source::new("NEC 314.28(A) (ecmweb.com quiz 15)");

/// The raceways in one row of one wall, by trade size.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Row(pub Vec<Length>);

impl Row {
    fn largest(&self) -> Option<Length> {
        self.0.iter().copied().reduce(|a, b| if b > a { b } else { a })
    }
}

/// The least length of a box for a straight pull: eight times the largest trade size.
pub fn straight_length(row: &Row) -> Option<Length> {
    row.largest().map(|largest| largest * 8.0)
}

/// The least distance from a row to the opposite wall for an angle pull, a U pull or a splice: six times the largest trade
/// size of the row and the sum of the others. The greatest of several rows governs.
pub fn angle_distance(row: &Row) -> Option<Length> {
    let largest = row.largest()?;
    let sum = row.0.iter().fold(Length::default(), |sum, size| sum + *size);
    Some(largest * 6.0 + (sum - largest))
}

/// The least distance between two raceways that hold the same conductors.
pub fn partner_distance(larger: Length) -> Length {
    larger * 6.0
}
