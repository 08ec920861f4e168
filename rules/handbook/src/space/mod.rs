//! The geometry of a room: bodies, the zones and sweeps attached to them, what overlaps what and by how much, how wide one
//! can walk, and whether a piece can be carried out.
//!
//! Plan coordinates run east (x) and north (y), heights up from the floor of the room; **everything is in metres** as `f64`,
//! and directions are unit vectors. The functions answer to far better than a quarter inch: polygons and circles are taken as
//! they are, arcs are drawn with chords only where a shape is given out for drawing or for areas. Two things that touch do not
//! overlap ([`TOUCHING`]).
//!
//! What to use for what:
//!
//! | question | start at |
//! | --- | --- |
//! | what stands where | [`Body`]: an upright box or cylinder; [`Body::solid`], [`Body::face`], [`Body::above`], [`Body::below`] |
//! | a zone in front of or beside it | [`Face::zone`]: depth, width, a shift along the face, heights |
//! | a zone that may slide left and right | [`Face::find_space`], [`Face::deepest_space`] |
//! | a drawer or filter pulled out | [`Face::zone`] with the part's width and heights |
//! | a hinged cover or a door leaf | [`Swing`]: [`Swing::free_angle`] is exact; [`Swing::leaf`], [`Swing::sector`] |
//! | do two things overlap, how deep | [`Solid::overlap`]; [`deepest`] names the offending one of many |
//! | how far apart are they | [`Solid::gap`] in space, [`Shape::gap`] in plan, both with the nearest points |
//! | the room | [`Room`]: outline with holes; [`Room::contains_shape`], [`Room::walls`], [`Room::doorway`] |
//! | free floor | [`free_area`] |
//! | the widest body that can walk from here to there | [`Passages`] |
//! | can a piece be carried out | [`removal::carry`] |
//!

mod body;
mod free;
mod passage;
pub mod removal;
mod room;
mod shape;
mod sliding;
mod solid;
mod swing;

pub use body::{Body, Face, Side};
pub use free::free_area;
pub use passage::{Pair, Passages, Widest};
pub use room::{Doorway, Room, Wall};
pub use shape::{Gap, Shape};
pub use sliding::{Blocked, Found};
pub use solid::{Overlap, Solid, SolidGap, deepest};
pub use swing::{FreeAngle, Swing};

/// A point or a vector in plan, in metres.
pub type Point = geo::Coord<f64>;

/// How deep two things may lie in each other and still only touch, in metres: what conversions between units leave over.
pub const TOUCHING: f64 = 1e-9;

/// A point from its coordinates.
pub const fn point(x: f64, y: f64) -> Point {
    Point { x, y }
}

/// The vector turned a quarter turn counterclockwise.
pub fn turned(vector: Point) -> Point {
    point(-vector.y, vector.x)
}

/// The scalar product.
pub fn dot(a: Point, b: Point) -> f64 {
    a.x * b.x + a.y * b.y
}

/// The cross product: positive where `b` lies counterclockwise of `a`.
pub fn cross(a: Point, b: Point) -> f64 {
    a.x * b.y - a.y * b.x
}

/// The length of a vector.
pub fn norm(vector: Point) -> f64 {
    dot(vector, vector).sqrt()
}

/// The unit vector of that direction; `None` where the vector has no length.
pub fn unit(vector: Point) -> Option<Point> {
    let length = norm(vector);
    (length > 0.0 && length.is_finite()).then(|| vector / length)
}

/// The direction of a bearing, in radians clockwise from plan north. Quarter turns are exact.
pub fn bearing(radians: f64) -> Point {
    let [x, y] = redtag_plan::direction(radians);
    point(x, y)
}
