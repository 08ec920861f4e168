//! Where units stand on the plan.

use crate::place;
use crate::units::Unit;
use redtag_rule::prelude::*;
use redtag_rule_space::{Stand, stand};

/// A unit that stands with others in one room, or outdoors.
pub struct Placed<'a> {
    /// The unit.
    pub unit: Unit<'a>,
    /// The room; none outdoors.
    pub room: Option<String>,
    /// Its body, where its placement is said.
    pub stand: Lookup<Stand<'a>>,
}

/// The units whose room is said.
pub fn placed<'a>(inquiry: &Inquiry<'a>) -> Vec<Placed<'a>> {
    let units = crate::units::every(inquiry).into_iter().filter(|unit| unit.exempt().is_none());
    units
        .filter_map(|unit| {
            let standing = place::of(inquiry, &unit).ok()?;
            let stand = unit.equipment(inquiry).and_then(|equipment| stand(&equipment));
            Some(Placed { unit, room: standing.space.map(|space| space.id.clone()), stand })
        })
        .collect()
}
