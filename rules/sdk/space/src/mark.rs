//! Shapes as marks on the plan.

use redtag_handbook::space::{Point, Solid};
use redtag_rule::prelude::*;
use redtag_rule::schema::contract::Mark;

/// A solid as a mark: a box where it stands square to the plan, else its outline.
pub fn solid_mark(space: &Place<Space>, label: impl Into<String>, solid: &Solid) -> Mark {
    let (from, to) = solid.corners();
    let square = |at: &Point| {
        let on = |value: f64, ends: [f64; 2]| ends.iter().any(|end| (value - end).abs() < 1e-6);
        on(at.x, [from[0], to[0]]) && on(at.y, [from[1], to[1]])
    };
    let corners = solid.plan.corners();
    if solid.plan.radius() > 0.0 || corners.iter().all(square) {
        return box_mark(Some(&space.id), label, from, to);
    }
    outline_mark(space, label, corners, solid.bottom)
}

/// A closed outline at a height.
pub fn outline_mark(space: &Place<Space>, label: impl Into<String>, corners: &[Point], height: f64) -> Mark {
    let closed: Vec<[f64; 3]> = corners.iter().chain(corners.first()).map(|at| [at.x, at.y, height]).collect();
    line_mark(Some(&space.id), label, &closed)
}

/// A straight line between two places, as for a width.
pub fn line_between(space: &Place<Space>, label: impl Into<String>, from: Point, to: Point, height: f64) -> Mark {
    line_mark(Some(&space.id), label, &[[from.x, from.y, height], [to.x, to.y, height]])
}
