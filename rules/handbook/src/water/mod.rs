//! Water in a house: how much is asked for, which pipe carries it, what pressure is left, and what heating it does.
//!
//! Rules use what is here; nothing here knows of them. Tables that codes disagree about are enums of the readings in use, and a
//! cell nobody could confirm or remember answers `None`: whoever asks must then say that it is not known.

pub mod measure;
pub mod sources;

mod boiler;
mod demand;
mod expansion;
mod fixture_unit;
mod framing;
mod friction;
mod heating;
mod outlet;
mod sizing;
mod softening;
mod support;
mod tube;
mod well;

pub use boiler::boiler_expansion_tank;
pub use demand::{DemandCurve, peak_demand};
pub use expansion::{
    ExpansionTank, OPEN_BELOW_RELIEF, acceptance, atmosphere_at, density, expansion_tank_volume, expansion_volume,
    pressure_with_tank,
};
pub use fixture_unit::{Outlet, SupplyUnits, UnitTable, supply_units};
pub use framing::{MemberUse, greatest_joist_hole, greatest_joist_notch, greatest_stud_hole, greatest_stud_notch};
pub use friction::{Friction, elevation_loss, friction_factor, friction_loss, velocity};
pub use heating::{flow_at_rise, heat_needed, hot_share};
pub use outlet::outlet_needs;
pub use sizing::{MeterTable, PressureBand, Row, largest_units, manifold_capacity};
pub use softening::{compensated_hardness, days_between, exchange_capacity, hardness_per_day};
pub use support::{Support, support_spacing};
pub use tube::{NOMINAL, TubeKind, inside_diameter, nominal, outside_diameter, size_up};
pub use well::{drawdown, drawdown_factor, pump_flow_at, tank_volume_for};
