//! The code's two pipe-sizing equations, each solved for flow, diameter and pressure drop.

use crate::fuel::FuelGas;
use crate::units;
use redtag_schema::quantity::at_least;
use uom::si::f64::{Length, Pressure, Ratio, VolumeRate};

/// Exponent of the flow.
const FLOW_EXPONENT: f64 = 0.381;
/// Exponent of the pressure gradient.
const GRADIENT_EXPONENT: f64 = 0.206;
/// Constant of the low-pressure equation.
const LOW: f64 = 19.17;
/// Constant of the high-pressure equation.
const HIGH: f64 = 18.93;

/// 60 F in degrees Rankine, as the definition of Cr takes it.
const RANKINE_AT_60_F: f64 = 520.0;

/// From this gauge pressure on the high-pressure equation holds, in psi.
const HIGH_FROM_PSI: f64 = 1.5;

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

    /// Factors of a gas of another specific gravity: Cr by its definition, `0.00354 S T (Z/S)^0.152` at 60 F with the
    /// viscosity of the gas; the printed factors where the gravity is the one they were made for. `None` unless the gravity is
    /// above zero. Source: [`sources::DEFINITION_OF_CR`](super::sources::DEFINITION_OF_CR).
    pub fn with_gravity(gas: FuelGas, gravity: Ratio) -> Option<Self> {
        let printed = Self::of(gas);
        let gravity = units::in_fraction(gravity);
        let (made_for, centipoise) = match gas {
            FuelGas::Natural => (0.60, 0.012),
            FuelGas::Propane => (1.50, 0.008),
        };
        if !(gravity > 0.0 && gravity.is_finite()) {
            return None;
        }
        if gravity == made_for {
            return Some(printed);
        }
        Some(Self { cr: 0.00354 * gravity * RANKINE_AT_60_F * libm::pow(centipoise / gravity, 0.152), ..printed })
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

/// Pressure a flow loses over the equivalent length from a gauge pressure of 1.5 psi or above at sea level; `None` unless
/// everything is above zero, and where the flow would take more than there is. Source:
/// [`sources::HIGH_PRESSURE`](super::sources::HIGH_PRESSURE).
pub fn drop_high(flow: VolumeRate, diameter: Length, length: Length, upstream: Pressure, gas: &PipedGas) -> Option<Pressure> {
    let (flow, diameter) = (units::in_cubic_feet_per_hour(flow), units::in_inches(diameter));
    let resistance = gas.cr * units::in_feet(length) / gas.y;
    if !(flow > 0.0 && diameter > 0.0 && resistance > 0.0) {
        return None;
    }
    let root = libm::pow(flow, FLOW_EXPONENT) / (HIGH * diameter);
    let squares = resistance * libm::pow(root, 1.0 / GRADIENT_EXPONENT);
    let ends = HighPressure::at_sea_level(upstream, units::psi(0.0));
    let absolute = units::in_psi(upstream + ends.atmosphere);
    let left = absolute * absolute - squares;
    (squares <= ends.squares()).then(|| units::psi(absolute - left.sqrt()))
}

/// Whether piping that starts at this gauge pressure is reckoned by the high-pressure equation.
pub fn is_high(start: Pressure) -> bool {
    at_least(start, units::psi(HIGH_FROM_PSI))
}

/// Flow a pipe carries that starts at a gauge pressure and may lose `drop`, by the equation of that pressure; `None` unless
/// everything is above zero. Source: [`sources::LOW_PRESSURE`](super::sources::LOW_PRESSURE).
pub fn flow_from(start: Pressure, drop: Pressure, diameter: Length, length: Length, gas: &PipedGas) -> Option<VolumeRate> {
    if is_high(start) {
        flow_high(diameter, length, &HighPressure::at_sea_level(start, start - drop), gas)
    } else {
        flow_low(diameter, length, drop, gas)
    }
}

/// Pressure a flow loses in a pipe that starts at a gauge pressure, by the equation of that pressure. `None` as the equations.
pub fn drop_from(start: Pressure, flow: VolumeRate, diameter: Length, length: Length, gas: &PipedGas) -> Option<Pressure> {
    if is_high(start) { drop_high(flow, diameter, length, start, gas) } else { drop_low(flow, diameter, length, gas) }
}

/// What the printed capacities are multiplied by for natural gas of another specific gravity than 0.60; `None` unless above
/// zero. Source: [`sources::GRAVITY`](super::sources::GRAVITY).
pub fn gravity_multiplier(gravity: Ratio) -> Option<f64> {
    let gravity = units::in_fraction(gravity);
    (gravity > 0.0 && gravity.is_finite()).then(|| (0.6 / gravity).sqrt())
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

    // Published: 2018 IFGC appendix A, table A.2.4, multipliers for specific gravity, printed to two decimals.
    #[test]
    fn gravity_multipliers() {
        let printed = [(0.55, 1.04), (0.60, 1.0), (0.65, 0.96), (0.70, 0.93), (1.00, 0.78), (1.50, 0.63), (1.60, 0.61)];
        for (gravity, multiplier) in printed {
            assert!((gravity_multiplier(fraction(gravity)).unwrap() - multiplier).abs() < 0.0055, "{gravity}");
        }
        assert_eq!((gravity_multiplier(fraction(0.0)), gravity_multiplier(fraction(0.6))), (None, Some(1.0)));
    }

    // The definition is from memory; that it gives both printed factors to four figures is the check on it.
    #[test]
    fn the_definition_of_cr_gives_the_printed_factors() {
        for (gas, gravity) in [(FuelGas::Natural, 0.6 + 1e-9), (FuelGas::Propane, 1.5 + 1e-9)] {
            let defined = PipedGas::with_gravity(gas, fraction(gravity)).unwrap();
            assert!((defined.cr / PipedGas::of(gas).cr - 1.0).abs() < 1e-4, "{gas:?} {}", defined.cr);
        }
        assert_eq!(PipedGas::with_gravity(FuelGas::Natural, fraction(0.6)), Some(PipedGas::of(FuelGas::Natural)));
        assert_eq!(PipedGas::with_gravity(FuelGas::Natural, fraction(-1.0)), None);
    }

    #[test]
    fn what_a_high_pressure_pipe_carries_it_loses() {
        let (gas, pipe) = (PipedGas::of(FuelGas::Natural), inside_diameter(NominalSize::Half));
        let flow = flow_from(psi(2.0), psi(1.0), pipe, feet(50.0), &gas).unwrap();
        assert!((in_psi(drop_from(psi(2.0), flow, pipe, feet(50.0), &gas).unwrap()) - 1.0).abs() < 1e-9);
        assert_eq!(drop_from(psi(2.0), flow * 3.0, pipe, feet(50.0), &gas), None);
        assert!(is_high(psi(1.5)) && !is_high(psi(1.49)));
        let low = flow_from(inches_of_water(7.0), inches_of_water(0.5), pipe, feet(50.0), &gas);
        assert_eq!(low, flow_low(pipe, feet(50.0), inches_of_water(0.5), &gas));
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
