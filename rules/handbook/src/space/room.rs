//! Rooms: an outline with holes, its walls, the doors in them.

use super::shape::nearest;
use super::{Point, Shape, Solid, cross, dot, norm, turned, unit};
use geo::{Area, Intersects, LineString, Polygon};

/// A room in plan: an outline with holes, along the finished faces of the walls.
#[derive(Debug, Clone, PartialEq)]
pub struct Room {
    polygon: Polygon<f64>,
    walls: Vec<Wall>,
}

/// A straight wall, as its face towards the room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wall {
    /// One end; the room lies on the left of somebody who walks to the other.
    pub from: Point,
    /// The other end.
    pub to: Point,
    /// The direction out of the room, into the wall.
    pub out: Point,
}

/// A door or another gap that people pass, in the face of a wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Doorway {
    /// The wall it is in: its place in [`Room::walls`].
    pub wall: usize,
    /// The middle of the opening, on the wall's face.
    pub middle: Point,
    /// The direction out of the room.
    pub out: Point,
    /// Width of the opening.
    pub width: f64,
    /// What its frame and leaf take from the width at the left, seen from the room.
    pub left_loss: f64,
    /// What they take at the right.
    pub right_loss: f64,
}

impl Room {
    /// A room from the corners of its outline and of its holes. `None` where the outline encloses nothing.
    pub fn new(outline: &[Point], holes: &[Vec<Point>]) -> Option<Self> {
        let exterior = ring(outline)?;
        let interiors: Vec<_> = holes.iter().filter_map(|hole| ring(hole)).collect();
        let walls = walls(&exterior, false).chain(interiors.iter().flat_map(|hole| walls(hole, true))).collect();
        let lines = interiors.into_iter().map(LineString::from).collect();
        Some(Self { polygon: Polygon::new(LineString::from(exterior), lines), walls })
    }

    /// Its polygon.
    pub fn polygon(&self) -> &Polygon<f64> {
        &self.polygon
    }

    /// Its floor area, in square metres.
    pub fn area(&self) -> f64 {
        self.polygon.unsigned_area()
    }

    /// Its walls, those around holes last.
    pub fn walls(&self) -> &[Wall] {
        &self.walls
    }

    /// Whether a point lies in the room or, to a micrometre, on a wall's face.
    pub fn contains(&self, at: Point) -> bool {
        self.polygon.intersects(&geo::Point(at))
            || self.walls.iter().any(|wall| norm(nearest(at, wall.from, wall.to) - at) < 1e-6)
    }

    /// Whether the whole shape lies in the room; it may touch the walls.
    pub fn contains_shape(&self, shape: &Shape) -> bool {
        self.contains(shape.middle()) && self.walls.iter().all(|wall| wall.face().overlap(shape).is_none() && !wall.splits(shape))
    }

    /// The wall nearest to a point, and the point of its face: for an opening whose middle lies somewhere in the wall. `None`
    /// where no wall comes within `reach`.
    pub fn wall_near(&self, at: Point, reach: f64) -> Option<(usize, Point)> {
        let found = self.walls.iter().enumerate().map(|(index, wall)| (index, nearest(at, wall.from, wall.to)));
        let (index, point) = found.min_by(|a, b| norm(a.1 - at).total_cmp(&norm(b.1 - at)))?;
        (norm(point - at) <= reach).then_some((index, point))
    }

    /// A doorway `width` wide about a point in or near a wall.
    pub fn doorway(&self, at: Point, width: f64, reach: f64) -> Option<Doorway> {
        let (wall, middle) = self.wall_near(at, reach)?;
        Some(Doorway { wall, middle, out: self.walls[wall].out, width, left_loss: 0.0, right_loss: 0.0 })
    }

    /// The faces of its walls as lines, with the place of each in [`Room::walls`]; a doorway leaves a gap as wide as its
    /// clear width.
    pub fn faces(&self, open: Option<&Doorway>) -> Vec<(usize, Shape)> {
        let mut faces = Vec::new();
        for (index, wall) in self.walls.iter().enumerate() {
            let Some(door) = open.filter(|door| door.wall == index) else {
                faces.push((index, wall.face()));
                continue;
            };
            let (left, right) = door.jambs();
            // Seen from the room the left jamb is nearer to the end the wall is walked to.
            for (from, to) in [(wall.from, right), (left, wall.to)] {
                if dot(to - from, wall.to - wall.from) > 0.0 {
                    faces.push((index, Shape::line(from, to)));
                } else {
                    faces.push((index, Shape::circle(if from == wall.from { to } else { from }, 0.0)));
                }
            }
        }
        faces
    }
}

impl Wall {
    /// Its face, a line.
    pub fn face(&self) -> Shape {
        Shape::line(self.from, self.to)
    }

    /// Its length.
    pub fn length(&self) -> f64 {
        norm(self.to - self.from)
    }

    /// The wall as a solid of some thickness.
    pub fn solid(&self, thickness: f64, height: f64) -> Solid {
        let back = self.out * thickness;
        Solid::new(Shape::convex(&[self.from, self.from + back, self.to + back, self.to]), 0.0, height)
    }

