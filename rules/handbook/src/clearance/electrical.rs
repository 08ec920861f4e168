//! The working space and the dedicated space of electrical equipment (NEC 110.26).

use crate::{Source, units};
use redtag_schema::quantity::at_most;
use uom::si::electric_potential::volt;
use uom::si::f64::{ElectricPotential, Length};

/// Where depths by voltage and condition come from.
pub const DEPTH: Source = Source::new("NEC Table 110.26(A)(1)");
/// Where the width comes from.
pub const WIDTH: Source = Source::new("NEC 110.26(A)(2)");
/// Where the height comes from.
pub const HEIGHT: Source = Source::new("NEC 110.26(A)(3)");
/// Where the space above and below comes from.
pub const DEDICATED: Source = Source::new("NEC 110.26(E)(1)(a)");

/// What is opposite the parts that somebody works on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Condition {
    /// Neither live nor grounded: wood, gypsum board on wood.
    One,
    /// Grounded: concrete, brick and tile count as that.
    Two,
    /// Live parts there too.
    Three,
}

impl Condition {
    /// Its number.
    pub const fn number(self) -> &'static str {
        match self {
            Self::One => "1",
            Self::Two => "2",
            Self::Three => "3",
        }
    }
}

/// Depths of the working space, by voltage to ground and condition.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Depths {
    /// Up to 150 V in any condition, and at any voltage in condition 1.
    pub least: Length,
    /// 151 to 600 V, condition 2.
    pub to_600_grounded: Length,
    /// 151 to 600 V, condition 3.
    pub to_600_live: Length,
    /// 601 to 1,000 V, condition 2.
    pub to_1000_grounded: Length,
    /// 601 to 1,000 V, condition 3.
    pub to_1000_live: Length,
}

impl Default for Depths {
    fn default() -> Self {
        Self {
            least: units::inches(36.0),
            to_600_grounded: units::inches(42.0),
            to_600_live: units::inches(48.0),
            to_1000_grounded: units::inches(48.0),
            to_1000_live: units::inches(60.0),
        }
    }
}

impl Depths {
    /// The least depth; `None` above 1,000 V to ground, where the table ends. A voltage between two rows, such as 150.5 V, takes
    /// the row of the higher ones.
    pub fn at(&self, to_ground: ElectricPotential, condition: Condition) -> Option<Length> {
        let up_to = |volts: f64| at_most(to_ground, ElectricPotential::new::<volt>(volts));
        if !up_to(1000.0) {
            return None;
        }
        Some(match condition {
            _ if up_to(150.0) => self.least,
            Condition::One => self.least,
            Condition::Two if up_to(600.0) => self.to_600_grounded,
            Condition::Three if up_to(600.0) => self.to_600_live,
            Condition::Two => self.to_1000_grounded,
            Condition::Three => self.to_1000_live,
        })
    }
}

/// Width of the working space: that of the equipment, but a least one at any rate.
pub fn width(equipment: Length, least: Length) -> Length {
    if equipment > least { equipment } else { least }
}

/// Height of the working space: up to the top of the equipment, but a least one at any rate.
pub fn height(top: Length, least: Length) -> Length {
    if top > least { top } else { least }
}

/// The upper end of the dedicated space: so far above the equipment, or the structure where that is lower.
pub fn dedicated_top(top: Length, above: Length, structure: Option<Length>) -> Length {
    let end = top + above;
    match structure {
        Some(structure) if structure < end => structure,
        _ => end,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{in_inches, inches};
    use Condition::{One, Three, Two};

    fn depth(volts: f64, condition: Condition) -> Option<f64> {
        Depths::default().at(ElectricPotential::new::<volt>(volts), condition).map(|depth| in_inches(depth).round())
    }

    // NEC Table 110.26(A)(1), printed in feet: 3, 3, 3; 3, 3 1/2, 4; 3, 4, 5.
    #[test]
    fn the_table() {
        for (volts, row) in [(120.0, [36.0, 36.0, 36.0]), (277.0, [36.0, 42.0, 48.0]), (800.0, [36.0, 48.0, 60.0])] {
            assert_eq!([One, Two, Three].map(|condition| depth(volts, condition).unwrap()), row, "{volts}");
        }
        assert_eq!([150.0, 150.5, 600.0, 600.5, 1000.0].map(|volts| depth(volts, Two).unwrap()), [36.0, 42.0, 42.0, 48.0, 48.0]);
        assert_eq!(depth(1000.5, One), None);
    }

    // Published classroom examples: a 16 in panel takes 30 in, a 52 in switchboard 52 in, a 20 in disconnect 30 in.
    #[test]
    fn widths() {
        let wide = |equipment: f64| in_inches(width(inches(equipment), inches(30.0))).round();
        assert_eq!([16.0, 52.0, 20.0].map(wide), [30.0, 52.0, 30.0]);
    }

    // Computed: a panel whose top is at 76 in has its dedicated space to 148 in, or to a structure at 96 in.
    #[test]
    fn heights() {
        let top = |structure| in_inches(dedicated_top(inches(76.0), inches(72.0), structure)).round();
        assert_eq!((top(Some(inches(96.0))), top(Some(inches(200.0))), top(None)), (96.0, 148.0, 148.0));
        assert_eq!([76.0, 90.0].map(|top| in_inches(height(inches(top), inches(78.0))).round()), [78.0, 90.0]);
    }
}
