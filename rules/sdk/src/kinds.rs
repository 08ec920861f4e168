//! What a piece of equipment does, from what is said of it and else from its kind.
//!
//! A rule about burners asks of everything that may burn something, not of what says it does: a furnace of which nothing but
//! its kind is said is asked what it burns.
//!
//! ```text
//! for appliance in all.iter().filter(|one| kinds::may_burn(one)) {
//!     appliance.ask("whether ...", || { kinds::burns(appliance)?; ... })
//! }
//! ```

use crate::{Lookup, Place, Unresolved};
use redtag_schema::project::{Equipment, Settled};

/// Whether it burns fuel: as described, as said, else by its kind.
///
/// # Errors
/// `burns_fuel`, where the kind leaves it open and nothing else tells.
pub fn burns(equipment: &Place<Equipment>) -> Lookup<bool> {
    let described = equipment.fuel_burning.is_some().then_some(true);
    let said = described.or(equipment.burns_fuel);
    said.map_or_else(|| settled(equipment, equipment.kind.nature().burns_fuel, "/burns_fuel", BURNS), Ok)
}

const BURNS: &str = "whether it burns fuel; what it burns and how is said under `fuel_burning`";

/// Whether it burns fuel or may do so: what a rule about burners has to ask about.
pub fn may_burn(equipment: &Place<Equipment>) -> bool {
    burns(equipment) != Ok(false)
}

/// Whether it holds or leads water: as described, else by its kind.
///
/// # Errors
/// `water_volume`, where the kind leaves it open and nothing else tells.
pub fn holds_water(equipment: &Place<Equipment>) -> Lookup<bool> {
    let described = equipment.water_heating.is_some() || equipment.tank.is_some() || equipment.treatment.is_some();
    let volume = equipment.water_volume.as_ref().map(|volume| volume.si() > 0.0);
    let said = described.then_some(true).or(volume);
    let wanted = "how much water it holds; 0 gal where it holds none";
    said.map_or_else(|| settled(equipment, equipment.kind.nature().holds_water, "/water_volume", wanted), Ok)
}

/// Whether it is joined to the wiring: as described, else by its kind.
///
/// # Errors
/// `electrical`, where the kind leaves it open and nothing else tells.
pub fn electrical(equipment: &Place<Equipment>) -> Lookup<bool> {
    let described = equipment.electrical.is_some().then_some(true);
    let wanted = "what it draws from the wiring";
    described.map_or_else(|| settled(equipment, equipment.kind.nature().electrical, "/electrical", wanted), Ok)
}

/// Whether it moves the air of rooms: as described, else by its kind.
///
/// # Errors
/// `air_moving`, where the kind leaves it open and nothing else tells.
pub fn moves_air(equipment: &Place<Equipment>) -> Lookup<bool> {
    let described = equipment.air_moving.is_some().then_some(true);
    let wanted = "the air it moves; a flow of 0 cfm where it moves none";
    let flow = equipment.air_moving.as_ref().and_then(|moving| moving.flow.as_ref()).map(|flow| flow.si() > 0.0);
    let said = flow.or(described);
    said.map_or_else(|| settled(equipment, equipment.kind.nature().moves_air, "/air_moving/flow", wanted), Ok)
}

fn settled(equipment: &Place<Equipment>, nature: Settled, step: &str, wanted: &str) -> Lookup<bool> {
    match nature {
        Settled::Always => Ok(true),
        Settled::Never => Ok(false),
        Settled::Sometimes => Err(Unresolved::because(format!("{}{step}", equipment.pointer()), wanted)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use redtag_schema::project::{EquipmentKind, FuelBurning};

    #[test]
    fn a_kind_settles_what_it_can_and_the_rest_is_asked() {
        let of = |kind| Equipment { id: "x".to_owned(), kind, ..Equipment::default() };
        let burns_as = |equipment: &Equipment| burns(&Place::new(equipment, "/equipment/0"));
        assert_eq!(burns_as(&of(EquipmentKind::OilHeater)), Ok(true));
        assert_eq!(burns_as(&of(EquipmentKind::Panel)), Ok(false));
        let asked = burns_as(&of(EquipmentKind::Furnace)).unwrap_err();
        assert_eq!(asked.missing[0].pointer, "/equipment/0/burns_fuel");
        let electric = Equipment { burns_fuel: Some(false), ..of(EquipmentKind::Furnace) };
        assert_eq!(burns_as(&electric), Ok(false));
        // What is described outweighs what is said: the stricter of two that cannot both be true.
        let both = Equipment { fuel_burning: Some(FuelBurning::default()), ..electric };
        assert_eq!(burns_as(&both), Ok(true));
    }
}
