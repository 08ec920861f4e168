//! Fuel gas piping: what a pipe carries by the printed tables and by the equations, what it costs in pressure, what fittings add
//! to its length, and the piping as a network.
//!
//! The equations are those the code prints beside its tables. They are 0.5 to 2 percent more generous than the low-pressure
//! tables and depart by more from two of the high-pressure ones, so a plan is sized by one basis throughout; see
//! [`sources::EQUATION_AGAINST_TABLES`]. Of the tables only the rows that were seen are here: [`read`] answers bounds where the
//! row to be read was not, and nothing past the last.

mod capacity;
mod equation;
mod fitting;
mod network;
mod pipe;
pub mod sources;
mod table;
mod tables;
mod tube;

pub use capacity::{CapacityPoint, Reach, Reading, reach, read};
pub use equation::{
    HighPressure, PipedGas, diameter_high, diameter_low, drop_from, drop_high, drop_low, flow_from, flow_high, flow_low,
    gravity_multiplier, is_high,
};
pub use fitting::{
    FEET_PER_TUBING_BEND, Fitting, UNKNOWN_FITTINGS, equivalent_diameters, equivalent_length, with_unknown_fittings,
};
pub use network::{Link, Network};
pub use pipe::{NominalSize, SIZES, inside_diameter};
pub use table::{CapacityTable, Printed, Stated, table_for};
pub use tables::TABLES;
pub use tube::{PLASTICS, PlasticSize, Size, TUBES, TubeSize, inside_diameter_schedule_10};
