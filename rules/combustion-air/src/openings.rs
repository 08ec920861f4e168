//! What an opening offers: free area, smallest dimension, position, whether it stays open, and where its air comes from.

use crate::parameters::Limits;
use redtag_handbook::combustion_air as air;
use redtag_rule::prelude::*;
use uom::si::f64::{Area, Length};

/// Free area, with the working.
pub struct FreeArea {
    /// What air can pass.
    pub free: Area,
    /// How the one was got from the other.
    pub working: Text,
}

/// Whether the kind of opening lets air through at all while doors and windows are closed.
pub fn lets_air_through(opening: &Opening) -> bool {
    use OpeningKind as K;
    match opening.kind {
        K::TransferGrille | K::FloorGrille | K::Louver | K::DuctTerminal | K::BuildingVent | K::Hole => true,
        // Only a louver in the leaf counts, and only its stated free area: the leaf's own size says nothing.
        K::Door => opening.free_area.is_some() && opening.door.as_ref().and_then(|door| door.solid) != Some(true),
        // Too small to walk through, it is a hole like any other.
        K::DoorlessOpening => !without_door(opening),
        K::VehicleDoor | K::Hatch | K::Window | K::Unrecognised => false,
    }
}

/// Whether two rooms are open to each other here as by a doorway: an opening without a door, unless its stated size says that
/// nobody walks through it.
pub fn without_door(opening: &Opening) -> bool {
    let at_least_inches = |size: &Option<quantity::Length>, inches: f64| {
        size.as_ref().is_none_or(|size| at_least(size.quantity(), Length::new::<uom::si::length::inch>(inches)))
    };
    let doorway = at_least_inches(&opening.width, DOORWAY_WIDTH)
        && at_least_inches(&opening.height, DOORWAY_HEIGHT)
        && at_least_inches(&opening.smallest_dimension, DOORWAY_WIDTH)
        && at_least_inches(&opening.diameter, DOORWAY_WIDTH)
        && opening.gross_area.as_ref().is_none_or(|area| {
            at_least(area.quantity(), Area::new::<uom::si::area::square_inch>(DOORWAY_WIDTH * DOORWAY_HEIGHT))
        });
    opening.kind == OpeningKind::DoorlessOpening && doorway
}

/// Least width of a doorway without a door, in inches. Common practice: the code says only "openings not furnished with doors".
const DOORWAY_WIDTH: f64 = 24.0;
/// Least height of one, in inches. Common practice likewise.
const DOORWAY_HEIGHT: f64 = 60.0;

/// Whether the opening may count as combustion air: one that replaces what a fan exhausts, or serves people, does not.
pub fn serves_combustion(opening: &Opening) -> bool {
    !matches!(opening.purpose, Some(OpeningPurpose::MakeUpAir | OpeningPurpose::Passage))
}

/// Whether it stays open: fixed, or motorized, proven open before ignition and stopping the burners when it closes.
pub fn stays_open(opening: &Place<Opening>) -> Lookup<bool> {
    match opening.permanence {
        Some(Permanence::Fixed) => Ok(true),
        // A free hole has nothing that could shut it; of a louver or grille somebody must say so.
        None if cover(opening) == Ok(air::Cover::Nothing) => Ok(true),
        None => Err(opening.missing("/permanence")),
        Some(Permanence::Closable | Permanence::Unrecognised) => Ok(false),
        Some(Permanence::Motorized) => {
            let proven = need!(opening, interlock.proven_open_before_ignition);
            let stops = need!(opening, interlock.burners_stop_when_closed);
            let (proven, stops) = (proven, stops).together()?;
            Ok(*proven && *stops)
        }
    }
}

/// Area of the face: as stated, else width times height, else by diameter.
pub fn gross_area(opening: &Place<Opening>) -> Lookup<Area> {
    if let Some(stated) = &opening.gross_area {
        return Ok(stated.quantity());
    }
    match (&opening.width, &opening.height, &opening.diameter) {
        (Some(width), Some(height), _) => Ok(width.quantity() * height.quantity()),
        (_, _, Some(diameter)) => Ok(air::round_area(diameter.quantity())),
        _ => Err(Unresolved::because(
            format!("{}/gross_area", opening.pointer()),
            "the area of the opening's face, or its width and height, or its diameter",
        )),
    }
}

