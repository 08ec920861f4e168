//! Free floor.

use super::{Room, Shape};
use geo::{Area, BooleanOps, MultiPolygon, unary_union};

/// The floor of a room that none of the shapes covers, in square metres.
pub fn free_area(room: &Room, shapes: &[Shape]) -> f64 {
    let outlines: Vec<_> = shapes.iter().filter(|shape| shape.area() > 0.0).map(Shape::outline).collect();
    if outlines.is_empty() {
        return room.area();
    }
    let covered: MultiPolygon<f64> = unary_union(&outlines);
    MultiPolygon::new(vec![room.polygon().clone()]).difference(&covered).unsigned_area()
}
