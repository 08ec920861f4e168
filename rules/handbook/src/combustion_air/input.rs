//! The heat input that asks for air, by burner class.

use std::iter::Sum;
use std::ops::Add;
use uom::si::f64::Power;

/// The two classes the known air infiltration rate method tells apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum BurnerClass {
    /// Everything without an integral fan moving the combustion products: draft hoods, natural draft, unvented.
    Other,
    /// A fan that is part of the appliance draws or pushes combustion products through it.
    FanAssisted,
}

/// Rated inputs added up, by class.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct CountedInput {
    /// Inputs of appliances other than fan-assisted.
    pub other: Power,
    /// Inputs of fan-assisted appliances.
    pub fan_assisted: Power,
}

impl CountedInput {
    /// The rating-plate input of one appliance; of a two-stage or modulating one, the largest.
    pub fn of(class: BurnerClass, input: Power) -> Self {
        match class {
            BurnerClass::Other => Self { other: input, ..Self::default() },
            BurnerClass::FanAssisted => Self { fan_assisted: input, ..Self::default() },
        }
    }

    /// Both classes together.
    pub fn total(&self) -> Power {
        self.other + self.fan_assisted
    }
}

impl Add for CountedInput {
    type Output = Self;

    fn add(self, more: Self) -> Self {
        Self { other: self.other + more.other, fan_assisted: self.fan_assisted + more.fan_assisted }
    }
}

impl Sum for CountedInput {
    fn sum<I: Iterator<Item = Self>>(inputs: I) -> Self {
        inputs.fold(Self::default(), Add::add)
    }
}
