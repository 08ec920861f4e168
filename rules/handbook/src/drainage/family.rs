//! Code families and nominal sizes.

use crate::units;
use uom::si::f64::Length;

/// Whose tables hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CodeFamily {
    /// International Residential Code.
    Irc,
    /// International Plumbing Code.
    Ipc,
    /// Uniform Plumbing Code.
    Upc,
    /// Massachusetts, 248 CMR 10.
    Massachusetts,
}

impl CodeFamily {
    /// The words a pack writes.
    pub const WORDS: [&'static str; 4] = ["irc", "ipc", "upc", "248-cmr"];

    /// The family of a word; the residential code where it is none of them.
    pub fn from_word(word: &str) -> Self {
        match word {
            "ipc" => Self::Ipc,
            "upc" => Self::Upc,
            "248-cmr" => Self::Massachusetts,
            _ => Self::Irc,
        }
    }
}

/// Nominal sizes of drainage pipe.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum DrainSize {
    /// 1-1/4 in.
    OneAndAQuarter,
    /// 1-1/2 in.
    OneAndAHalf,
    /// 2 in.
    Two,
    /// 2-1/2 in.
    TwoAndAHalf,
    /// 3 in.
    Three,
    /// 4 in.
    Four,
    /// 5 in.
    Five,
    /// 6 in.
    Six,
    /// 8 in.
    Eight,
}

/// All sizes, the smallest first, in inches.
const SIZES: [(DrainSize, f64); 9] = [
    (DrainSize::OneAndAQuarter, 1.25),
    (DrainSize::OneAndAHalf, 1.5),
    (DrainSize::Two, 2.0),
    (DrainSize::TwoAndAHalf, 2.5),
    (DrainSize::Three, 3.0),
    (DrainSize::Four, 4.0),
    (DrainSize::Five, 5.0),
    (DrainSize::Six, 6.0),
    (DrainSize::Eight, 8.0),
];

impl DrainSize {
    /// The size a nominal length names; `None` where no drainage pipe is sold in it. A size written in millimetres is the
    /// inch size it stands for (within 1/16 in), as 50 mm stands for 2 in.
    pub fn of(nominal: Length) -> Option<Self> {
        let inches = units::in_inches(nominal);
        SIZES.into_iter().find(|(_, size)| (size - inches).abs() < 1.0 / 16.0).map(|(size, _)| size)
    }

    /// Its nominal length.
    pub fn nominal(self) -> Length {
        units::inches(SIZES.into_iter().find(|(size, _)| *size == self).map_or(0.0, |(_, inches)| inches))
    }

    /// The next larger size.
    pub fn larger(self) -> Option<Self> {
        SIZES.into_iter().map(|(size, _)| size).find(|size| *size > self)
    }
}

/// Inside diameter of schedule 40 plastic drainage pipe; `None` where it is not known here.
/// Source: [`sources::SCHEDULE_40_DRAIN`](super::sources::SCHEDULE_40_DRAIN).
pub fn schedule_40_inside(size: DrainSize) -> Option<Length> {
    Some(units::inches(match size {
        DrainSize::OneAndAHalf => 1.590,
        DrainSize::Two => 2.047,
        DrainSize::Three => 3.042,
        DrainSize::Four => 3.998,
        _ => return None,
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_known_in_inches_and_millimetres() {
        assert_eq!(DrainSize::of(units::inches(2.0)), Some(DrainSize::Two));
        let fifty = Length::new::<uom::si::length::millimeter>(50.0);
        assert_eq!(DrainSize::of(fifty), Some(DrainSize::Two));
        assert_eq!(DrainSize::of(units::inches(2.2)), None);
        assert_eq!(DrainSize::Two.larger(), Some(DrainSize::TwoAndAHalf));
    }
}
