//! What the gas supply delivers.

use crate::burner;
use redtag_handbook::fuel::GasProperties;
use redtag_handbook::units;
use redtag_rule::prelude::*;
use uom::si::f64::Power;

/// The supplied gas.
///
/// # Errors
/// When the project does not say.
pub fn fuel(inquiry: &Inquiry) -> Lookup<Fuel> {
    need!(inquiry.project(), gas.supply.fuel).map(|fuel| *fuel)
}

/// What the gas supplied carries: the supplier's figures where said, those for design elsewhere; `None` where there are
/// neither.
///
/// # Errors
/// When a figure said is not above zero.
pub fn delivers(inquiry: &Inquiry, fuel: Fuel) -> Lookup<Option<GasProperties>> {
    let project = inquiry.project();
    let heating_value = need!(project, gas.supply.heating_value).ok();
    let specific_gravity = need!(project, gas.supply.specific_gravity).ok();
    if let Some(value) = heating_value.as_ref().filter(|value| value.si() <= 0.0) {
        return Err(Unresolved::because(value.pointer(), "a heating value above zero"));
    }
    if let Some(gravity) =
        specific_gravity.as_ref().filter(|gravity| gravity.get().partial_cmp(&0.0) != Some(std::cmp::Ordering::Greater))
    {
        return Err(Unresolved::because(gravity.pointer(), "a specific gravity above zero"));
    }
    let design = burner::design(fuel);
    let heating_value = heating_value.map(|value| value.quantity()).or(design.map(|design| design.heating_value));
    let gravity = specific_gravity.map(|gravity| units::fraction(*gravity)).or(design.map(|design| design.specific_gravity));
    Ok(heating_value.zip(gravity).map(|(heating_value, specific_gravity)| GasProperties { heating_value, specific_gravity }))
}

/// An input as an author would write it, not above the amount: whole Btu/h.
pub fn written_down(input: Power) -> String {
    let whole = (units::in_btu_per_hour(input) + 1e-6).floor();
    quantity::Power::from_quantity(&units::btu_per_hour(whole)).print_in("Btu/h")
}
