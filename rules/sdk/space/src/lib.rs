//! A project's rooms, doors and bodies as the shapes the handbook computes with; what is missing is named.
//!
//! A crate of its own between the SDK, which knows projects, and the handbook, which knows shapes, so that neither has to
//! know the other and every family reads a room the same way.
//!
//! ```text
//! let room = redtag_rule_space::room(&space)?;                       // its outline, or the pointer to fill in
//! let stand = redtag_rule_space::stand(&equipment)?;                 // its body, or everything its placement lacks
//! let in_it = redtag_rule_space::standing(case, &space);             // everything that stands in a space
//! let doors = redtag_rule_space::doors(case, &space, &room);         // the ways in, each with its clear width and leaf
//! sheet.mark(redtag_rule_space::solid_mark(&space, "working space", &zone));
//! ```
//!
//! Coordinates are those of the building, in metres; heights count from the floor of the space.

mod door;
mod mark;
mod opening;
mod runs;
mod stand;

pub use door::{Door, doors};
pub use mark::{line_between, outline_mark, solid_mark};
pub use opening::opening_outline;
pub use runs::{Run, Runs};
pub use stand::{Stand, between, bodiless, stand, standing};

use redtag_handbook::space::{self, Room};
use redtag_rule::prelude::*;
use redtag_rule::schema::project as p;
use uom::si::{f64::Length as Metres, length::meter};

/// A point of a project.
pub fn point(at: &p::Point) -> space::Point {
    space::point(at.x.si(), at.y.si())
}

/// A length of a project, in metres.
pub fn metres(length: &redtag_rule::schema::quantity::Length) -> f64 {
    length.si()
}

/// A number of metres as a length.
pub fn length(metres: f64) -> Metres {
    Metres::new::<meter>(metres)
}

/// A side that is upright; top and bottom are none.
pub fn side(side: p::Side) -> Option<space::Side> {
    match side {
        p::Side::Front => Some(space::Side::Front),
        p::Side::Back => Some(space::Side::Back),
        p::Side::Left => Some(space::Side::Left),
        p::Side::Right => Some(space::Side::Right),
        _ => None,
    }
}

/// The room of a space.
///
/// # Errors
/// The outline, where it is missing or encloses nothing.
pub fn room(space: &Place<Space>) -> Lookup<Room> {
    let outline = need!(space, outline)?;
    let corners: Vec<_> = outline.iter().map(point).collect();
    let holes: Vec<Vec<_>> = space.holes.iter().flatten().map(|hole| hole.iter().map(point).collect()).collect();
    let wanted = "an outline of the space that encloses some floor";
    Room::new(&corners, &holes).ok_or_else(|| Unresolved::because(outline.pointer(), wanted))
}

#[cfg(test)]
mod tests;
