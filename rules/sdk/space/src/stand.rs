//! Bodies of equipment.

use redtag_handbook::space::{self, Body, Face, Solid};
use redtag_rule::prelude::*;

/// A piece of equipment and its body.
#[derive(Debug, Clone)]
pub struct Stand<'a> {
    /// The equipment.
    pub equipment: Place<'a, Equipment>,
    /// Its body.
    pub body: Body,
    /// Whether the project says which way its front faces. A round body may leave that out.
    pub faced: bool,
}

impl Stand<'_> {
    /// The body as a solid.
    pub fn solid(&self) -> Solid {
        self.body.solid()
    }

    /// One of its upright faces.
    ///
    /// # Errors
    /// Which way it faces, where a round body leaves that out.
    pub fn face(&self, side: space::Side) -> Lookup<Face> {
        if self.faced { Ok(self.body.face(side)) } else { Err(self.equipment.missing("/placement/facing")) }
    }
}

/// The body of a piece of equipment.
///
/// # Errors
/// Everything its placement lacks: where its middle is, how large it is, how high it stands unless it stands on the floor, and
/// which way it faces unless it is round.
pub fn stand<'a>(equipment: &Place<'a, Equipment>) -> Lookup<Stand<'a>> {
    let on_floor = matches!(equipment.mounting, Some(Mounting::Floor));
    let nothing = Placement::default();
    let drawn = redtag_plan::body(equipment.get().placement.as_ref().unwrap_or(&nothing), on_floor);
    let drawn = drawn.map_err(|lacking| {
        let missing = lacking.into_iter().map(|field| equipment.missing(&format!("/placement/{field}")));
        missing.reduce(Unresolved::and).unwrap_or_else(|| equipment.missing("/placement"))
    })?;
    let body = Body {
        middle: space::point(drawn.middle[0], drawn.middle[1]),
        front: space::bearing(drawn.front.unwrap_or_default()),
        width: drawn.width,
        depth: drawn.depth,
        base: drawn.base,
        height: drawn.height,
        round: drawn.round,
    };
    Ok(Stand { equipment: equipment.clone(), body, faced: drawn.front.is_some() })
}

/// Everything that stands in a space: the bodies, and what is missing of those whose place is not known.
pub fn standing<'a>(inquiry: &Inquiry<'a>, space: &Place<'a, Space>) -> (Vec<Stand<'a>>, Option<Unresolved>) {
    let all = need!(inquiry.project(), equipment).every();
    let mut lacking = None;
    let mut bodies = Vec::new();
    // What is placed and does not say in which space may be in this one.
    let unplaced = |one: &&Place<Equipment>| one.space.is_none() && one.placement.is_some() && one.outdoors != Some(true);
    for equipment in all.iter().filter(unplaced) {
        lacking = Unresolved::joined(lacking, equipment.missing("/space"));
    }
    for equipment in all.iter().filter(|one| one.space.as_ref() == Some(&space.id) && one.outdoors != Some(true)) {
        match stand(equipment) {
            Ok(stand) => bodies.push(stand),
            Err(unresolved) if !bodiless(equipment) => lacking = Unresolved::joined(lacking, unresolved),
            Err(_) => {}
        }
    }
    (bodies, lacking)
}

/// What lies in the floor or the wall or hangs in a pipe, and is in nobody's way unless a placement is said.
pub fn bodiless(equipment: &Equipment) -> bool {
    use EquipmentKind as K;
    equipment.placement.is_none() && matches!(equipment.kind, K::FloorDrain | K::Sump | K::Circulator | K::GasRegulator | K::Pump)
}

/// The distance in plan between two pieces of equipment.
///
/// # Errors
/// What the placement of either lacks.
pub fn between(one: &Place<Equipment>, other: &Place<Equipment>) -> Lookup<uom::si::f64::Length> {
    let gap = stand(one)?.body.plan().gap(&stand(other)?.body.plan());
    Ok(crate::length(gap.distance))
}
