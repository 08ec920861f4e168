//! Schedule 40 steel pipe.

use crate::units;
use redtag_schema::quantity::{at_least, at_most};
use std::fmt;
use uom::si::f64::Length;

/// Nominal sizes of steel pipe.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum NominalSize {
    /// 1/2 in.
    Half,
    /// 3/4 in.
    ThreeQuarters,
    /// 1 in.
    One,
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
}

/// All nominal sizes, the smallest first.
pub const SIZES: [NominalSize; 9] = [
    NominalSize::Half,
    NominalSize::ThreeQuarters,
    NominalSize::One,
    NominalSize::OneAndAQuarter,
    NominalSize::OneAndAHalf,
    NominalSize::Two,
    NominalSize::TwoAndAHalf,
    NominalSize::Three,
    NominalSize::Four,
];

impl NominalSize {
    /// As it is written: "1-1/4".
    pub fn written(self) -> &'static str {
        match self {
            Self::Half => "1/2",
            Self::ThreeQuarters => "3/4",
            Self::One => "1",
            Self::OneAndAQuarter => "1-1/4",
            Self::OneAndAHalf => "1-1/2",
            Self::Two => "2",
            Self::TwoAndAHalf => "2-1/2",
            Self::Three => "3",
            Self::Four => "4",
        }
    }

    /// Nominal size as a length.
    pub fn nominal(self) -> Length {
        units::inches(match self {
            Self::Half => 0.5,
            Self::ThreeQuarters => 0.75,
            Self::One => 1.0,
            Self::OneAndAQuarter => 1.25,
            Self::OneAndAHalf => 1.5,
            Self::Two => 2.0,
            Self::TwoAndAHalf => 2.5,
            Self::Three => 3.0,
            Self::Four => 4.0,
        })
    }

    /// The size of that nominal length.
    pub fn from_nominal(length: Length) -> Option<Self> {
        SIZES.into_iter().find(|size| same(size.nominal(), length))
    }

    /// The size written so, with or without "in".
    pub fn from_written(text: &str) -> Option<Self> {
        let text = text.trim().trim_end_matches("in").trim_end().trim_end_matches('"').replace(' ', "-");
        SIZES.into_iter().find(|size| size.written() == text)
    }
}

/// Whether two lengths are one nominal size, however it was written.
pub(super) fn same(one: Length, other: Length) -> bool {
    at_least(one, other) && at_most(one, other)
}

impl fmt::Display for NominalSize {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{} in", self.written())
    }
}

/// Inside diameter of schedule 40 steel pipe. Source: [`sources::SCHEDULE_40`](super::sources::SCHEDULE_40).
pub fn inside_diameter(size: NominalSize) -> Length {
    units::inches(match size {
        NominalSize::Half => 0.622,
        NominalSize::ThreeQuarters => 0.824,
        NominalSize::One => 1.049,
        NominalSize::OneAndAQuarter => 1.380,
        NominalSize::OneAndAHalf => 1.610,
        NominalSize::Two => 2.067,
        NominalSize::TwoAndAHalf => 2.469,
        NominalSize::Three => 3.068,
        NominalSize::Four => 4.026,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_read_as_they_are_written() {
        for size in SIZES {
            assert_eq!(NominalSize::from_written(size.written()), Some(size));
            assert_eq!(NominalSize::from_written(&size.to_string()), Some(size));
        }
        assert_eq!(NominalSize::from_written("1 1/4 in"), Some(NominalSize::OneAndAQuarter));
        assert_eq!(NominalSize::from_written("5/8"), None);
    }

    #[test]
    fn larger_sizes_are_wider() {
        assert!(SIZES.windows(2).all(|pair| inside_diameter(pair[0]) < inside_diameter(pair[1])));
    }
}
