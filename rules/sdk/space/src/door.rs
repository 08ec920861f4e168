//! The ways into a space.

use crate::point;
use redtag_handbook::space::{Doorway, Room, Shape};
use redtag_rule::prelude::*;

/// How far the middle of an opening may lie from the face of the wall it is in, in metres: half a thick wall.
const WALL_REACH: f64 = 0.6;

/// A way into a space that a person can take.
#[derive(Debug, Clone)]
pub struct Door<'a> {
    /// The opening.
    pub opening: Place<'a, Opening>,
    /// Its gap in the wall, as wide as its clear width.
    pub doorway: Doorway,
    /// Its leaf, open a quarter turn into the room; `None` where no leaf stands in the room.
    pub leaf: Option<Shape>,
    /// The space on its other side, where the project describes it.
    pub beyond: Option<Place<'a, Space>>,
    /// Whether it leads outdoors.
    pub outdoors: bool,
}

impl Door<'_> {
    /// Clear height, where it is said.
    pub fn clear_height(&self) -> Lookup<f64> {
        let door = self.opening.get().door.as_ref().and_then(|door| door.clear_height.as_ref());
        let height = door.or(self.opening.get().height.as_ref());
        height.map(|height| height.si()).ok_or_else(|| self.opening.missing("/door/clear_height"))
    }
}

/// The doors, hatches and doorless openings of a space that people can pass, whichever of the two spaces names them.
///
/// # Errors
/// For each that cannot be placed, what it lacks: where its middle is, its width, its clear width where it has a leaf, and the
/// hinges and the thickness of a leaf that swings into the room.
pub fn doors<'a>(inquiry: &Inquiry<'a>, space: &Place<'a, Space>, room: &Room) -> Vec<Lookup<Door<'a>>> {
    let openings = need!(inquiry.project(), openings).every();
    let ways = openings.into_iter().filter(passable);
    ways.filter_map(|opening| {
        let own = opening.space.as_ref() == Some(&space.id);
        let other = opening.beyond.as_ref().and_then(|beyond| beyond.space.as_ref()) == Some(&space.id);
        match side_unsaid(&opening) {
            Some(side) if !own && !other => in_a_wall(room, &opening).then(|| Err(opening.missing(side))),
            _ => (own || other).then(|| door(inquiry, space, room, opening, own)),
        }
    })
    .collect()
}

/// The side of an opening of which the project does not say what space it is.
fn side_unsaid(opening: &Opening) -> Option<&'static str> {
    let beyond = opening.beyond.as_ref();
    let far = beyond.is_none_or(|beyond| beyond.kind == BeyondKind::Space && beyond.space.is_none());
    if opening.space.is_none() { Some("/space") } else { far.then_some("/beyond/space") }
}

/// Whether an opening stands in or near a wall of the room, and so may be one of its own.
fn in_a_wall(room: &Room, opening: &Place<Opening>) -> bool {
    let width = opening.width.as_ref().map_or(0.0, |width| width.si());
    need!(opening, at).is_ok_and(|at| room.doorway(point(&at), width, WALL_REACH).is_some())
}

fn passable(opening: &Place<Opening>) -> bool {
    use OpeningKind as K;
    matches!(opening.kind, K::Door | K::DoorlessOpening | K::VehicleDoor | K::Hatch)
}

fn door<'a>(
    inquiry: &Inquiry<'a>,
    space: &Place<'a, Space>,
    room: &Room,
    opening: Place<'a, Opening>,
    own: bool,
) -> Lookup<Door<'a>> {
    let (at, width, clear) = (need!(opening, at), need!(opening, width), clear_width(&opening)).together()?;
    let (width, clear) = (width.si().max(clear), clear);
    let far = "a place in or near a wall of the space";
    let doorway = room.doorway(point(&at), width, WALL_REACH).ok_or_else(|| Unresolved::because(at.pointer(), far))?;
    let leaf = leaf(space, &opening, own)?;
    let doorway = narrowed(doorway, width - clear, leaf.or_else(|| hinged_left(&opening, own).map(|left| (left, 0.0))));
    let beyond_kind = opening.get().beyond.as_ref().map(|beyond| beyond.kind);
    Ok(Door {
        leaf: leaf.map(|(left, thickness)| doorway.leaf(left, thickness)),
        doorway,
        beyond: beyond(inquiry, &opening, own),
        outdoors: own && beyond_kind == Some(BeyondKind::Outdoors),
        opening,
    })
}

/// Clear width: as said of the leaf, else that of an opening without one.
fn clear_width(opening: &Place<Opening>) -> Lookup<f64> {
    let said = opening.get().door.as_ref().and_then(|door| door.clear_width.as_ref());
    if let Some(clear) = said {
        return Ok(clear.si());
    }
    if opening.kind == OpeningKind::Door {
        return Err(opening.missing("/door/clear_width"));
    }
    need!(opening, width).map(|width| width.si())
}

/// Whether the hinges are at the left, seen from the space asked about.
fn hinged_left(opening: &Place<Opening>, own: bool) -> Option<bool> {
    let hinges = opening.get().door.as_ref()?.hinges?;
    Some((hinges == Hand::Left) == own)
}

/// The leaf that swings into the space: whether it hangs at the left, and how thick it is.
fn leaf(space: &Place<Space>, opening: &Place<Opening>, own: bool) -> Lookup<Option<(bool, f64)>> {
    if opening.get().door.is_none() {
        return Ok(None);
    }
    // A door that does not say how it opens may swing into the space.
    let action = need!(opening, door.action)?;
    if *action != DoorAction::Swinging {
        return Ok(None);
    }
    match need!(opening, door.swings_into) {
        Ok(into) if *into.get() == space.id => {}
        Ok(_) => return Ok(None),
        Err(unsaid) => return if swings_out(opening) { Ok(None) } else { Err(unsaid) },
    }
    let (_, thickness) = (need!(opening, door.hinges), need!(opening, door.thickness)).together()?;
    Ok(Some((hinged_left(opening, own).unwrap_or(true), thickness.si())))
}

/// A door to the outdoors can only name a space it swings into: one that names none swings out.
fn swings_out(opening: &Opening) -> bool {
    let to_a_space =
        |beyond: &Beyond| beyond.space.is_some() || matches!(beyond.kind, BeyondKind::Space | BeyondKind::Unrecognised);
    opening.beyond.as_ref().is_some_and(|beyond| !to_a_space(beyond))
}

/// What frame and leaf take from the width: the leaf on the side of its hinges, what is left over on the other; half and half
/// where nothing is said.
fn narrowed(mut doorway: Doorway, lost: f64, leaf: Option<(bool, f64)>) -> Doorway {
    let (hinge, other) = match leaf {
        Some((_, thickness)) if thickness > 0.0 => (lost.min(thickness), (lost - thickness).max(0.0)),
        _ => (lost / 2.0, lost / 2.0),
    };
    let left = leaf.is_none_or(|(left, _)| left);
    (doorway.left_loss, doorway.right_loss) = if left { (hinge, other) } else { (other, hinge) };
    doorway
}

fn beyond<'a>(inquiry: &Inquiry<'a>, opening: &Place<'a, Opening>, own: bool) -> Option<Place<'a, Space>> {
    let id = if own { need!(opening, beyond.space) } else { need!(opening, space) };
    id.and_then(|id| inquiry.space(&id)).ok()
}
