//! Fuel gas piping: what a pipe carries, what it costs in pressure, what fittings add to its length.
//!
//! The equations are those the code prints beside its tables. They are 0.5 to 2 percent more generous than the low-pressure
//! tables and depart by more from two of the high-pressure ones, so a plan is sized by one basis throughout; see
//! [`sources::EQUATION_AGAINST_TABLES`].

mod equation;
mod fitting;
mod pipe;
pub mod sources;

pub use equation::{HighPressure, PipedGas, diameter_high, diameter_low, drop_low, flow_high, flow_low};
pub use fitting::{Fitting, UNKNOWN_FITTINGS, equivalent_diameters, equivalent_length, with_unknown_fittings};
pub use pipe::{NominalSize, SIZES, inside_diameter};
