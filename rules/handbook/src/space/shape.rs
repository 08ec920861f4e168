//! Convex shapes in plan.

use super::{Point, TOUCHING, cross, dot, norm, point, turned, unit};
use geo::{ConvexHull, LineString, MultiPoint, Polygon};
use std::f64::consts::PI;

/// A convex shape in plan: the hull of its corners, counterclockwise, grown by a radius. One corner with a radius is a circle,
/// two corners are a line, four a rectangle.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    corners: Vec<Point>,
    radius: f64,
}

/// The nearest points of two shapes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gap {
    /// How far apart they are; 0 where they touch or overlap.
    pub distance: f64,
    /// The point of the first; where they overlap, a point of both.
    pub from: Point,
    /// The point of the second.
    pub to: Point,
}

impl Shape {
    /// A circle; a point where the radius is 0.
    pub fn circle(middle: Point, radius: f64) -> Self {
        Self { corners: vec![middle], radius: radius.max(0.0) }
    }

    /// A straight line.
    pub fn line(from: Point, to: Point) -> Self {
        Self { corners: if from == to { vec![from] } else { vec![from, to] }, radius: 0.0 }
    }

    /// A rectangle about a middle: `half_width` to both sides along the unit vector `along`, `half_depth` across it.
    pub fn rectangle(middle: Point, along: Point, half_width: f64, half_depth: f64) -> Self {
        let (u, v) = (along * half_width, turned(along) * half_depth);
        Self::convex(&[middle - u - v, middle + u - v, middle + u + v, middle - u + v])
    }

    /// The convex hull of some points. Nothing at all becomes a point at the datum.
    pub fn convex(points: &[Point]) -> Self {
        let first = points.first().copied().unwrap_or(point(0.0, 0.0));
        let hull = match points.len() {
            0 | 1 => vec![first],
            4 if is_convex(points) => points.to_vec(),
            _ => {
                let hull = MultiPoint::from(points.to_vec()).convex_hull();
                let mut corners = hull.exterior().0.clone();
                corners.pop();
                corners.dedup();
                if corners.is_empty() { vec![first] } else { corners }
            }
        };
        let flat = hull.len() > 2 && twice_area(&hull).abs() < 1e-18;
        Self { corners: if flat { farthest(&hull) } else { hull }, radius: 0.0 }
    }

    /// The shape grown all around.
    #[must_use]
    pub fn grown(mut self, by: f64) -> Self {
        self.radius = (self.radius + by).max(0.0);
        self
    }

    /// The shape moved.
    #[must_use]
    pub fn moved(mut self, by: Point) -> Self {
        self.corners.iter_mut().for_each(|corner| *corner = *corner + by);
        self
    }

    /// Its corners, counterclockwise, without the rounding.
    pub fn corners(&self) -> &[Point] {
        &self.corners
    }

    /// The radius its corners are rounded by.
    pub fn radius(&self) -> f64 {
        self.radius
    }

    /// Some point inside.
    pub fn middle(&self) -> Point {
        self.corners.iter().fold(point(0.0, 0.0), |sum, &corner| sum + corner) / self.corners.len() as f64
    }

    /// How far it reaches along a unit vector: least and greatest.
    pub fn extent(&self, direction: Point) -> (f64, f64) {
        let (least, most) = reach(&self.corners, direction);
        (least - self.radius, most + self.radius)
    }

    /// Least and greatest coordinates.
    pub fn bounds(&self) -> (Point, Point) {
        let ((x0, x1), (y0, y1)) = (self.extent(point(1.0, 0.0)), self.extent(point(0.0, 1.0)));
        (point(x0, y0), point(x1, y1))
    }

    /// Its area.
    pub fn area(&self) -> f64 {
        let around: f64 = self.edges().map(|(a, b)| norm(b - a)).sum();
        twice_area(&self.corners) / 2.0 + around * self.radius + PI * self.radius * self.radius
    }

    /// Whether a point lies in it or on its edge.
    pub fn contains(&self, at: Point) -> bool {
        self.distance(at) <= TOUCHING
    }

    /// The nearest points of this and another.
    pub fn gap(&self, other: &Self) -> Gap {
        let (distance, from, to) = self.core_gap(other);
        let both = self.radius + other.radius;
        match unit(to - from) {
            Some(along) if distance > both => {
                let (from, to) = (from + along * self.radius, to - along * other.radius);
                Gap { distance: distance - both, from, to }
            }
            Some(along) => {
                let shared = from + along * (distance - other.radius).max(0.0);
                Gap { distance: 0.0, from: shared, to: shared }
            }
            None => Gap { distance: 0.0, from, to: from },
        }
    }