    /// Whether its face cuts a shape in two.
    fn splits(&self, shape: &Shape) -> bool {
        let (least, most) = shape.extent(self.out);
        let at = dot(self.from, self.out);
        let inside = |at: f64, (least, most): (f64, f64)| at - least > super::TOUCHING && most - at > super::TOUCHING;
        let Some(along) = unit(self.to - self.from) else { return false };
        let (start, end) = shape.extent(along);
        let overlap = end.min(dot(self.to, along)) - start.max(dot(self.from, along));
        inside(at, (least, most)) && overlap > super::TOUCHING && shape.gap(&self.face()).distance <= 0.0
    }
}

impl Doorway {
    /// The clear width.
    pub fn clear(&self) -> f64 {
        (self.width - self.left_loss - self.right_loss).max(0.0)
    }

    /// The direction to the right of somebody in the room who looks at it.
    pub fn right(&self) -> Point {
        turned(self.out) * -1.0
    }

    /// The left and the right end of the clear width, on the wall's face.
    pub fn jambs(&self) -> (Point, Point) {
        let half = self.width / 2.0;
        (self.middle - self.right() * (half - self.left_loss), self.middle + self.right() * (half - self.right_loss))
    }

    /// The middle of the clear width.
    pub fn clear_middle(&self) -> Point {
        let (left, right) = self.jambs();
        (left + right) / 2.0
    }

    /// The leaf, open a quarter turn into the room, hinged at one side: as long as the opening is wide.
    pub fn leaf(&self, hinged_left: bool, thickness: f64) -> Shape {
        let hand = if hinged_left { self.right() * -1.0 } else { self.right() };
        let hinge = self.middle + hand * (self.width / 2.0);
        let (length, thick) = (self.out * -self.width, hand * -thickness);
        Shape::convex(&[hinge, hinge + length, hinge + length + thick, hinge + thick])
    }
}

/// Corners without repeats, counterclockwise; `None` where they enclose nothing.
fn ring(corners: &[Point]) -> Option<Vec<Point>> {
    let mut ring = corners.to_vec();
    ring.dedup();
    while ring.len() > 1 && ring.first() == ring.last() {
        ring.pop();
    }
    let finite = ring.iter().all(|corner| corner.x.is_finite() && corner.y.is_finite());
    let twice: f64 = (0..ring.len()).map(|index| cross(ring[index], ring[(index + 1) % ring.len()])).sum();
    if !finite || ring.len() < 3 || twice.abs() < 1e-12 {
        return None;
    }
    if twice < 0.0 {
        ring.reverse();
    }
    Some(ring)
}

/// The walls of a counterclockwise ring, walked backwards around a hole.
fn walls(ring: &[Point], hole: bool) -> impl Iterator<Item = Wall> + '_ {
    (0..ring.len()).filter_map(move |index| {
        let (a, b) = (ring[index], ring[(index + 1) % ring.len()]);
        let (from, to) = if hole { (b, a) } else { (a, b) };
        Some(Wall { from, to, out: turned(unit(to - from)?) * -1.0 })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::space::point;

    fn room() -> Room {
        let corner = |x: f64, y: f64| point(x, y);
        // Clockwise, with a repeated corner: a room all the same.
        Room::new(&[corner(0.0, 0.0), corner(0.0, 3.0), corner(0.0, 3.0), corner(4.0, 3.0), corner(4.0, 0.0)], &[]).unwrap()
    }

    #[test]
    fn a_room_knows_its_walls_and_what_is_in_it() {
        let room = room();
        assert_eq!((room.area(), room.walls().len()), (12.0, 4));
        assert!(room.walls().iter().all(|wall| !room.contains((wall.from + wall.to) / 2.0 + wall.out * 0.1)));
        let square = |x: f64| Shape::rectangle(point(x, 1.0), point(1.0, 0.0), 0.5, 0.5);
        assert!(room.contains_shape(&square(0.5)) && !room.contains_shape(&square(0.4)) && !room.contains_shape(&square(9.0)));
        assert_eq!(Room::new(&[point(0.0, 0.0), point(1.0, 1.0), point(2.0, 2.0)], &[]), None);
    }

    #[test]
    fn a_doorway_has_jambs_and_a_leaf() {
        let room = room();
        // In the south wall: who looks out of it looks south and has west on the right.
        let mut door = room.doorway(point(1.0, -0.05), 0.9, 0.3).unwrap();
        door.left_loss = 0.04;
        let (left, right) = door.jambs();
        assert!(norm(left - point(1.41, 0.0)) < 1e-12 && norm(right - point(0.55, 0.0)) < 1e-12, "{left:?} {right:?}");
        assert!((door.clear() - 0.86).abs() < 1e-12);
        let (least, most) = door.leaf(true, 0.04).bounds();
        assert!(norm(least - point(1.41, 0.0)) < 1e-12 && norm(most - point(1.45, 0.9)) < 1e-12, "{least:?} {most:?}");
        assert_eq!(room.doorway(point(2.0, 1.5), 0.9, 0.3), None);
        assert_eq!(room.faces(Some(&door)).len(), 5);
    }
}
