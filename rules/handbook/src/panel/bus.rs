//! The bus of a panel that several sources feed, NEC 705.12.

use crate::source::Source;
use crate::units::{fraction, in_fraction};
use uom::si::f64::{ElectricCurrent, Ratio};

/// Where the readings come from.
pub const BUS: Source = Source::new("NEC 705.12(B)(3) (a published course; installer guides)");

/// What feeds a bus.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bus {
    /// Rating of the bus.
    pub rating: ElectricCurrent,
    /// The overcurrent device that protects it from the main source.
    pub main: ElectricCurrent,
    /// Output current of all other sources together, not the rating of their breakers.
    pub sources: ElectricCurrent,
    /// Ratings of all breakers but the main one, together.
    pub breakers: ElectricCurrent,
    /// What a continuous output is multiplied by.
    pub continuous: f64,
    /// What the bus is taken for where main and sources sit apart.
    pub apart: f64,
}

/// One way to read whether a bus is large enough.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// What is set against the bus.
    pub asked: ElectricCurrent,
    /// What the bus may take in this reading.
    pub allowed: ElectricCurrent,
}

/// The three sums: 125 percent of the sources and the main against the bus; the same against 120 percent of the bus, where the
/// sources sit at the other end from the main or the bus is fed in its middle; all breakers but the main against the bus.
pub fn readings(bus: &Bus) -> [Reading; 3] {
    let sum = bus.sources * bus.continuous + bus.main;
    [
        Reading { asked: sum, allowed: bus.rating },
        Reading { asked: sum, allowed: bus.rating * bus.apart },
        Reading { asked: bus.breakers, allowed: bus.rating },
    ]
}

impl Reading {
    /// The share of what is allowed.
    pub fn share(&self) -> Ratio {
        fraction(in_fraction(self.asked / self.allowed))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::electric_current::ampere;

    fn amperes(number: f64) -> ElectricCurrent {
        ElectricCurrent::new::<ampere>(number)
    }

    fn holds(rating: f64, main: f64, sources: f64, breakers: f64) -> [bool; 3] {
        let bus = Bus {
            rating: amperes(rating),
            main: amperes(main),
            sources: amperes(sources),
            breakers: amperes(breakers),
            continuous: 1.25,
            apart: 1.2,
        };
        readings(&bus).map(|reading| reading.asked <= reading.allowed * (1.0 + 1e-12))
    }

    // A published course on 705.12: a 32 A inverter on a 200 A bus with a 200 A main, 240 of 240. The others are
    // computed from 705.12(B).
    #[test]
    fn published_and_computed_sums() {
        assert!(holds(200.0, 200.0, 32.0, 40.0)[1]);
        assert!(!holds(200.0, 200.0, 56.0, 70.0)[1]);
        assert!(!holds(200.0, 175.0, 56.0, 70.0)[1]);
        assert!(holds(200.0, 150.0, 56.0, 70.0)[1]);
        assert!(holds(225.0, 200.0, 56.0, 70.0)[1]);
        assert!(!holds(225.0, 200.0, 56.1, 70.0)[1]);
        assert!(holds(100.0, 100.0, 16.0, 20.0)[1]);
        // A published example: 30 A of load and 60 A of source on a 200 A bus.
        assert_eq!(holds(200.0, 200.0, 48.0, 90.0), [false, false, true]);
        assert_eq!(holds(200.0, 200.0, 48.0, 210.0), [false, false, false]);
    }
}
