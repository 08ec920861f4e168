//! Hinged covers and door leaves.

use super::{Face, Point, Shape, Solid, TOUCHING, dot, norm, point, turned};
use std::f64::consts::PI;

/// A leaf that swings about an upright hinge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Swing {
    /// The hinge in plan.
    pub hinge: Point,
    /// The direction from the hinge to the free edge while it is closed, a unit vector.
    pub closed: Point,
    /// Whether it opens counterclockwise, seen from above.
    pub counterclockwise: bool,
    /// Its width, from hinge to free edge.
    pub width: f64,
    /// Height of its lower edge.
    pub bottom: f64,
    /// Height of its upper edge.
    pub top: f64,
}

/// How far a leaf opens.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FreeAngle {
    /// The angle, in radians; half a turn where nothing is in the way.
    pub angle: f64,
    /// What stops it: a place in the list of obstacles.
    pub by: Option<usize>,
    /// Where it touches.
    pub at: Option<Point>,
}

impl Face {
    /// A cover as wide as the face, hinged at its left or right end seen by somebody who looks at it, opening outwards.
    pub fn cover(&self, hinged_left: bool) -> Swing {
        let (left, right) = self.ends();
        let (hinge, closed) = if hinged_left { (left, self.along) } else { (right, self.along * -1.0) };
        let (width, bottom, top) = (self.width, self.base, self.top);
        Swing { hinge, closed, counterclockwise: !hinged_left, width, bottom, top }
    }
}

impl Swing {
    /// The direction of the leaf at an angle from closed.
    fn direction(&self, angle: f64) -> Point {
        let (sin, cos) = if (angle - PI / 2.0).abs() < 1e-12 { (1.0, 0.0) } else { (libm::sin(angle), libm::cos(angle)) };
        self.closed * cos + self.aside() * sin
    }

    /// The direction it opens to: a quarter turn from closed.
    fn aside(&self) -> Point {
        if self.counterclockwise { turned(self.closed) } else { turned(self.closed) * -1.0 }
    }

    /// The leaf at an angle, as a line.
    pub fn leaf(&self, angle: f64) -> Shape {
        Shape::line(self.hinge, self.hinge + self.direction(angle) * self.width)
    }

    /// What it sweeps up to an angle of at most half a turn, its arc as chords: for a mark.
    pub fn sector(&self, angle: f64) -> Solid {
        let steps = 24;
        let arc = (0..=steps).map(|step| self.hinge + self.direction(angle * f64::from(step) / f64::from(steps)) * self.width);
        let corners: Vec<Point> = std::iter::once(self.hinge).chain(arc).collect();
        Solid::new(Shape::convex(&corners), self.bottom, self.top)
    }

    /// How far it opens before it meets something, up to half a turn. Exact for boxes and cylinders; what only touches its
    /// path does not stop it.
    pub fn free_angle(&self, obstacles: &[Solid]) -> FreeAngle {
        let own = Solid::new(Shape::circle(self.hinge, 0.0), self.bottom, self.top);
        let mut free = FreeAngle { angle: PI, by: None, at: None };
        for (index, obstacle) in obstacles.iter().enumerate().filter(|(_, obstacle)| obstacle.shares_height(&own)) {
            if let Some(angle) = self.stopped_by(&obstacle.plan).filter(|&angle| angle < free.angle - 1e-12) {
                let reach = obstacle.plan.gap(&self.leaf(angle));
                free = FreeAngle { angle, by: Some(index), at: Some(reach.from) };
            }
        }
        free
    }

    /// The angle at which a shape stops it.
    fn stopped_by(&self, shape: &Shape) -> Option<f64> {
        let aside = self.aside();
        let local = |at: Point| point(dot(at - self.hinge, self.closed), dot(at - self.hinge, aside));
        if let [middle] = shape.corners() {
            return round(local(*middle), shape.radius(), self.width);
        }
        let outline;
        let corners = if shape.radius() > 0.0 {
            outline = shape.outline();
            &outline.exterior().0[..]
        } else {
            shape.corners()
        };
        straight(&corners.iter().map(|&corner| local(corner)).collect::<Vec<_>>(), self.width)
    }
}

/// The least angle in the upper half plane at which a leaf of a width meets a circle.
fn round(middle: Point, radius: f64, width: f64) -> Option<f64> {
    let distance = norm(middle);
    if distance - radius >= width - TOUCHING || middle.y + radius <= TOUCHING {
        return None;
    }
    if distance <= radius {
        return Some(0.0);
    }
    let direction = libm::atan2(middle.y, middle.x);
    let tangent = (distance * distance - radius * radius).sqrt();
    let aside = if tangent <= width {
        libm::asin(radius / distance)
    } else {
        libm::acos(((width * width + distance * distance - radius * radius) / (2.0 * width * distance)).clamp(-1.0, 1.0))
    };
    // Below the closed line there is nothing to meet, and behind it (beyond half a turn) the leaf never comes.
    let angle = direction - aside;
    (angle < PI - 1e-12).then_some(angle.max(0.0))
}

