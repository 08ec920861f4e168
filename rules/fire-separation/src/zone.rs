//! What lies on each side of a wall: garage, dwelling, attic, the open air.

use crate::parts::Part;
use redtag_rule::prelude::*;

/// What a space is to a separation.
#[derive(Clone, Debug, PartialEq)]
pub enum Zone {
    /// A garage attached to the dwelling, or a closet on its side of the separation.
    Garage,
    /// A garage that stands apart.
    DetachedGarage,
    /// A part of the dwelling, and whether it is habitable.
    Dwelling(Lookup<bool>),
    /// An attic.
    Attic,
    /// The open air, the ground, a building that stands apart.
    Open,
}

/// The zone of a space.
///
/// # Errors
/// Where the project does not say on which side of the separation a closet of the garage lies.
pub fn of_space(inquiry: &Inquiry, space: &Place<Space>) -> Lookup<Zone> {
    Ok(match space.kind {
        SpaceKind::AttachedGarage => Zone::Garage,
        SpaceKind::DetachedGarage => Zone::DetachedGarage,
        // An attic over the garage that a wall to the roof cuts off from the rest belongs to the garage.
        SpaceKind::Attic if space.garage_side == Some(true) => Zone::Garage,
        SpaceKind::Attic => Zone::Attic,
        SpaceKind::Carport | SpaceKind::Boathouse => Zone::Open,
        _ => match space.garage_side {
            Some(true) => Zone::Garage,
            None => {
                only_from_garage(inquiry, space)?;
                Zone::Dwelling(habitable(space))
            }
            Some(false) => Zone::Dwelling(habitable(space)),
        },
    })
}

/// The zone on the other side of a wall, floor or ceiling.
///
/// # Errors
/// Where the project does not say what lies there.
pub fn beyond(inquiry: &Inquiry, part: &Part) -> Lookup<Zone> {
    let beyond = need!(part.assembly, beyond)?;
    if beyond.space.is_some() {
        return of_space(inquiry, &inquiry.space(&need!(beyond, space)?)?);
    }
    let room =
        || Unresolved::because(format!("{}/space", beyond.pointer()), "the space on the other side, and whether it is habitable");
    Ok(match beyond.kind {
        BeyondKind::Space => return Err(beyond.missing("/space")),
        BeyondKind::Garage => Zone::Garage,
        BeyondKind::Attic => Zone::Attic,
        BeyondKind::Outdoors | BeyondKind::Ground => Zone::Open,
        BeyondKind::CrawlSpace | BeyondKind::Shaft => Zone::Dwelling(Ok(false)),
        BeyondKind::DwellingUnit | BeyondKind::Conditioned => Zone::Dwelling(Err(room())),
        _ => return Err(Unresolved::at(beyond.pointer())),
    })
}

/// Whether a space is used to live, sleep, eat or cook in: as said, else by its kind.
pub fn habitable(space: &Place<Space>) -> Lookup<bool> {
    use SpaceKind as K;
    if let Some(said) = space.habitable {
        return Ok(said);
    }
    match space.kind {
        K::LivingSpace | K::Kitchen | K::SleepingRoom | K::Office => Ok(true),
        K::Basement | K::Workshop | K::Other | K::SurgicalRoom | K::Unrecognised => Err(space.missing("/habitable")),
        // Baths, toilets, closets, halls, storage and utility rooms are not habitable by definition.
        _ => Ok(false),
    }
}

/// A room for equipment or storage that is entered from an attached garage and from nowhere else may lie on the garage's side of the
/// separation.
///
/// # Errors
/// `garage_side`, where that is so, with what is not said of its ways in.
fn only_from_garage(inquiry: &Inquiry, space: &Place<Space>) -> Lookup<()> {
    use SpaceKind as K;
    let closet = matches!(
        space.kind,
        K::EquipmentCloset
            | K::MechanicalRoom
            | K::FurnaceRoom
            | K::BoilerRoom
            | K::ElectricalRoom
            | K::BatteryRoom
            | K::UtilityRoom
            | K::StorageRoom
            | K::StorageCloset
    );
    if !closet || !has_garage(inquiry) {
        return Ok(());
    }
    // A way whose other side nobody says may lead to the garage.
    let ways = ways_in(inquiry, &space.id);
    let elsewhere = |way: &Lookup<Beyond>| way.as_ref().is_ok_and(|way| garage_at(inquiry, way) == Some(false));
    if ways.is_empty() || ways.iter().any(elsewhere) {
        return Ok(());
    }
    let pointer = format!("{}/garage_side", space.pointer());
    let wanted = "whether the room lies on the garage's side of the separation: its doors lead to the garage alone";
    let unsaid = ways.into_iter().filter_map(Result::err);
    Err(unsaid.fold(Unresolved::because(pointer, wanted), Unresolved::and))
}

/// Whether a garage is spoken of at all.
fn has_garage(inquiry: &Inquiry) -> bool {
    let behind = |opening: &Place<Opening>| opening.beyond.as_ref().is_some_and(|beyond| beyond.kind == BeyondKind::Garage);
    crate::parts::spaces(inquiry).iter().any(|space| space.kind == SpaceKind::AttachedGarage)
        || need!(inquiry.project(), openings).every().iter().any(behind)
}

/// What is on the other side of each way into a space, or what is missing to know.
fn ways_in(inquiry: &Inquiry, id: &str) -> Vec<Lookup<Beyond>> {
    let passage = |opening: &Opening| {
        matches!(opening.kind, OpeningKind::Door | OpeningKind::DoorlessOpening | OpeningKind::Hatch | OpeningKind::VehicleDoor)
    };
    let other_side = |opening: Place<Opening>| {
        let here = opening.space.as_deref() == Some(id);
        let there = opening.beyond.as_ref().and_then(|beyond| beyond.space.as_deref()) == Some(id);
        match (here, there) {
            (true, _) => Some(need!(opening, beyond).map(|beyond| beyond.get().clone())),
            (_, true) => {
                let space = need!(opening, space).map(|space| Some(space.get().clone()));
                Some(space.map(|space| Beyond { kind: BeyondKind::Space, space }))
            }
            _ => None,
        }
    };
    need!(inquiry.project(), openings).every().into_iter().filter(|opening| passage(opening)).filter_map(other_side).collect()
}

fn garage_at(inquiry: &Inquiry, beyond: &Beyond) -> Option<bool> {
    let spaces = crate::parts::spaces(inquiry);
    let named = beyond.space.as_deref().and_then(|id| spaces.iter().find(|space| space.id == id));
    match named {
        Some(space) => Some(space.kind == SpaceKind::AttachedGarage),
        None => Some(beyond.kind == BeyondKind::Garage),
    }
}
