//! Condensate: how much there is, and what carries it.

use super::inlet::orifice_flow;
use super::measure::gallons_per_minute;
use crate::units;
use uom::si::f64::{Area, Length, Power, Pressure, Volume, VolumeRate};

/// One ton of refrigeration, in Btu/h.
const TON: f64 = 12_000.0;

/// Nominal size of a drain for so much cooling; `None` above 250 tons. One unit or several together.
/// Source: [`sources::CONDENSATE_SIZE`](super::sources::CONDENSATE_SIZE).
pub fn least_condensate_drain(cooling: Power) -> Option<Length> {
    let tons = units::in_btu_per_hour(cooling) / TON;
    let rows = [(20.0, 0.75), (40.0, 1.0), (90.0, 1.25), (125.0, 1.5), (250.0, 2.0)];
    rows.into_iter().find(|(most, _)| tons <= most + 1e-9).map(|(_, size)| units::inches(size))
}

/// Condensate of cooling. Source: [`sources::COOLING_CONDENSATE`](super::sources::COOLING_CONDENSATE).
pub fn cooling_condensate(cooling: Power) -> VolumeRate {
    gallons_per_minute(0.8 / 60.0 * units::in_btu_per_hour(cooling) / TON)
}

/// Condensate of a condensing gas burner. Source: [`sources::GAS_CONDENSATE`](super::sources::GAS_CONDENSATE).
pub fn condensing_gas_condensate(input: Power) -> VolumeRate {
    gallons_per_minute(units::in_btu_per_hour(input) / 100_000.0 / 60.0)
}

/// Depth of the trap of a coil the fan draws through. Source: [`sources::SUCTION_TRAP`](super::sources::SUCTION_TRAP).
pub fn suction_trap_depth(suction: Pressure) -> Length {
    units::inches(2.0 * units::in_inches_of_water(suction) + 1.0)
}

/// What a pan's outlet carries under a head, as an orifice of coefficient 0.6.
pub fn pan_outlet(inside: Length, head: Length) -> VolumeRate {
    orifice_flow(inside * inside * std::f64::consts::FRAC_PI_4, head, 0.6)
}

/// Water a pan holds around what stands in it.
pub fn net_pan_volume(pan: Area, standing: Area, depth: Length) -> Volume {
    let free = pan - standing;
    if free > Area::default() { free * depth } else { Volume::default() }
}
