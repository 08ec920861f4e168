//! Bodies: upright boxes and cylinders with a front, and the faces zones are attached to.

use super::{Point, Shape, Solid, turned};

/// A side of a body.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The control side.
    Front,
    /// Opposite the control side.
    Back,
    /// Left of somebody who faces the front.
    Left,
    /// Right of somebody who faces the front.
    Right,
}

/// An upright box, or a cylinder as wide as its width.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Body {
    /// Its middle in plan.
    pub middle: Point,
    /// The direction its front faces, a unit vector.
    pub front: Point,
    /// Width, seen from the front.
    pub width: f64,
    /// Depth, from front to back.
    pub depth: f64,
    /// Height of its underside above the floor.
    pub base: f64,
    /// Its own height.
    pub height: f64,
    /// Whether it is a cylinder.
    pub round: bool,
}

/// An upright face of a body, or of anything else that zones are attached to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Face {
    /// The middle of its line in plan.
    pub middle: Point,
    /// The direction away from the body.
    pub out: Point,
    /// The direction from the left to the right of somebody who looks at it.
    pub along: Point,
    /// Its width.
    pub width: f64,
    /// Height of its lower edge.
    pub base: f64,
    /// Height of its upper edge.
    pub top: f64,
}

impl Body {
    /// Height of its top above the floor.
    pub fn top(&self) -> f64 {
        self.base + self.height
    }

    /// Its plan.
    pub fn plan(&self) -> Shape {
        if self.round {
            return Shape::circle(self.middle, self.width / 2.0);
        }
        Shape::rectangle(self.middle, turned(self.front), self.width / 2.0, self.depth / 2.0)
    }

    /// The body itself.
    pub fn solid(&self) -> Solid {
        Solid::new(self.plan(), self.base, self.top())
    }

    /// One of its faces. That of a cylinder is the flat face of the box around it.
    pub fn face(&self, side: Side) -> Face {
        let depth = if self.round { self.width } else { self.depth };
        let (out, away, width) = match side {
            Side::Front => (self.front, depth, self.width),
            Side::Back => (self.front * -1.0, depth, self.width),
            Side::Left => (turned(self.front) * -1.0, self.width, depth),
            Side::Right => (turned(self.front), self.width, depth),
        };
        let middle = self.middle + out * (away / 2.0);
        Face { middle, out, along: turned(out), width, base: self.base, top: self.top() }
    }

    /// The space above it, over its own footprint.
    pub fn above(&self, height: f64) -> Solid {
        Solid::new(self.plan(), self.top(), self.top() + height)
    }

    /// The space below it, down to the floor or by `height`, over its own footprint.
    pub fn below(&self, height: Option<f64>) -> Solid {
        Solid::new(self.plan(), height.map_or(0.0, |height| self.base - height), self.base)
    }
}

impl Face {
    /// A zone before the face: `depth` out from it, `width` wide, its middle shifted along the face (positive to the right),
    /// between two heights.
    pub fn zone(&self, depth: f64, width: f64, shift: f64, heights: (f64, f64)) -> Solid {
        let middle = self.middle + self.out * (depth / 2.0) + self.along * shift;
        Solid::new(Shape::rectangle(middle, self.along, width / 2.0, depth / 2.0), heights.0, heights.1)
    }

    /// Its left and right end, seen by somebody who looks at it.
    pub fn ends(&self) -> (Point, Point) {
        let half = self.along * (self.width / 2.0);
        (self.middle - half, self.middle + half)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::space::point;

    #[test]
    fn left_is_the_left_of_somebody_who_faces_the_front() {
        // It faces south: who looks at it looks north and has west on the left.
        let body = Body {
            middle: point(0.0, 0.0),
            front: point(0.0, -1.0),
            width: 2.0,
            depth: 1.0,
            base: 0.5,
            height: 1.0,
            round: false,
        };
        assert_eq!(body.face(Side::Left).out, point(-1.0, 0.0));
        assert_eq!(body.face(Side::Front).ends(), (point(-1.0, -0.5), point(1.0, -0.5)));
        let zone = body.face(Side::Front).zone(3.0, 2.0, 1.0, (0.0, 2.0));
        assert_eq!(zone.corners(), ([0.0, -3.5, 0.0], [2.0, -0.5, 2.0]));
        assert_eq!(body.face(Side::Left).width, 1.0);
        assert_eq!((body.above(1.0).bottom, body.below(None).bottom, body.below(Some(0.25)).bottom), (1.5, 0.0, 0.25));
    }
}
