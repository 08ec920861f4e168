//! Ducts and the air in them: insulation by place, leakage, air under floors, filters, friction, what rooms gain and lose.

mod air;
mod insulation;
pub mod sources;

pub use air::{NetAir, crawl_space_air, dehumidification, face_velocity, friction_rate, leakage_limit, make_up_share};
pub use insulation::{DuctPlace, InsulationTable, Run, insulation_needed};