/// The least angle in the upper half plane at which a leaf of a width meets a convex polygon.
fn straight(corners: &[Point], width: f64) -> Option<f64> {
    let above: Vec<Point> = clipped_above(corners);
    let within = width - TOUCHING;
    let mut least = f64::INFINITY;
    let mut offer = |at: Point| {
        if norm(at) <= within && norm(at) > TOUCHING {
            // Not `max`: it may keep a zero below zero, whose angle is minus half a turn.
            let height = if at.y > 0.0 { at.y } else { 0.0 };
            least = least.min(libm::atan2(height, at.x));
        }
    };
    for index in 0..above.len() {
        let (from, to) = (above[index], above[(index + 1) % above.len()]);
        offer(from);
        for at in on_circle(from, to, within) {
            offer(at);
        }
    }
    // Nothing of it reaches above the closed line by more than a touch.
    let high = above.iter().fold(0.0_f64, |high, corner| high.max(corner.y));
    (least.is_finite() && high > TOUCHING && least < PI - 1e-12).then_some(least)
}

fn clipped_above(corners: &[Point]) -> Vec<Point> {
    let mut kept = Vec::with_capacity(corners.len() + 1);
    for (index, &from) in corners.iter().enumerate() {
        let to = corners[(index + 1) % corners.len()];
        if from.y >= 0.0 {
            kept.push(from);
        }
        if (from.y > 0.0 && to.y < 0.0) || (from.y < 0.0 && to.y > 0.0) {
            kept.push(from + (to - from) * (from.y / (from.y - to.y)));
        }
    }
    kept
}

/// Where a straight line meets the circle of a radius about the datum.
fn on_circle(from: Point, to: Point, radius: f64) -> impl Iterator<Item = Point> {
    let along = to - from;
    let (a, b, c) = (dot(along, along), dot(from, along), dot(from, from) - radius * radius);
    let root = b * b - a * c;
    let roots = if a > 0.0 && root >= 0.0 { [(-b - root.sqrt()) / a, (-b + root.sqrt()) / a] } else { [-1.0, -1.0] };
    // A hair inside, so that the point counts as within reach.
    roots.into_iter().filter(|share| (0.0..=1.0).contains(share)).map(move |share| (from + along * share) * (1.0 - 1e-12))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::space::{Body, Side};

    const INCH: f64 = 0.0254;

    fn door() -> Swing {
        let middle = point(0.0, 2.0 * INCH);
        let panel =
            Body { middle, front: point(0.0, -1.0), width: 14.0 * INCH, depth: 4.0 * INCH, base: 1.0, height: 1.0, round: false };
        panel.face(Side::Front).cover(true)
    }

    fn block(x: (f64, f64), y: (f64, f64)) -> Solid {
        let corner = |x: f64, y: f64| point(x * INCH, y * INCH);
        Solid::new(Shape::convex(&[corner(x.0, y.0), corner(x.1, y.0), corner(x.1, y.1), corner(x.0, y.1)]), 0.0, 3.0)
    }

    #[test]
    fn a_door_hinged_left_opens_towards_the_left() {
        let door = door();
        let open = door.leaf(PI / 2.0);
        assert!(norm(open.corners()[1] - point(-7.0 * INCH, -14.0 * INCH)) < 1e-12, "{open:?}");
        assert_eq!(door.free_angle(&[]), FreeAngle { angle: PI, by: None, at: None });
    }

    #[test]
    fn what_stands_in_the_way_stops_it_at_its_angle() {
        let door = door();
        // A wall that begins where the leaf points at 90 degrees only touches it there.
        let beside = door.free_angle(&[block((-30.0, -7.0), (-30.0, 0.0))]);
        assert!((beside.angle - PI / 2.0).abs() < 1e-9 && beside.by == Some(0), "{beside:?}");
        let before = door.free_angle(&[block((-30.0, 30.0), (-30.0, -7.0))]);
        assert!((before.angle - libm::asin(0.5)).abs() < 1e-6, "the free edge meets it where sin = 7/14: {before:?}");
        let out_of_reach = door.free_angle(&[block((-30.0, 30.0), (-30.0, -14.0)), block((7.0, 20.0), (-9.0, 9.0))]);
        assert_eq!(out_of_reach.by, None, "{out_of_reach:?}");
    }

    #[test]
    fn what_touches_the_closed_line_beyond_the_hinge_does_not_stop_it() {
        let beside = block((-30.0, -7.0), (-20.0, -0.0));
        let north = Swing { hinge: point(7.0 * INCH, 0.0), closed: point(-1.0, 0.0), ..door() };
        for leaf in [door(), Swing { counterclockwise: true, ..north }] {
            let free = leaf.free_angle(std::slice::from_ref(&beside));
            assert!(free.angle >= 0.0, "{free:?}");
        }
    }

    #[test]
    fn a_tank_stops_it_where_the_leaf_is_its_tangent() {
        let door = door();
        let tank = Solid::new(Shape::circle(point(-7.0 * INCH, -10.0 * INCH), 3.0 * INCH), 0.0, 3.0);
        let stopped = door.free_angle(&[tank]);
        assert!((stopped.angle - (PI / 2.0 - libm::asin(0.3))).abs() < 1e-9, "{stopped:?}");
        let low = Solid::new(Shape::circle(point(-7.0 * INCH, -10.0 * INCH), 3.0 * INCH), 0.0, 1.0);
        assert_eq!(door.free_angle(&[low]).by, None);
    }
}
