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
    let number = |field: &str, value: Option<f64>| value.ok_or_else(|| equipment.missing(&format!("/placement/{field}")));
    let placement = equipment.get().placement.as_ref();
    let round = placement.is_some_and(|placement| placement.footprint == Some(Footprint::Circle));
    let of = |pick: fn(&Placement) -> Option<f64>| placement.and_then(pick);
    let on_floor = matches!(equipment.mounting, Some(Mounting::Floor)).then_some(0.0);
    let width = of(|placement| placement.width.as_ref().map(|width| width.si()));
    let depth = if round { width } else { of(|placement| placement.depth.as_ref().map(|depth| depth.si())) };
    let front = placement.and_then(front);
    let facing = front.or(round.then(|| space::bearing(0.0))).ok_or_else(|| equipment.missing("/placement/facing"));
    let place = (
        number("x", of(|placement| placement.x.as_ref().map(|x| x.si()))),
        number("y", of(|placement| placement.y.as_ref().map(|y| y.si()))),
        facing,
    );
    let size = (
        number("width", width),
        if round { Ok(0.0) } else { number("depth", depth) },
        number("base", of(|placement| placement.base.as_ref().map(|base| base.si())).or(on_floor)),
        number("height", of(|placement| placement.height.as_ref().map(|height| height.si()))),
    );
    let ((x, y, front_or_north), (width, depth, base, height)) = (place.together(), size.together()).together()?;
    let depth = if round { width } else { depth };
    let body = Body { middle: space::point(x, y), front: front_or_north, width, depth, base, height, round };
    Ok(Stand { equipment: equipment.clone(), body, faced: front.is_some() })
}

/// The direction a placement faces.
fn front(placement: &Placement) -> Option<space::Point> {
    let eighths = placement.facing.and_then(|facing| match facing {
        Compass::North => Some(0.0),
        Compass::Northeast => Some(1.0),
        Compass::East => Some(2.0),
        Compass::Southeast => Some(3.0),
        Compass::South => Some(4.0),
        Compass::Southwest => Some(5.0),
        Compass::West => Some(6.0),
        Compass::Northwest => Some(7.0),
        _ => None,
    });
    let bearing = || placement.bearing.as_ref().map(|bearing| bearing.si());
    eighths.map(|eighths| eighths * std::f64::consts::FRAC_PI_4).or_else(bearing).map(space::bearing)
}

/// Everything that stands in a space: the bodies, and what is missing of those whose place is not known.
pub fn standing<'a>(inquiry: &Inquiry<'a>, space: &Place<'a, Space>) -> (Vec<Stand<'a>>, Option<Unresolved>) {
    let all = need!(inquiry.project(), equipment).every();
    let mut lacking = None;
    let mut bodies = Vec::new();
    // What is placed and does not say in which space may be in this one.
    let unplaced = |one: &&Place<Equipment>| one.space.is_none() && one.placement.is_some() && one.outdoors != Some(true);
    for equipment in all.iter().filter(unplaced).filter(|one| !bodiless(one.kind)) {
        lacking = Unresolved::joined(lacking, equipment.missing("/space"));
    }
    for equipment in all.iter().filter(|one| one.space.as_ref() == Some(&space.id) && one.outdoors != Some(true)) {
        match stand(equipment) {
            Ok(stand) => bodies.push(stand),
            Err(unresolved) if !bodiless(equipment.kind) => lacking = Unresolved::joined(lacking, unresolved),
            Err(_) => {}
        }
    }
    (bodies, lacking)
}

/// Kinds that lie in the floor or the wall or hang in a pipe, and are in nobody's way unless a placement says so.
fn bodiless(kind: EquipmentKind) -> bool {
    use EquipmentKind as K;
    matches!(kind, K::FloorDrain | K::Sump | K::Circulator | K::GasRegulator | K::Pump)
}

/// The distance in plan between two pieces of equipment.
///
/// # Errors
/// What the placement of either lacks.
pub fn between(one: &Place<Equipment>, other: &Place<Equipment>) -> Lookup<uom::si::f64::Length> {
    let gap = stand(one)?.body.plan().gap(&stand(other)?.body.plan());
    Ok(crate::length(gap.distance))
}
