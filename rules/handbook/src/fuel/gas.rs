//! What a fuel gas carries.

use super::sources;
use crate::units::{self, HeatingValue};
use crate::{Source, Sourced};
use std::ops::Div;
use uom::si::f64::{Power, Ratio, VolumeRate};

/// The two gases houses burn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FuelGas {
    /// Natural gas from a utility.
    Natural,
    /// Propane from a tank.
    Propane,
}

/// What a gas carries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GasProperties {
    /// Gross heat per volume at 60 F and 30 in of mercury.
    pub heating_value: HeatingValue,
    /// Density relative to air.
    pub specific_gravity: Ratio,
}

impl GasProperties {
    /// Properties from Btu/ft3 and specific gravity.
    pub fn new(btu_per_cubic_foot: f64, specific_gravity: f64) -> Self {
        Self { heating_value: units::btu_per_cubic_foot(btu_per_cubic_foot), specific_gravity: units::fraction(specific_gravity) }
    }

    /// Figures for design where the utility or supplier gives none: natural gas 1000 Btu/ft3 and 0.60, propane 2516 and
    /// 1.52. Utilities deliver 950 to 1100, at high altitude 830 to 900.
    pub fn design(gas: FuelGas) -> Sourced<Self> {
        match gas {
            FuelGas::Natural => Sourced::new(Self::new(1000.0, 0.60), sources::NATURAL_GAS),
            FuelGas::Propane => Sourced::new(Self::new(2516.0, 1.52), sources::PROPANE),
        }
    }

    /// Propane as sizing and orifice tables take it: 2500 Btu/ft3 and 1.50.
    pub fn propane_in_tables() -> Sourced<Self> {
        Sourced::new(Self::new(2500.0, 1.50), sources::PROPANE_IN_TABLES)
    }

    /// The Wobbe index, heating value over the root of specific gravity: what a fixed orifice at a fixed pressure delivers
    /// goes with it. Source: [`sources::WOBBE`].
    pub fn wobbe_index(&self) -> HeatingValue {
        self.heating_value / self.specific_gravity.sqrt()
    }

    /// The flow that carries a heat input.
    pub fn flow_for(&self, input: Power) -> VolumeRate {
        input / self.heating_value
    }

    /// The heat input a flow carries.
    pub fn input_of(&self, flow: VolumeRate) -> Power {
        flow * self.heating_value
    }
}

/// Volumes of air one volume of methane needs to burn completely: 2 / 0.21. Source: [`sources::STOICHIOMETRIC_AIR`].
pub const AIR_PER_VOLUME_OF_METHANE: Sourced<f64> = Sourced::new(2.0 / 0.21, sources::STOICHIOMETRIC_AIR);

/// Air for complete combustion per heat input: about 10 ft3 for each 1000 Btu of any fuel gas. A common rule of the trade;
/// methane computes to 9.4.
pub fn stoichiometric_air_per_input() -> Sourced<<VolumeRate as Div<Power>>::Output> {
    Sourced::new(units::hourly_cubic_feet_per_thousand(10.0), Source::new("common practice: about 10 ft3 of air per 1000 Btu"))
}

/// Cubic feet of vapor in a gallon of propane. Source: [`sources::PROPANE_LIQUID`].
pub const PROPANE_CUBIC_FEET_PER_GALLON: Sourced<f64> = Sourced::new(36.39, sources::PROPANE_LIQUID);
/// Btu in a gallon of propane. Source: [`sources::PROPANE_LIQUID`].
pub const PROPANE_BTU_PER_GALLON: Sourced<f64> = Sourced::new(91_500.0, sources::PROPANE_LIQUID);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::*;

    #[test]
    fn wobbe_indices_of_the_design_gases() {
        let wobbe = |gas| in_btu_per_cubic_foot(GasProperties::design(gas).value.wobbe_index());
        assert!((wobbe(FuelGas::Natural) - 1291.0).abs() < 0.5, "{}", wobbe(FuelGas::Natural));
        assert!((wobbe(FuelGas::Propane) - 2041.0).abs() < 0.5, "{}", wobbe(FuelGas::Propane));
    }

    #[test]
    fn flow_and_input_undo_each_other() {
        let gas = GasProperties::new(900.0, 0.60);
        let flow = gas.flow_for(btu_per_hour(199_000.0));
        assert!((in_cubic_feet_per_hour(flow) - 221.111).abs() < 1e-3);
        assert!((in_btu_per_hour(gas.input_of(flow)) - 199_000.0).abs() < 1e-6);
    }

    #[test]
    fn a_gallon_of_propane_is_its_vapor() {
        let heat = PROPANE_CUBIC_FEET_PER_GALLON.value * 2516.0;
        assert!((heat / PROPANE_BTU_PER_GALLON.value - 1.0).abs() < 0.002);
    }
}
