//! Where bodies stand on the floor.

use redtag_plan::{Body, footprint};
use redtag_rule::prelude::*;

/// A piece of equipment seen from above; `None` where its place or size is not said. Where only the way it faces is not said, it
/// is as large as any turn would make it.
pub fn of(equipment: &Equipment) -> Option<Body> {
    let placement = equipment.placement.as_ref()?;
    match footprint(placement) {
        Ok(body) => Some(body),
        Err(lacking) if lacking == ["facing"] => {
            let faced = Placement { facing: Some(Compass::North), ..placement.clone() };
            let body = footprint(&faced).ok()?;
            let across = (body.width * body.width + body.depth * body.depth).sqrt();
            Some(Body { width: across, depth: across, round: true, front: None, ..body })
        }
        Err(_) => None,
    }
}

/// The same, or what is missing of its place and size.
///
/// # Errors
/// Everything its placement lacks.
pub fn told(equipment: &Place<Equipment>) -> Lookup<Body> {
    let placement = need!(equipment, placement)?;
    let lacking = |names: Vec<&'static str>| {
        let each = names.into_iter().map(|name| placement.missing(&format!("/{name}")));
        each.fold(None, Unresolved::joined).unwrap_or_else(|| equipment.missing("/placement"))
    };
    of(equipment).map_or_else(|| Err(footprint(&placement).err().map_or_else(|| equipment.missing("/placement"), lacking)), Ok)
}

/// Height of its underside above the floor; on the floor where nothing is said.
pub fn base(equipment: &Equipment) -> f64 {
    equipment.placement.as_ref().and_then(|placement| placement.base.as_ref()).map_or(0.0, |base| base.si())
}
