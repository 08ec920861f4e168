//! Openings as shapes in plan.

use crate::{point, room};
use redtag_handbook::space::Shape;
use redtag_rule::prelude::*;

/// An opening in plan, as seen from outdoors: the line between its jambs where the wall is drawn, else a circle as wide as it.
///
/// # Errors
/// Its place or its width, where they are missing.
pub fn opening_outline(inquiry: &Inquiry, opening: &Place<Opening>) -> Lookup<Shape> {
    let (at, width) = (need!(opening, at), need!(opening, width)).together()?;
    let middle = point(&at);
    let space = need!(opening, space).and_then(|space| inquiry.space(&space));
    let doorway = space.and_then(|space| room(&space)).ok().and_then(|room| room.doorway(middle, width.si(), 0.6));
    Ok(match doorway {
        Some(doorway) => {
            let (left, right) = doorway.jambs();
            // The opening is as wide outside, where things stand, as it is at the wall's inner face.
            Shape::line(left, right).moved(middle - doorway.middle)
        }
        None => Shape::circle(middle, width.si() / 2.0),
    })
}
