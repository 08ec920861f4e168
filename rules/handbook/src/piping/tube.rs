//! Pipe other than schedule 40 steel, and the size of any pipe as a table's column names it.

use super::{NominalSize, inside_diameter};
use crate::units;
use std::fmt;
use uom::si::f64::Length;

/// Tube sizes of the code's copper tables, by nominal size of type K and L. Type ACR is named by its outside diameter, one
/// step more.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TubeSize {
    /// 3/8 in.
    ThreeEighths,
    /// 1/2 in.
    Half,
    /// 5/8 in.
    FiveEighths,
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
}

/// All tube sizes, the smallest first.
pub const TUBES: [TubeSize; 8] = [
    TubeSize::ThreeEighths,
    TubeSize::Half,
    TubeSize::FiveEighths,
    TubeSize::ThreeQuarters,
    TubeSize::One,
    TubeSize::OneAndAQuarter,
    TubeSize::OneAndAHalf,
    TubeSize::Two,
];

impl TubeSize {
    /// Nominal size of type K or L.
    pub fn nominal(self) -> Length {
        units::inches(match self {
            Self::ThreeEighths => 0.375,
            Self::Half => 0.5,
            Self::FiveEighths => 0.625,
            Self::ThreeQuarters => 0.75,
            Self::One => 1.0,
            Self::OneAndAQuarter => 1.25,
            Self::OneAndAHalf => 1.5,
            Self::Two => 2.0,
        })
    }

    /// Outside diameter, by which type ACR is named.
    pub fn outside_diameter(self) -> Length {
        self.nominal() + units::inches(0.125)
    }

    /// The inside diameter the tables take. Source: [`sources::COPPER`](super::sources::COPPER).
    pub fn inside_diameter(self) -> Length {
        units::inches(match self {
            Self::ThreeEighths => 0.402,
            Self::Half => 0.527,
            Self::FiveEighths => 0.652,
            Self::ThreeQuarters => 0.745,
            Self::One => 0.995,
            Self::OneAndAQuarter => 1.245,
            Self::OneAndAHalf => 1.481,
            Self::Two => 1.959,
        })
    }
}

/// Sizes of polyethylene pipe, with the wall the tables take for each.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PlasticSize {
    /// 1/2 in, SDR 9.33.
    Half,
    /// 3/4 in, SDR 11.
    ThreeQuarters,
    /// 1 in, SDR 11.
    One,
    /// 1-1/4 in, SDR 10.
    OneAndAQuarter,
    /// 1-1/2 in, SDR 11.
    OneAndAHalf,
    /// 2 in, SDR 11.
    Two,
}

/// All sizes of polyethylene pipe, the smallest first.
pub const PLASTICS: [PlasticSize; 6] = [
    PlasticSize::Half,
    PlasticSize::ThreeQuarters,
    PlasticSize::One,
    PlasticSize::OneAndAQuarter,
    PlasticSize::OneAndAHalf,
    PlasticSize::Two,
];

impl PlasticSize {
    /// Nominal size.
    pub fn nominal(self) -> Length {
        units::inches(match self {
            Self::Half => 0.5,
            Self::ThreeQuarters => 0.75,
            Self::One => 1.0,
            Self::OneAndAQuarter => 1.25,
            Self::OneAndAHalf => 1.5,
            Self::Two => 2.0,
        })
    }

    /// The inside diameter the tables take. Source: [`sources::POLYETHYLENE`](super::sources::POLYETHYLENE).
    pub fn inside_diameter(self) -> Length {
        units::inches(match self {
            Self::Half => 0.660,
            Self::ThreeQuarters => 0.860,
            Self::One => 1.077,
            Self::OneAndAQuarter => 1.328,
            Self::OneAndAHalf => 1.554,
            Self::Two => 1.943,
        })
    }
}

