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

/// The rooms with batteries: of whatever kind the equipment is that a storage system names as its unit, and every battery.
pub fn rooms<'a>(inquiry: &Inquiry<'a>) -> Vec<StorageRoom<'a>> {
    let mut held: BTreeMap<String, Vec<Lookup<Energy>>> = BTreeMap::new();
    let units: Vec<String> = units(inquiry).iter().filter_map(|unit| unit.equipment.clone()).collect();
    for equipment in need!(inquiry.project(), equipment).every() {
        if (equipment.kind == EquipmentKind::Battery || units.contains(&equipment.id))
            && let Some(space) = &equipment.space
        {
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

/// Batteries, and units of storage systems, that do not say where they stand: each could be in any room.
pub fn roomless(inquiry: &Inquiry, wanted: &str) -> Vec<Finding> {
    let units = units(inquiry);
    let named: Vec<&String> = units.iter().filter_map(|unit| unit.get().equipment.as_ref()).collect();
    let every = need!(inquiry.project(), equipment).every();
    let lost = every.iter().filter(|one| {
        let stores = one.kind == EquipmentKind::Battery || named.contains(&&one.id);
        stores && one.space.is_none() && one.outdoors != Some(true)
    });
    let lost = lost.map(|one| one.ask(wanted, || Err(one.missing("/space"))));
    let nameless = units.iter().filter(|unit| unit.equipment.is_none());
    lost.chain(nameless.map(|unit| unit.ask(wanted, || Err(unit.missing("/equipment"))))).collect()
}

/// The units of every storage system.
fn units<'a>(inquiry: &Inquiry<'a>) -> Vec<Place<'a, StorageUnit>> {
    need!(inquiry.project(), electrical.storage).every().iter().flat_map(|system| need!(system, units).every()).collect()
}

/// The energy on the plate of the unit that is a piece of equipment.
fn energy(inquiry: &Inquiry, equipment: &str) -> Lookup<Energy> {
    let mine: Vec<Place<StorageUnit>> =
        units(inquiry).into_iter().filter(|unit| unit.equipment.as_deref() == Some(equipment)).collect();
    if mine.len() > 1 {
        let each: Vec<Lookup<Energy>> = mine.iter().map(|unit| need!(unit, energy).map(|energy| energy.quantity())).collect();
        return Ok(each.together()?.into_iter().fold(Energy::default(), |sum, one| sum + one));
    }
    let unit = mine.into_iter().next();
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
