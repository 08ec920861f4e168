//! What the conductors between an inverter and its batteries carry.

use crate::source::Source;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::f64::{ElectricCurrent, ElectricPotential, Power, Ratio};
use uom::si::power::watt;
use uom::si::ratio::ratio;

/// Where it comes from.
pub const DC: Source =
    Source::new("from memory of NEC 706.30, 706.31: input current at the lowest voltage, 125 % for conductors");

/// The current and what conductors and their overcurrent device must carry.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DcCurrent {
    /// At full output and the lowest voltage.
    pub input: ElectricCurrent,
    /// Raised for what runs for hours.
    pub raised: ElectricCurrent,
}

/// The current an inverter draws from its batteries at full output; `None` at no voltage or no efficiency.
pub fn dc_current(output: Power, efficiency: Ratio, lowest: ElectricPotential, factor: f64) -> Option<DcCurrent> {
    let below = efficiency.get::<ratio>() * lowest.get::<volt>();
    (below > 0.0).then(|| {
        let input = ElectricCurrent::new::<ampere>(output.get::<watt>() / below);
        DcCurrent { input, raised: input * factor }
    })
}
