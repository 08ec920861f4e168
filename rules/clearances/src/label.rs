//! The clearances to combustible material that a label asks for, side by side.

use redtag_rule::prelude::*;
use redtag_rule::schema::project as p;
use uom::si::f64::Length;

/// The sides a label speaks of.
pub const SIDES: [Side; 6] = [Side::Front, Side::Back, Side::Left, Side::Right, Side::Top, Side::Bottom];

/// Kinds of spaces that are closets or alcoves whatever their size.
pub fn is_closet(kind: SpaceKind) -> bool {
    use SpaceKind as K;
    matches!(kind, K::EquipmentCloset | K::StorageCloset | K::ClothesCloset | K::UnderStairs)
}

/// Whether labels and listings to stand near what can burn concern it, or may.
pub fn concerns(equipment: &Place<Equipment>) -> bool {
    kinds::may_burn(equipment) || equipment.label_clearances.is_some()
}

/// One side of a set of clearances.
pub fn side(clearances: &p::Clearances, side: Side) -> Option<Length> {
    let of =
        |own: &Option<quantity::Length>, both: &Option<quantity::Length>| own.as_ref().or(both.as_ref()).map(|it| it.quantity());
    let (none, both) = (&None, &clearances.sides);
    match side {
        Side::Front => of(&clearances.front, none),
        Side::Back => of(&clearances.back, none),
        Side::Left => of(&clearances.left, both),
        Side::Right => of(&clearances.right, both),
        Side::Top => of(&clearances.above, none),
        Side::Bottom => of(&clearances.below, none),
        Side::Unrecognised => None,
    }
}

/// What the label asks for on a side, in a closet what it asks for there. `None` below where it says nothing of it.
///
/// # Errors
/// Where it says nothing of another side.
pub fn wanted(appliance: &Place<Equipment>, at: Side, closet: bool) -> Lookup<Option<Length>> {
    let special = appliance.closet_clearances.as_ref().filter(|_| closet).and_then(|label| side(label, at));
    if special.is_some() {
        return Ok(special);
    }
    let said = appliance.label_clearances.as_ref().and_then(|label| side(label, at));
    match (said, at) {
        (None, Side::Bottom) => Ok(None),
        (None, _) => Err(appliance.missing(&format!("/label_clearances/{}", field(at)))),
        (said, _) => Ok(said),
    }
}

/// The field of a side.
pub fn field(side: Side) -> &'static str {
    match side {
        Side::Front => "front",
        Side::Back => "back",
        Side::Left | Side::Right => "sides",
        Side::Top => "above",
        _ => "below",
    }
}

/// Where the side is, in a sentence.
pub fn place(side: Side) -> &'static str {
    match side {
        Side::Front => "before it",
        Side::Back => "behind it",
        Side::Left => "left of it",
        Side::Right => "right of it",
        Side::Top => "above it",
        _ => "below it",
    }
}
