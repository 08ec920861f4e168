//! Floor area and volume of a space, from what its project says of it.

use crate::{Lookup, Place, Unresolved};
use redtag_plan::{area, corners};
use redtag_schema::project::Space;
use uom::si::f64::{Area, Volume};

/// Floor area: as stated, else that of the outline less its holes.
///
/// # Errors
/// When neither is given.
pub fn floor_area(space: &Place<Space>) -> Lookup<Area> {
    if let Some(stated) = &space.floor_area {
        return Ok(stated.quantity());
    }
    let outline = space.outline.as_ref().ok_or_else(|| {
        Unresolved::because(format!("{}/floor_area", space.pointer()), "the floor area of the space, or its outline in plan")
    })?;
    let holes: f64 = space.holes.iter().flatten().map(|hole| area(&corners(hole))).sum();
    Ok(Area::new::<uom::si::area::square_meter>((area(&corners(outline)) - holes).max(0.0)))
}

/// Volume: as stated, else floor area times ceiling height. Gross: what stands in the room is not taken off.
///
/// # Errors
/// When neither is given.
pub fn volume(space: &Place<Space>) -> Lookup<Volume> {
    if let Some(stated) = &space.volume {
        return Ok(stated.quantity());
    }
    let (Ok(area), Some(height)) = (floor_area(space), &space.ceiling_height) else {
        let wanted = "the volume of the space, or its floor area (or outline) and ceiling height";
        return Err(Unresolved::because(format!("{}/volume", space.pointer()), wanted));
    };
    Ok(area * height.quantity())
}
