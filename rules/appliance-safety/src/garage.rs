//! Garages, and the rooms that count as one.

use redtag_rule::prelude::*;

/// How a space has to do with a garage.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Near {
    /// It is a garage.
    Garage,
    /// It opens only into one and belongs to no living space.
    Annex,
    /// It opens into one and elsewhere as well, or belongs to the living space.
    Between,
    /// It has nothing to do with one.
    Away,
}

/// Whether a kind of space is a private garage.
pub fn is_garage(kind: SpaceKind) -> bool {
    matches!(kind, SpaceKind::AttachedGarage | SpaceKind::DetachedGarage | SpaceKind::Carport)
}

/// How a space has to do with a garage, by its doors.
pub fn place(inquiry: &Inquiry, space: &Place<Space>) -> Lookup<Near> {
    if is_garage(space.kind) {
        return Ok(Near::Garage);
    }
    let spaces = need!(inquiry.project(), spaces).every();
    let anywhere = spaces.iter().any(|other| is_garage(other.kind));
    if !anywhere && !names_garage(inquiry) {
        return Ok(Near::Away);
    }
    let openings = need!(inquiry.project(), openings)?;
    let (mut garage, mut other, mut untold) = (false, false, None);
    for door in openings.items().filter(|opening| is_door(opening)) {
        match beyond(&door, &space.id, &spaces) {
            Ok(Some(true)) => garage = true,
            Ok(Some(false)) => other = true,
            Ok(None) => {}
            Err(unresolved) => untold = Unresolved::joined(untold, unresolved),
        }
    }
    match (garage, untold) {
        // A door that leads nobody knows where may lead into the garage.
        (false, Some(untold)) => Err(untold),
        (false, None) => Ok(Near::Away),
        (true, _) if space.habitable == Some(true) => Ok(Near::Between),
        (true, _) => Ok(if other { Near::Between } else { Near::Annex }),
    }
}

/// Whether a space is no part of the living space: nobody lives, sleeps, eats, cooks, bathes or washes there.
pub fn is_not_living_space(space: &Space) -> bool {
    use SpaceKind as K;
    let kind = matches!(
        space.kind,
        K::MechanicalRoom
            | K::FurnaceRoom
            | K::BoilerRoom
            | K::UtilityRoom
            | K::EquipmentCloset
            | K::ElectricalRoom
            | K::BatteryRoom
            | K::StorageRoom
            | K::StorageCloset
            | K::Workshop
    );
    kind && space.habitable != Some(true)
}

fn names_garage(inquiry: &Inquiry) -> bool {
    let openings = need!(inquiry.project(), openings).every();
    openings.iter().any(|opening| opening.beyond.as_ref().is_some_and(|beyond| beyond.kind == BeyondKind::Garage))
}

fn is_door(opening: &Opening) -> bool {
    matches!(opening.kind, OpeningKind::Door | OpeningKind::DoorlessOpening)
}

/// Whether what lies behind a door of this space is a garage; nothing where the door is another space's or leads outdoors.
fn beyond(door: &Place<Opening>, space: &str, spaces: &[Place<Space>]) -> Lookup<Option<bool>> {
    let garage = |id: &str| spaces.iter().find(|other| other.id == id).is_some_and(|other| is_garage(other.kind));
    let far = need!(door, beyond);
    let far_space = door.beyond.as_ref().and_then(|beyond| beyond.space.as_deref());
    match door.space.as_deref() {
        Some(near) if near == space => {
            let far = far?;
            match far.kind {
                BeyondKind::Garage => Ok(Some(true)),
                BeyondKind::Space => Ok(Some(garage(need!(far, space)?.get()))),
                BeyondKind::Conditioned | BeyondKind::DwellingUnit => Ok(Some(false)),
                _ => Ok(None),
            }
        }
        Some(near) => match far {
            _ if far_space == Some(space) => Ok(Some(garage(near))),
            // The garage's own door, and nobody said where it leads.
            Err(unresolved) if garage(near) => Err(unresolved),
            Ok(far) if garage(near) && far.kind == BeyondKind::Space && far_space.is_none() => Err(far.missing("/space")),
            _ => Ok(None),
        },
        None if far_space == Some(space) || door.beyond.as_ref().is_some_and(|beyond| beyond.kind == BeyondKind::Garage) => {
            Err(door.missing("/space"))
        }
        None => Ok(None),
    }
}
