//! Panels: what a bus may be fed with, conductors of a dwelling's service, grounding and bonding conductors.

mod bus;
mod conductors;

pub use crate::raceway::{Metal, rank};
pub use bus::{BUS, Bus, Reading, readings};
pub use conductors::{
    ELECTRODE, EQUIPMENT, SERVICE, Serving, dwelling_figure, electrode_conductor, equipment_grounding, may_run_in_parallel,
    service_ampacity, service_conductor, service_holds,
};
