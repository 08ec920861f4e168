//! The class of place a unit stands in: each has a greatest energy of its own.

use crate::units::Unit;
use redtag_rule::prelude::*;

/// The classes of the model code.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Class {
    /// A utility closet, a basement, a storage or utility space in the dwelling.
    Inside,
    /// An attached garage.
    AttachedGarage,
    /// A detached garage or accessory structure.
    Detached,
    /// On the outside of an exterior wall.
    ExteriorWall,
    /// Outdoors on the ground.
    Ground,
}

impl Class {
    /// In a sentence.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Inside => "utility and storage spaces of the dwelling",
            Self::AttachedGarage => "attached garages",
            Self::Detached => "detached garages and accessory structures",
            Self::ExteriorWall => "exterior walls",
            Self::Ground => "outdoors on the ground",
        }
    }
}

/// Where a unit stands.
pub struct Standing<'a> {
    /// The class.
    pub class: Class,
    /// The space; none outdoors.
    pub space: Option<Place<'a, Space>>,
}

/// Where this unit stands.
///
/// # Errors
/// When its equipment, or the place of that, is not said.
pub fn of<'a>(inquiry: &Inquiry<'a>, unit: &Unit<'a>) -> Lookup<Standing<'a>> {
    of_equipment(inquiry, &unit.equipment(inquiry)?)
}

/// Where a piece of equipment stands.
///
/// # Errors
/// When its place is not said.
pub fn of_equipment<'a>(inquiry: &Inquiry<'a>, equipment: &Place<'a, Equipment>) -> Lookup<Standing<'a>> {
    if equipment.outdoors == Some(true) {
        let on_wall = *need!(equipment, mounting)? == Mounting::Wall;
        let class = if on_wall { Class::ExteriorWall } else { Class::Ground };
        return Ok(Standing { class, space: None });
    }
    let space = inquiry.space(&need!(equipment, space)?)?;
    let class = match space.kind {
        SpaceKind::AttachedGarage => Class::AttachedGarage,
        SpaceKind::DetachedGarage | SpaceKind::Boathouse | SpaceKind::Carport => Class::Detached,
        _ => Class::Inside,
    };
    Ok(Standing { class, space: Some(space) })
}
