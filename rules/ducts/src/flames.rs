//! What burns in a space with air of that space, and can be drawn on.

use redtag_rule::prelude::*;

/// Whether an appliance has a draft hood or an open combustion chamber: it burns with air of the room and its gases rise by draft.
///
/// # Errors
/// Where its burner or the source of its air is not said.
pub fn open(appliance: &Place<Equipment>) -> Lookup<bool> {
    if appliance.fuel_burning.is_none() && !kinds::burns(appliance)? {
        return Ok(false);
    }
    let air = need!(appliance, fuel_burning.combustion_air);
    if matches!(air.as_ref().map(|air| *air.get()), Ok(AirSource::DirectVent)) {
        return Ok(false);
    }
    let burner = *need!(appliance, fuel_burning.burner)?.get();
    let spills = matches!(burner, Burner::DraftHood | Burner::NaturalDraft | Burner::Unvented);
    Ok(spills && air.map(|_| true)?)
}

/// The appliances with open combustion in a space.
///
/// # Errors
/// Where an appliance there does not say what it is.
pub fn in_space<'a>(inquiry: &Inquiry<'a>, space: &str) -> Lookup<Vec<Place<'a, Equipment>>> {
    let all = need!(inquiry.project(), equipment).every();
    // One whose room is not said may stand in any of them.
    let lost = |one: &&Place<Equipment>| one.space.is_none() && one.outdoors != Some(true) && open(one) != Ok(false);
    if let Some(lost) = all.iter().find(lost) {
        return Err(lost.missing("/space"));
    }
    let there = all.into_iter().filter(|equipment| equipment.space.as_deref() == Some(space));
    let each: Vec<Lookup<Option<Place<Equipment>>>> = there.map(|equipment| Ok(open(&equipment)?.then_some(equipment))).collect();
    Ok(each.together()?.into_iter().flatten().collect())
}
