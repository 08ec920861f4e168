//! Distances in plan and in height between a terminal and what has a width and a height in a wall.

use uom::si::f64::Length;

/// A point in plan, in metres.
pub type Plan = [f64; 2];

/// The shortest distance in plan from a point to a straight piece, and the nearest place on it.
pub fn to_piece(point: Plan, from: Plan, to: Plan) -> (Length, Plan) {
    let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
    let long = dx * dx + dy * dy;
    let along = if long > 0.0 { ((point[0] - from[0]) * dx + (point[1] - from[1]) * dy) / long } else { 0.0 };
    let along = along.clamp(0.0, 1.0);
    let place = [from[0] + along * dx, from[1] + along * dy];
    let apart = libm::hypot(point[0] - place[0], point[1] - place[1]);
    (Length::new::<uom::si::length::meter>(apart), place)
}

/// How far a height lies above an upper edge, or (below zero) beneath a lower one; zero between the two.
pub fn to_band(height: Length, lower: Length, upper: Length) -> Length {
    let zero = Length::default();
    if height > upper {
        height - upper
    } else if height < lower {
        height - lower
    } else {
        zero
    }
}

/// The direction of the outline's edge nearest to a point, as a unit vector; nothing where the outline has no edge.
pub fn wall_direction(point: Plan, outline: &[Plan]) -> Option<Plan> {
    let next = outline.iter().cycle().skip(1);
    let edges = outline.iter().zip(next).filter(|(a, b)| a != b);
    let nearest = edges.map(|(a, b)| (to_piece(point, *a, *b).0, *a, *b)).min_by(|a, b| a.0.value.total_cmp(&b.0.value))?;
    let (dx, dy) = (nearest.2[0] - nearest.1[0], nearest.2[1] - nearest.1[1]);
    let long = libm::hypot(dx, dy);
    (long > 0.0).then(|| [dx / long, dy / long])
}
