//! Sizes of pull and junction boxes for conductors of 4 AWG and larger, NEC 314.28.

use super::rank;
use crate::source::Source;
use crate::units::inches;
use uom::si::f64::{Length, Volume};

/// Where the sizes come from.
pub const PULL_BOX: Source = Source::new("NEC 314.28(A)");

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

/// Where the allowances come from.
pub const BOX_FILL: Source =
    Source::new("NEC 314.16(B), Table 314.16(B)(1); a quarter for each grounding conductor past four from memory of 2020");

/// The volume a conductor of a size takes in a box; `None` for 4 AWG and larger, whose boxes are sized by their raceways.
pub fn conductor_volume(size: &str) -> Option<Volume> {
    let volumes = [2.0, 2.25, 2.5, 3.0, 5.0];
    let cubic_inch = inches(1.0) * inches(1.0) * inches(1.0);
    rank(size).and_then(|rank| volumes.get(rank)).map(|number| cubic_inch * *number)
}

/// What is in a box.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct BoxFill {
    /// The volume each insulated conductor takes.
    pub conductors: Vec<Volume>,
    /// That of each grounding conductor: up to four count as one of the largest, each more a quarter of one.
    pub grounding: Vec<Volume>,
    /// That of a conductor at each device, which counts twice.
    pub devices: Vec<Volume>,
    /// Whether clamps are inside: they count as one of the largest conductors.
    pub clamps: bool,
}

impl BoxFill {
    /// The least volume of the box.
    pub fn volume(&self) -> Volume {
        let sum = |list: &[Volume]| list.iter().fold(Volume::default(), |sum, one| sum + *one);
        let most = |list: &[Volume]| list.iter().fold(Volume::default(), |most, one| if *one > most { *one } else { most });
        let largest = most(&[most(&self.conductors), most(&self.grounding), most(&self.devices)]);
        let more = self.grounding.len().saturating_sub(4) as f64 / 4.0;
        let grounding = if self.grounding.is_empty() { Volume::default() } else { most(&self.grounding) * (1.0 + more) };
        let clamps = if self.clamps { largest } else { Volume::default() };
        sum(&self.conductors) + grounding + sum(&self.devices) * 2.0 + clamps
    }
}
