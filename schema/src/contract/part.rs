//! What can stand in a sentence: words, amounts, sentences.

use super::{Measure, Text};
use crate::quantity::{Amount, Dimension, Kind};
use uom::si::f64 as q;

/// A piece of a sentence.
#[derive(Debug, Clone, PartialEq)]
pub enum Part {
    /// Words.
    Words(String),
    /// An amount.
    Amount(Measure),
    /// A sentence.
    Text(Text),
}

/// What can stand in a sentence.
pub trait IntoPart {
    /// The piece.
    fn part(&self) -> Part;
}

impl IntoPart for Part {
    fn part(&self) -> Part {
        self.clone()
    }
}

impl IntoPart for Text {
    fn part(&self) -> Part {
        Part::Text(self.clone())
    }
}

impl IntoPart for Measure {
    fn part(&self) -> Part {
        Part::Amount(self.clone())
    }
}

impl<D: Dimension> IntoPart for Amount<D> {
    fn part(&self) -> Part {
        Part::Amount(Measure { kind: D::KIND, si: self.si(), unit: None, written: self.written().map(str::to_owned) })
    }
}

impl<T: IntoPart + ?Sized> IntoPart for &T {
    fn part(&self) -> Part {
        (**self).part()
    }
}

macro_rules! spoken {
    ($($of:ty),+) => {$(impl IntoPart for $of {
        fn part(&self) -> Part {
            Part::Words(self.to_string())
        }
    })+};
}
spoken!(str, String, usize, u32, i32, char);

macro_rules! amounts {
    ($($quantity:ident => $kind:ident),+ $(,)?) => {$(impl IntoPart for q::$quantity {
        fn part(&self) -> Part {
            Part::Amount(Measure { kind: Kind::$kind, si: self.value, unit: None, written: None })
        }
    })+};
}
// Quantities whose dimension alone says what they are. The rest are said with `Measure` by the rule.
amounts! {
    Length => Length, Area => Area, Volume => Volume, Power => Power, VolumeRate => VolumeFlow, Ratio => Ratio,
    Frequency => AirChangeRate, ElectricCurrent => Current, ElectricPotential => Voltage, Mass => Mass, Velocity => Velocity,
    Pressure => Pressure, Energy => Energy, Time => Duration,
}