/// Free area: the known one, else the face times the part its louver or grille leaves free, times what a screen leaves.
pub fn free_area(opening: &Place<Opening>, limits: &Limits) -> Lookup<FreeArea> {
    let screen = opening.screen.as_ref().and_then(|screen| screen.free_fraction.as_ref()).map(|part| part.quantity());
    let through_screen = |area: Area| screen.map_or(area, |part| area * part);
    let face = gross_area(opening).ok();
    if let Some(stated) = &opening.free_area
        && face.is_none_or(|face| at_most(stated.quantity(), face))
    {
        let free = through_screen(stated.quantity());
        let working = text!("free area stated by the maker {}", in_unit(stated, "in²"));
        return Ok(FreeArea { free, working });
    }
    let (gross, cover) = (gross_area(opening), cover(opening)).together()?;
    let free = through_screen(air::free_area(gross, None, cover, &limits.louvers));
    let part = limits.louvers.of(cover);
    let of_what = match cover {
        air::Cover::Nothing => "open",
        air::Cover::Wood => "wood louver, free area not stated",
        air::Cover::Metal => "metal louver, free area not stated",
    };
    let working = text!("{} face × {} ({}) = {}", in_unit(gross, "in²"), part, of_what, in_unit(free, "in²"));
    let working = match &opening.free_area {
        Some(stated) => text!("the stated {} is more than its face: {}", in_unit(stated, "in²"), working),
        None => working,
    };
    Ok(FreeArea { free, working })
}

/// What covers the opening. Plastic has no default in the code: its maker must state the free area.
pub fn cover(opening: &Place<Opening>) -> Lookup<air::Cover> {
    match opening.material {
        Some(DeviceMaterial::None) => Ok(air::Cover::Nothing),
        Some(DeviceMaterial::Wood) => Ok(air::Cover::Wood),
        Some(DeviceMaterial::Metal) => Ok(air::Cover::Metal),
        None if matches!(opening.kind, OpeningKind::Hole | OpeningKind::DoorlessOpening) => Ok(air::Cover::Nothing),
        None => Err(opening.missing("/material")),
        Some(DeviceMaterial::Plastic | DeviceMaterial::Unrecognised) => Err(Unresolved::because(
            format!("{}/free_area", opening.pointer()),
            "the free area its maker states: the code has no default for this material",
        )),
    }
}

/// The smaller of width and height, or the diameter.
pub fn smallest_dimension(opening: &Place<Opening>) -> Lookup<Length> {
    if let Some(stated) = &opening.smallest_dimension {
        return Ok(stated.quantity());
    }
    match (&opening.width, &opening.height, &opening.diameter) {
        (Some(width), Some(height), _) => {
            let (width, height) = (width.quantity(), height.quantity());
            Ok(if width < height { width } else { height })
        }
        (_, _, Some(diameter)) => Ok(diameter.quantity()),
        _ => Err(Unresolved::because(
            format!("{}/smallest_dimension", opening.pointer()),
            "the smallest dimension of the opening, or its width and height, or its diameter",
        )),
    }
}

/// The opening as the methods see it. The end it does not serve may be unsaid: an opening at the top need not state how high
/// above the floor it ends, so the missing one is taken as out of reach; when both are missing, both are asked for.
pub fn assessed(opening: &Place<Opening>, limits: &Limits) -> Lookup<air::Opening> {
    let ends = match (&opening.top_below_ceiling, &opening.bottom_above_floor) {
        (None, None) => Err(opening.missing("/top_below_ceiling").and(opening.missing("/bottom_above_floor"))),
        (top, bottom) => Ok((top.as_ref().map(|t| t.quantity()), bottom.as_ref().map(|b| b.quantity()))),
    };
    let (free, least, ends) = (free_area(opening, limits), smallest_dimension(opening), ends).together()?;
    let out_of_reach = Length::new::<uom::si::length::meter>(1e6);
    Ok(air::Opening {
        free_area: free.free,
        least_dimension: least,
        below_ceiling: ends.0.unwrap_or(out_of_reach),
        above_floor: ends.1.unwrap_or(out_of_reach),
    })
}

/// The same for an opening between stories, whose position does not matter.
pub fn free_anywhere(opening: &Place<Opening>, limits: &Limits) -> Lookup<Area> {
    free_area(opening, limits).map(|free| free.free)
}
