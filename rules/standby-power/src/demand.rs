//! The Article 220 load of what is transferred.

use redtag_rule::prelude::*;
use redtag_rule_load::{Carried, demand};
pub use redtag_rule_load::{METHOD, VEHICLE};
use uom::si::f64::{ElectricCurrent, Power};

/// The demand by the method in force.
///
/// # Errors
/// Where the calculation lacks a fact.
pub fn of(inquiry: &Inquiry, backed: &[Place<Load>], rating: Option<ElectricCurrent>, sheet: &mut Sheet) -> Lookup<Power> {
    let project = inquiry.project();
    let carried = Carried {
        floor_area: need!(project, electrical.standby.floor_area),
        small_appliance_circuits: need!(project, electrical.standby.small_appliance_circuits),
        laundry_circuits: need!(project, electrical.standby.laundry_circuits),
        heating_zones: need!(project, electrical.standby.heating_zones),
    };
    demand(inquiry, &carried, backed, rating, sheet)
}
