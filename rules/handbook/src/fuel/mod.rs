//! Fuel gas: what it carries, what an orifice lets through, what altitude and the wrong fuel do to a burner.
//!
//! The appliance's own rating plate and instructions come before every figure here.

mod altitude;
mod drill;
mod gas;
mod orifice;
mod pressure;
pub mod sources;

pub use altitude::{Derating, local_heating_value_share, orifice_area_share};
pub use drill::{DRILLS, Drill, drill, drills_around};
pub use gas::{
    AIR_PER_VOLUME_OF_METHANE, FuelGas, GasProperties, PROPANE_BTU_PER_GALLON, PROPANE_CUBIC_FEET_PER_GALLON,
    stoichiometric_air_per_input,
};
pub use orifice::{DischargeCoefficient, Firing, conversion_area, firing_ratio, orifice_area_for, orifice_flow};
pub use pressure::{
    PressureFit, PressureWindow, TypicalPressures, pressure_at_inlet, pressure_fit, sample_inlet_windows, typical_pressures,
};