/// Inside diameter of schedule 10 steel pipe; `None` above 2 in. Source: [`sources::SCHEDULE_10`](super::sources::SCHEDULE_10).
pub fn inside_diameter_schedule_10(size: NominalSize) -> Option<Length> {
    Some(units::inches(match size {
        NominalSize::Half => 0.674,
        NominalSize::ThreeQuarters => 0.884,
        NominalSize::One => 1.097,
        NominalSize::OneAndAQuarter => 1.442,
        NominalSize::OneAndAHalf => 1.682,
        NominalSize::Two => 2.157,
        _ => return None,
    }))
}

/// A column of a capacity table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Size {
    /// Schedule 40 steel pipe.
    Steel(NominalSize),
    /// Semirigid copper tube.
    Copper(TubeSize),
    /// Corrugated stainless steel tubing, by its equivalent hydraulic diameter number.
    Corrugated(u32),
    /// Polyethylene pipe.
    Plastic(PlasticSize),
}

impl Size {
    /// The inside diameter a formula can use; `None` for corrugated tubing, which no formula of the code covers.
    pub fn bore(self) -> Option<Length> {
        match self {
            Self::Steel(size) => Some(inside_diameter(size)),
            Self::Copper(size) => Some(size.inside_diameter()),
            Self::Plastic(size) => Some(size.inside_diameter()),
            Self::Corrugated(_) => None,
        }
    }

    /// Nominal size; `None` for corrugated tubing.
    pub fn nominal(self) -> Option<Length> {
        match self {
            Self::Steel(size) => Some(size.nominal()),
            Self::Copper(size) => Some(size.nominal()),
            Self::Plastic(size) => Some(size.nominal()),
            Self::Corrugated(_) => None,
        }
    }

    /// The next sizes up, nearest first; nothing for corrugated tubing, whose sizes each maker chooses.
    pub fn larger(self) -> Vec<Self> {
        match self {
            Self::Steel(size) => super::SIZES.into_iter().filter(|other| *other > size).map(Self::Steel).collect(),
            Self::Copper(size) => TUBES.into_iter().filter(|other| *other > size).map(Self::Copper).collect(),
            Self::Plastic(size) => PLASTICS.into_iter().filter(|other| *other > size).map(Self::Plastic).collect(),
            Self::Corrugated(_) => Vec::new(),
        }
    }

    /// Whether both are of one kind of pipe.
    pub fn is_kin(self, other: Self) -> bool {
        std::mem::discriminant(&self) == std::mem::discriminant(&other)
    }
}

impl fmt::Display for Size {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Corrugated(number) => write!(formatter, "EHD {number}"),
            Self::Steel(size) => size.fmt(formatter),
            Self::Copper(TubeSize::ThreeEighths) => formatter.write_str("3/8 in"),
            Self::Copper(TubeSize::FiveEighths) => formatter.write_str("5/8 in"),
            Self::Copper(_) | Self::Plastic(_) => {
                let nominal = self.nominal().and_then(NominalSize::from_nominal);
                nominal.map_or(Ok(()), |size| size.fmt(formatter))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_said_as_they_are_bought() {
        let said = [Size::Steel(NominalSize::OneAndAQuarter), Size::Copper(TubeSize::FiveEighths), Size::Corrugated(25)];
        assert_eq!(said.map(|size| size.to_string()), ["1-1/4 in", "5/8 in", "EHD 25"]);
        assert_eq!(Size::Plastic(PlasticSize::Half).to_string(), "1/2 in");
        assert!(TUBES.into_iter().all(|tube| !Size::Copper(tube).to_string().is_empty()));
    }

    #[test]
    fn larger_sizes_are_wider() {
        let bores = |size: Size| size.larger().into_iter().map(|size| size.bore().unwrap().value).collect::<Vec<f64>>();
        for size in [Size::Copper(TUBES[0]), Size::Plastic(PLASTICS[0])] {
            assert!(bores(size).windows(2).all(|pair| pair[0] < pair[1]) && bores(size)[0] > size.bore().unwrap().value);
        }
        assert!(Size::Corrugated(13).larger().is_empty());
        assert!(
            Size::Copper(TUBES[0]).is_kin(Size::Copper(TUBES[1])) && !Size::Copper(TUBES[0]).is_kin(Size::Plastic(PLASTICS[0]))
        );
    }
}
