//! The load of the neutral: NEC 220.61.

use super::{Line, apparent, share};
use crate::source::Source;
use uom::si::electric_current::ampere;
use uom::si::f64::{ElectricCurrent, ElectricPotential, Power};

/// What runs back through the neutral.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Neutral {
    /// Demand of what is joined between a line and the neutral.
    pub line_to_neutral: Power,
    /// Demand of ranges, ovens, cooking tops and dryers.
    pub cooking_and_dryers: Power,
}

/// The demand on the neutral, line by line: ranges and dryers count 70 %, and so does what exceeds 200 A at `volts`, which is
/// the voltage between the lines (NEC 220.61(B), from memory for the 200 A).
pub fn neutral(load: &Neutral, volts: ElectricPotential) -> super::Demand {
    let source = Source::new("NEC 220.61");
    let reduced = load.cooking_and_dryers * share(0.70);
    let sum = load.line_to_neutral + reduced;
    let limit = apparent(ElectricCurrent::new::<ampere>(200.0), volts);
    let over = if sum > limit { sum - limit } else { Power::default() };
    super::Demand::of([
        Line { what: "lines to neutral", connected: load.line_to_neutral, demand: load.line_to_neutral, source },
        Line { what: "ranges and dryers", connected: load.cooking_and_dryers, demand: reduced, source },
        Line { what: "what exceeds 200 A", connected: over, demand: -(over * share(0.30)), source },
    ])
}
