//! Garages, and the rooms that count as one.

use redtag_rule::prelude::*;
use redtag_rule::ways::{self, Behind};

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
    let (mut garage, mut other, mut untold) = (false, false, None);
    for door in ways::openings_of(inquiry, space)?.iter().filter(|way| is_door(&way.opening)) {
        match door.leads(to_garage) {
            Ok(true) => garage = true,
            Ok(false) => other |= door.behind.as_ref().is_ok_and(indoors),
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

fn to_garage(behind: &Behind) -> bool {
    match behind {
        Behind::Space(space) => is_garage(space.kind),
        Behind::Elsewhere(kind) => *kind == BeyondKind::Garage,
    }
}

/// Whether it is a part of the house.
fn indoors(behind: &Behind) -> bool {
    match behind {
        Behind::Space(_) => true,
        Behind::Elsewhere(kind) => matches!(kind, BeyondKind::Conditioned | BeyondKind::DwellingUnit),
    }
}
