//! The code's two pipe-sizing equations, each solved for flow, diameter and pressure drop.

use crate::fuel::FuelGas;
use crate::units;
use uom::si::f64::{Length, Pressure, VolumeRate};

/// Exponent of the flow.
const FLOW_EXPONENT: f64 = 0.381;
/// Exponent of the pressure gradient.
const GRADIENT_EXPONENT: f64 = 0.206;
/// Constant of the low-pressure equation.
const LOW: f64 = 19.17;
/// Constant of the high-pressure equation.
const HIGH: f64 = 18.93;

/// Factors of a gas in the equations.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PipedGas {
    /// Cr, from specific gravity, viscosity and temperature.
    pub cr: f64,
    /// Y, from compressibility.
    pub y: f64,
}

impl PipedGas {
    /// Factors of natural gas (specific gravity 0.60) and undiluted propane. Source:
    /// [`sources::FACTORS`](super::sources::FACTORS).
    pub fn of(gas: FuelGas) -> Self {
        match gas {
            FuelGas::Natural => Self { cr: 0.6094, y: 0.9992 },
            FuelGas::Propane => Self { cr: 1.2462, y: 0.9910 },
        }
    }
}

/// Flow a pipe carries below 1.5 psi with `drop` over the equivalent length; `None` unless everything is above zero. Source:
/// [`sources::LOW_PRESSURE`](super::sources::LOW_PRESSURE).
pub fn flow_low(diameter: Length, length: Length, drop: Pressure, gas: &PipedGas) -> Option<VolumeRate> {
    let gradient = units::in_inches_of_water(drop) / (gas.cr * units::in_feet(length));
    flow(LOW, diameter, gradient)
}

/// Inside diameter that carries a flow below 1.5 psi with `drop` over the equivalent length; `None` unless everything is above
/// zero. Source: [`sources::LOW_PRESSURE`](super::sources::LOW_PRESSURE).
pub fn diameter_low(flow: VolumeRate, length: Length, drop: Pressure, gas: &PipedGas) -> Option<Length> {
    let gradient = units::in_inches_of_water(drop) / (gas.cr * units::in_feet(length));
    diameter(LOW, flow, gradient)
}

/// Pressure a flow loses over the equivalent length below 1.5 psi; `None` unless everything is above zero. Source:
/// [`sources::LOW_PRESSURE`](super::sources::LOW_PRESSURE).
pub fn drop_low(flow: VolumeRate, diameter: Length, length: Length, gas: &PipedGas) -> Option<Pressure> {
    let (flow, diameter) = (units::in_cubic_feet_per_hour(flow), units::in_inches(diameter));
    let resistance = gas.cr * units::in_feet(length);
    if !(flow > 0.0 && diameter > 0.0 && resistance > 0.0) {
        return None;
    }
    let root = libm::pow(flow, FLOW_EXPONENT) / (LOW * diameter);
    Some(units::inches_of_water(resistance * libm::pow(root, 1.0 / GRADIENT_EXPONENT)))
}

/// The two ends of a pipe at 1.5 psi or above.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HighPressure {
    /// Gauge pressure upstream.
    pub upstream: Pressure,
    /// Gauge pressure downstream.
    pub downstream: Pressure,
    /// Pressure of the atmosphere: 14.7 psi at sea level.
    pub atmosphere: Pressure,
}

impl HighPressure {
    /// Gauge pressures at sea level, atmosphere 14.7 psi as the code takes it.
    pub fn at_sea_level(upstream: Pressure, downstream: Pressure) -> Self {
        Self { upstream, downstream, atmosphere: units::psi(14.7) }
    }

    /// The difference of the squared absolute pressures, in square psi.
    fn squares(&self) -> f64 {
        let absolute = |gauge: Pressure| units::in_psi(gauge + self.atmosphere);
        let (upstream, downstream) = (absolute(self.upstream), absolute(self.downstream));
        upstream * upstream - downstream * downstream
    }
}

/// Flow a pipe carries at 1.5 psi or above; `None` unless everything is above zero and pressure falls. Source:
/// [`sources::HIGH_PRESSURE`](super::sources::HIGH_PRESSURE).
pub fn flow_high(diameter: Length, length: Length, pressures: &HighPressure, gas: &PipedGas) -> Option<VolumeRate> {
    let gradient = pressures.squares() * gas.y / (gas.cr * units::in_feet(length));
    flow(HIGH, diameter, gradient)
}

/// Inside diameter that carries a flow at 1.5 psi or above; `None` unless everything is above zero and pressure falls. Source:
/// [`sources::HIGH_PRESSURE`](super::sources::HIGH_PRESSURE).
pub fn diameter_high(flow: VolumeRate, length: Length, pressures: &HighPressure, gas: &PipedGas) -> Option<Length> {
    let gradient = pressures.squares() * gas.y / (gas.cr * units::in_feet(length));
    diameter(HIGH, flow, gradient)
}

/// Either equation solved for flow.
fn flow(constant: f64, diameter: Length, gradient: f64) -> Option<VolumeRate> {
    let diameter = units::in_inches(diameter);
    if !(diameter > 0.0 && gradient > 0.0 && gradient.is_finite()) {
        return None;
    }
    let root = constant * diameter * libm::pow(gradient, GRADIENT_EXPONENT);
    Some(units::cubic_feet_per_hour(libm::pow(root, 1.0 / FLOW_EXPONENT)))
}

/// Either equation solved for diameter.
fn diameter(constant: f64, flow: VolumeRate, gradient: f64) -> Option<Length> {
    let flow = units::in_cubic_feet_per_hour(flow);
    if !(flow > 0.0 && gradient > 0.0 && gradient.is_finite()) {
        return None;
    }
    Some(units::inches(libm::pow(flow, FLOW_EXPONENT) / (constant * libm::pow(gradient, GRADIENT_EXPONENT))))
}

#[cfg(test)]
mod tests {
    use super::super::{NominalSize, inside_diameter};
    use super::*;
    use crate::units::*;

    #[test]
    fn flow_diameter_and_drop_undo_each_other() {
        let gas = PipedGas::of(FuelGas::Natural);
        let pipe = inside_diameter(NominalSize::ThreeQuarters);
        let (length, drop) = (feet(60.0), inches_of_water(0.5));
        let flow = flow_low(pipe, length, drop, &gas).unwrap();
        assert!((in_inches(diameter_low(flow, length, drop, &gas).unwrap()) - 0.824).abs() < 1e-12);
        assert!((in_inches_of_water(drop_low(flow, pipe, length, &gas).unwrap()) - 0.5).abs() < 1e-12);
        let ends = HighPressure::at_sea_level(psi(2.0), psi(1.0));
        let flow = flow_high(pipe, length, &ends, &gas).unwrap();
        assert!((in_inches(diameter_high(flow, length, &ends, &gas).unwrap()) - 0.824).abs() < 1e-12);
    }

    #[test]
    fn nothing_is_answered_where_nothing_flows() {
        let gas = PipedGas::of(FuelGas::Propane);
        let pipe = inside_diameter(NominalSize::One);
        assert_eq!(flow_low(pipe, feet(0.0), inches_of_water(0.5), &gas), None);
        assert_eq!(flow_low(pipe, feet(10.0), inches_of_water(0.0), &gas), None);
        assert_eq!(drop_low(cubic_feet_per_hour(0.0), pipe, feet(10.0), &gas), None);
        let rising = HighPressure::at_sea_level(psi(1.0), psi(2.0));
        assert_eq!(flow_high(pipe, feet(10.0), &rising, &gas), None);
    }
}
