//! What a burner orifice lets through.

use super::{GasProperties, sources};
use crate::{Sourced, units};
use uom::si::f64::{Area, Pressure, Ratio, VolumeRate};

/// Cubic feet per hour at 60 F and 30 in of mercury, through 1 in2 with 1 in of water across it, of a gas as heavy as air,
/// discharge coefficient 1.
const CONSTANT: f64 = 1658.5;

/// How much of the ideal flow an orifice passes: 0.80 to 0.95 by its shape; the tables take 0.90.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DischargeCoefficient(pub f64);

impl DischargeCoefficient {
    /// The coefficient of the tables with its source.
    pub const TABLES: Sourced<Self> = Sourced::new(Self(0.90), sources::DISCHARGE_COEFFICIENT);
}

impl Default for DischargeCoefficient {
    fn default() -> Self {
        Self::TABLES.value
    }
}

/// The flow through a hole of `area` with `pressure` across it. Source: [`sources::ORIFICE_EQUATION`].
pub fn orifice_flow(area: Area, pressure: Pressure, specific_gravity: Ratio, coefficient: DischargeCoefficient) -> VolumeRate {
    units::cubic_feet_per_hour(units::in_square_inches(area) * flow_per_square_inch(pressure, specific_gravity, coefficient))
}

/// The area of hole that passes `flow`. Source: [`sources::ORIFICE_EQUATION`].
pub fn orifice_area_for(
    flow: VolumeRate,
    pressure: Pressure,
    specific_gravity: Ratio,
    coefficient: DischargeCoefficient,
) -> Area {
    units::square_inches(units::in_cubic_feet_per_hour(flow) / flow_per_square_inch(pressure, specific_gravity, coefficient))
}

/// Cubic feet per hour through 1 in2.
fn flow_per_square_inch(pressure: Pressure, specific_gravity: Ratio, coefficient: DischargeCoefficient) -> f64 {
    let head = units::in_inches_of_water(pressure) / units::in_fraction(specific_gravity);
    CONSTANT * coefficient.0 * head.sqrt()
}

/// A gas at the orifice: what is in the pipe and the pressure behind the hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Firing {
    /// The gas.
    pub gas: GasProperties,
    /// Manifold pressure.
    pub pressure: Pressure,
}

/// Heat released with `actual` over heat released with `plate`, through the same orifice: the Wobbe indices times the roots
/// of the pressures. Above one the burner is over-fired, which makes carbon monoxide, soot and fire. Source:
/// [`sources::WOBBE`].
pub fn firing_ratio(plate: &Firing, actual: &Firing) -> Ratio {
    let wobbe: Ratio = actual.gas.wobbe_index() / plate.gas.wobbe_index();
    let pressure: Ratio = actual.pressure / plate.pressure;
    wobbe * pressure.sqrt()
}

/// The area of hole that gives the same heat input on another gas and pressure. Only the manufacturer's kit and a qualified
/// technician convert an appliance; this tells whether the orifice in it can be the right one. Source: [`sources::WOBBE`].
pub fn conversion_area(area: Area, from: &Firing, to: &Firing) -> Area {
    area / firing_ratio(from, to)
}

#[cfg(test)]
mod tests {
    use super::super::FuelGas;
    use super::*;
    use crate::combustion_air::round_area;
    use crate::units::*;

    fn firing(gas: FuelGas, pressure: f64) -> Firing {
        Firing { gas: GasProperties::design(gas).value, pressure: inches_of_water(pressure) }
    }

    #[test]
    fn area_and_flow_undo_each_other() {
        let (pressure, gravity) = (inches_of_water(3.5), fraction(0.6));
        let area = round_area(inches(0.0935));
        let flow = orifice_flow(area, pressure, gravity, DischargeCoefficient::default());
        let back = orifice_area_for(flow, pressure, gravity, DischargeCoefficient::default());
        assert!((in_square_inches(back) / in_square_inches(area) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn a_converted_orifice_fires_as_the_plate_says() {
        let (natural, propane) = (firing(FuelGas::Natural, 3.5), firing(FuelGas::Propane, 10.0));
        let area = square_inches(0.006_866);
        let converted = conversion_area(area, &natural, &propane);
        let heat = |area, firing: &Firing| {
            let flow = orifice_flow(area, firing.pressure, firing.gas.specific_gravity, DischargeCoefficient::default());
            in_btu_per_hour(firing.gas.input_of(flow))
        };
        assert!((heat(converted, &propane) / heat(area, &natural) - 1.0).abs() < 1e-12);
    }
}
