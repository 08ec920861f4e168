//! Drainage: pipes, traps, fixture units, inlets, air gaps, condensate, surveyed floors and what stands on them.
//!
//! Tables answer `None` where the figure is not known here; a rule must then say so and not guess. Surfaces and water levels
//! are plain metres in the building's own coordinates; everything else is typed.

mod air_gap;
mod basin;
mod capacity;
mod condensate;
mod family;
mod flood;
mod inlet;
mod manning;
mod measure;
mod path;
mod plan;
mod pond;
mod routing;
pub mod sources;
mod surface;
mod trap;
mod units_of;

pub use air_gap::{SUPPLY_GAPS, drainage_air_gap, near_wall, supply_air_gap};
pub use basin::{Basin, Held};
pub use capacity::{branch_capacity, building_drain_capacity, least_slope, stack_capacity};
pub use condensate::{
    condensing_gas_condensate, cooling_condensate, least_condensate_drain, net_pan_volume, pan_outlet, suction_trap_depth,
};
pub use family::{CodeFamily, DrainSize, schedule_40_inside};
pub use flood::{Fill, Grid, fill};
pub use inlet::{Strainer, orifice_flow, weir_flow};
pub use manning::{PartFull, fill_carrying, full_flow, part_full};
pub use measure::{gallons, gallons_per_minute, in_gallons, in_gallons_per_minute, inches_per_foot, minutes};
pub use path::{FaceSlope, FlowPath, PathEnd};
pub use pond::{Outlet, Pond, Runoff};
pub use routing::{Inflow, Moment, Outflow, Routed, route};
pub use surface::{Door, DrainSpot, Floor, NoSurface, Sunken, Surface};
pub use trap::{TrapArm, shower_trap_flow, trap_arm};
pub use units_of::{FixtureLoad, fixture_units, intermittent_flow_units, trap_size_units};