    /// How far a point is from the shape; 0 where it lies in it.
    pub fn distance(&self, at: Point) -> f64 {
        let mut inside = self.corners.len() > 2;
        let mut least = dot(at - self.corners[0], at - self.corners[0]);
        for (from, to) in self.edges() {
            inside &= cross(to - from, at - from) >= 0.0;
            let there = nearest(at, from, to) - at;
            least = least.min(dot(there, there));
        }
        if inside { 0.0 } else { (least.sqrt() - self.radius).max(0.0) }
    }

    /// How far one must be moved for the two to come free of each other; `None` where they only touch or are apart.
    pub fn overlap(&self, other: &Self) -> Option<f64> {
        let both = self.radius + other.radius;
        let inside = core_depth(&self.corners, &other.corners);
        let depth = if inside > TOUCHING { inside + both } else { both - self.core_gap(other).0 };
        (depth > TOUCHING).then_some(depth)
    }

    /// The outline for drawing and for areas: a round part becomes chords that enclose its area.
    pub fn outline(&self) -> Polygon<f64> {
        if self.radius <= 0.0 {
            return Polygon::new(LineString::from(self.corners.clone()), Vec::new());
        }
        const CHORDS: usize = 96;
        let step = 2.0 * PI / CHORDS as f64;
        let radius = self.radius * (step / libm::sin(step)).sqrt();
        let ring = |middle: &Point| {
            let middle = *middle;
            let spoke = move |turn: usize| point(libm::cos(step * turn as f64), libm::sin(step * turn as f64)) * radius;
            (0..CHORDS).map(move |turn| middle + spoke(turn))
        };
        MultiPoint::from(self.corners.iter().flat_map(ring).collect::<Vec<_>>()).convex_hull()
    }

    /// Its edges, counterclockwise; both directions where it is a line, none where it is a point.
    pub(super) fn edges(&self) -> impl Iterator<Item = (Point, Point)> + '_ {
        edges(&self.corners)
    }

    /// The nearest points of the two hulls without their rounding.
    fn core_gap(&self, other: &Self) -> (f64, Point, Point) {
        if core_depth(&self.corners, &other.corners) > TOUCHING {
            let shared = shared_point(&self.corners, &other.corners);
            return (0.0, shared, shared);
        }
        let mut best = (f64::INFINITY, self.corners[0], other.corners[0]);
        let mut offer = |from: Point, to: Point| {
            let square = dot(to - from, to - from);
            if square < best.0 {
                best = (square, from, to);
            }
        };
        for &corner in &self.corners {
            nearest_on(corner, &other.corners, |to| offer(corner, to));
        }
        for &corner in &other.corners {
            nearest_on(corner, &self.corners, |from| offer(from, corner));
        }
        (best.0.sqrt(), best.1, best.2)
    }
}

fn edges(corners: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    let count = if corners.len() > 1 { corners.len() } else { 0 };
    (0..count).map(move |index| (corners[index], corners[(index + 1) % count]))
}

fn is_convex(corners: &[Point]) -> bool {
    let next = |step: usize, index: usize| corners[(index + step) % corners.len()];
    (0..corners.len()).all(|index| {
        let (a, b, c) = (corners[index], next(1, index), next(2, index));
        cross(b - a, c - b) > 1e-15
    })
}

fn twice_area(corners: &[Point]) -> f64 {
    edges(corners).map(|(a, b)| cross(a, b)).sum()
}

/// The two corners farthest from each other, of corners on one line.
fn farthest(corners: &[Point]) -> Vec<Point> {
    let from = corners[0];
    let far = |from: Point| {
        let distance = |&&corner: &&Point| dot(corner - from, corner - from);
        corners.iter().max_by(|a, b| distance(a).total_cmp(&distance(b))).copied().unwrap_or(from)
    };
    let end = far(from);
    let other = far(end);
    if end == other { vec![end] } else { vec![end, other] }
}

fn reach(corners: &[Point], direction: Point) -> (f64, f64) {
    corners.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), &corner| {
        let along = dot(corner, direction);
        (least.min(along), most.max(along))
    })
}

/// How deep two hulls lie in each other, by the separating axis theorem; 0 or less where they do not. Exact for the least
/// translation that parts them.
fn core_depth(a: &[Point], b: &[Point]) -> f64 {
    let mut depth = f64::INFINITY;
    let mut along = |from: Point, to: Point, other: &[Point]| {
        if let Some(out) = unit(to - from).map(|edge| point(edge.y, -edge.x)) {
            depth = depth.min(dot(from, out) - reach(other, out).0);
        }
        depth > 0.0
    };
    let parted = edges(a).any(|(from, to)| !along(from, to, b)) || edges(b).any(|(from, to)| !along(from, to, a));
    if parted || depth.is_infinite() { 0.0 } else { depth }
}

