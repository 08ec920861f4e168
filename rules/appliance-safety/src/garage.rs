//! Garages, and the rooms that count as one.

use redtag_rule::prelude::*;

/// How a space has to do with a garage.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Near {
    /// It is a garage.
    Garage,
    /// It opens only into one and belongs to no living space.
    Annex,
    /// It opens into one and into the house as well.
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
    let doors: Vec<bool> =
        openings.items().filter(|opening| is_door(opening)).filter_map(|door| beyond(&door, &space.id, &spaces)).collect();
    Ok(match (doors.iter().any(|&garage| garage), doors.iter().all(|&garage| garage)) {
        (false, _) => Near::Away,
        (true, true) if space.habitable != Some(true) => Near::Annex,
        _ => Near::Between,
    })
}

fn names_garage(inquiry: &Inquiry) -> bool {
    let openings = need!(inquiry.project(), openings).every();
    openings.iter().any(|opening| opening.beyond.as_ref().is_some_and(|beyond| beyond.kind == BeyondKind::Garage))
}

fn is_door(opening: &Opening) -> bool {
    matches!(opening.kind, OpeningKind::Door | OpeningKind::DoorlessOpening)
}

/// Whether what lies behind a door of this space is a garage; nothing where the door is another space's or leads outdoors.
fn beyond(door: &Opening, space: &str, spaces: &[Place<Space>]) -> Option<bool> {
    let garage = |id: &str| spaces.iter().find(|other| other.id == id).is_some_and(|other| is_garage(other.kind));
    let beyond = door.beyond.as_ref()?;
    if door.space.as_deref() == Some(space) {
        return match beyond.kind {
            BeyondKind::Garage => Some(true),
            BeyondKind::Space => Some(garage(beyond.space.as_deref()?)),
            BeyondKind::Conditioned | BeyondKind::DwellingUnit => Some(false),
            _ => None,
        };
    }
    (beyond.space.as_deref() == Some(space)).then(|| door.space.as_deref().is_some_and(garage))
}
