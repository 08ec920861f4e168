//! Panels: what a bus may be fed with, conductors of a dwelling's service, grounding and bonding conductors.

mod bus;
mod conductors;

pub use bus::{BUS, Bus, Reading, readings};
pub use conductors::{ELECTRODE, EQUIPMENT, Metal, SERVICE, electrode_conductor, equipment_grounding, rank, service_conductor};