/// A point of both of two hulls that overlap.
fn shared_point(a: &[Point], b: &[Point]) -> Point {
    let inside = |corners: &[Point], at: Point| edges(corners).all(|(from, to)| cross(to - from, at - from) >= 0.0);
    if b.len() > 2
        && let Some(&corner) = a.iter().find(|&&corner| inside(b, corner))
    {
        return corner;
    }
    if a.len() > 2
        && let Some(&corner) = b.iter().find(|&&corner| inside(a, corner))
    {
        return corner;
    }
    let crossing = edges(a).find_map(|(from, to)| edges(b).find_map(|(start, end)| crossing(from, to, start, end)));
    crossing.unwrap_or_else(|| (a[0] + b[0]) / 2.0)
}

/// Where two straight lines cross.
fn crossing(from: Point, to: Point, start: Point, end: Point) -> Option<Point> {
    let (u, v) = (to - from, end - start);
    let turn = cross(u, v);
    if turn == 0.0 {
        return None;
    }
    let (s, t) = (cross(start - from, v) / turn, cross(start - from, u) / turn);
    ((0.0..=1.0).contains(&s) && (0.0..=1.0).contains(&t)).then(|| from + u * s)
}

/// Offers the nearest point of every edge of a hull.
fn nearest_on(at: Point, corners: &[Point], mut offer: impl FnMut(Point)) {
    if let [only] = corners {
        return offer(*only);
    }
    for (from, to) in edges(corners) {
        offer(nearest(at, from, to));
    }
}

/// The point of a straight line nearest to a point.
pub(super) fn nearest(at: Point, from: Point, to: Point) -> Point {
    let along = to - from;
    let square = dot(along, along);
    if square <= 0.0 {
        return from;
    }
    from + along * (dot(at - from, along) / square).clamp(0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(x: f64, y: f64, half: f64) -> Shape {
        Shape::rectangle(point(x, y), point(1.0, 0.0), half, half)
    }

    #[test]
    fn touching_is_not_overlapping() {
        assert_eq!(square(0.0, 0.0, 1.0).overlap(&square(2.0, 0.0, 1.0)), None);
        let depth = square(0.0, 0.0, 1.0).overlap(&square(1.5, 0.25, 1.0)).unwrap();
        assert!((depth - 0.5).abs() < 1e-12, "{depth}");
    }

    #[test]
    fn circles_and_corners_are_exact() {
        let circle = Shape::circle(point(4.0, 5.0), 1.0);
        let gap = square(0.0, 0.0, 1.0).gap(&circle);
        assert!((gap.distance - 4.0).abs() < 1e-12 && gap.from == point(1.0, 1.0), "{gap:?}");
        assert!((circle.overlap(&Shape::circle(point(4.0, 6.5), 1.0)).unwrap() - 0.5).abs() < 1e-12);
        assert!((circle.overlap(&square(4.0, 5.0, 0.5)).unwrap() - 1.5).abs() < 1e-9, "a square in a circle");
    }

    #[test]
    fn a_cross_of_two_bars_shares_a_point() {
        let (a, b) = (Shape::line(point(-1.0, 0.0), point(1.0, 0.0)), Shape::line(point(0.0, -1.0), point(0.0, 1.0)));
        assert_eq!(a.gap(&b), Gap { distance: 0.0, from: point(0.0, 0.0), to: point(0.0, 0.0) });
        let far = Shape::line(point(3.0, 0.0), point(4.0, 0.0));
        assert_eq!(a.gap(&far).distance, 2.0, "lines on one line");
    }

    #[test]
    fn the_outline_of_a_circle_has_its_area() {
        use geo::Area;
        let circle = Shape::circle(point(1.0, 2.0), 0.3);
        assert!((circle.outline().unsigned_area() - circle.area()).abs() < 1e-12);
        let stadium = Shape::line(point(0.0, 0.0), point(2.0, 0.0)).grown(0.5);
        assert!((stadium.area() - (2.0 + PI / 4.0)).abs() < 1e-12);
    }

    #[test]
    fn degenerate_points_make_points_and_lines() {
        assert_eq!(Shape::convex(&[]).corners().len(), 1);
        assert_eq!(Shape::convex(&[point(1.0, 1.0); 5]).corners().len(), 1);
        assert_eq!(Shape::rectangle(point(0.0, 0.0), point(1.0, 0.0), 1.0, 0.0).corners().len(), 2);
        assert_eq!(Shape::rectangle(point(0.0, 0.0), point(1.0, 0.0), 0.0, 0.0).corners().len(), 1);
    }
}
