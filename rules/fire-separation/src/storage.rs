//! Rooms of a dwelling that stored energy stands in.

use crate::parts::spaces;
use redtag_rule::prelude::*;
use std::collections::BTreeMap;
use uom::si::f64::Energy;

/// A room with stored energy, and how much; an error where that is not said.
pub struct StorageRoom<'a> {
    /// The room.
    pub space: Place<'a, Space>,
    /// Energy of the units in it.
    pub energy: Lookup<Energy>,
}

/// The rooms with batteries.
pub fn rooms<'a>(inquiry: &Inquiry<'a>) -> Vec<StorageRoom<'a>> {
    let mut held: BTreeMap<String, Vec<Lookup<Energy>>> = BTreeMap::new();
    for equipment in need!(inquiry.project(), equipment).every() {
        if let (EquipmentKind::Battery, Some(space)) = (equipment.kind, &equipment.space) {
            held.entry(space.clone()).or_default().push(energy(inquiry, &equipment.id));
        }
    }
    let of = |space: Place<'a, Space>| {
        let units = held.get(&space.id)?.clone();
        let energy = units.together().map(|units| units.into_iter().fold(Energy::default(), |sum, unit| sum + unit));
        Some(StorageRoom { space, energy })
    };
    spaces(inquiry).into_iter().filter_map(of).collect()
}

/// The energy on the plate of the unit that is a piece of equipment.
fn energy(inquiry: &Inquiry, equipment: &str) -> Lookup<Energy> {
    let systems = need!(inquiry.project(), electrical.storage).every();
    let units = systems.iter().flat_map(|system| need!(system, units).every());
    let unit = units.into_iter().find(|unit| unit.equipment.as_deref() == Some(equipment));
    let unit = unit.ok_or_else(|| {
        Unresolved::because("/electrical/storage", format!("the unit of a storage system that is {equipment}, with its energy"))
    })?;
    need!(unit, energy).map(|energy| energy.quantity())
}

/// Whether a space lies in the dwelling, so that its walls and ceiling are asked about.
pub fn in_dwelling(space: &Space) -> bool {
    use SpaceKind as K;
    !matches!(space.kind, K::AttachedGarage | K::DetachedGarage | K::Carport | K::Boathouse)
}
