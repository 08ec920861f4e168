//! The loads that run from a standby source.

use redtag_rule::prelude::*;
pub use redtag_rule_load::{count, motor, nameplate, purpose, voltage};
use uom::si::f64::Power;

/// The transfers of the project.
pub fn transfers<'a>(inquiry: &Inquiry<'a>) -> Vec<Place<'a, Transfer>> {
    need!(inquiry.project(), electrical.transfers).every()
}

/// Every load that is backed up.
///
/// # Errors
/// Where a load does not say whether it is.
pub fn backed_up<'a>(inquiry: &Inquiry<'a>) -> Lookup<Vec<Place<'a, Load>>> {
    let every: Vec<Place<Load>> = need!(inquiry.project(), electrical.loads)?.items().collect();
    let said: Vec<bool> = every.iter().map(|load| need!(load, backed_up).map(|flag| *flag)).collect::<Vec<_>>().together()?;
    Ok(every.into_iter().zip(said).filter(|(_, backed)| *backed).map(|(load, _)| load).collect())
}

/// The loads on one transfer. Where there are several, a load whose equipment is on a circuit of another one's panel is left
/// out; a load that says no equipment counts with each.
///
/// # Errors
/// Where a load does not say whether it is backed up.
pub fn on<'a>(inquiry: &Inquiry<'a>, transfer: &Place<'a, Transfer>) -> Lookup<Vec<Place<'a, Load>>> {
    let mut loads = backed_up(inquiry)?;
    let others: Vec<Place<Transfer>> = transfers(inquiry).into_iter().filter(|other| other.id != transfer.id).collect();
    if others.is_empty() {
        return Ok(loads);
    }
    let own = served(inquiry, transfer);
    let elsewhere: Vec<&str> = others.iter().flat_map(|other| served(inquiry, other)).collect();
    loads.retain(|load| {
        let equipment = load.equipment.as_deref();
        equipment.is_none_or(|id| own.contains(&id) || !elsewhere.contains(&id))
    });
    Ok(loads)
}

/// What the circuits of a transfer's panel serve.
fn served<'a>(inquiry: &Inquiry<'a>, transfer: &Place<'a, Transfer>) -> Vec<&'a str> {
    let panel = need!(transfer, feeds).and_then(|id| need!(inquiry.project(), electrical.panels).named(&id));
    let Ok(panel) = panel else { return Vec::new() };
    let circuits = panel.get().circuits.iter().flatten();
    circuits.flat_map(|circuit| circuit.serves.iter().flatten()).map(String::as_str).collect()
}

/// Power while it runs, of all of its kind together.
///
/// # Errors
/// Where it is not said.
pub fn running(load: &Place<Load>) -> Lookup<Power> {
    Ok(need!(load, running)?.quantity() * count(load))
}

/// Of loads that never run together, only the one with the most of `of` is kept.
pub fn coincident<'a>(loads: &[Place<'a, Load>], of: impl Fn(&Place<'a, Load>) -> Power) -> Vec<Place<'a, Load>> {
    let beaten = |index: usize, load: &Place<'a, Load>| {
        load.noncoincident_group.is_some()
            && loads.iter().enumerate().any(|(other, rival)| {
                rival.noncoincident_group == load.noncoincident_group
                    && (of(rival) > of(load) || (of(rival) == of(load) && other < index))
            })
    };
    loads.iter().enumerate().filter(|(index, load)| !beaten(*index, load)).map(|(_, load)| load.clone()).collect()
}
