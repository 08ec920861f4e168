//! The piece, what is around it, and the way out.

use super::super::{Point, Shape, dot, norm, point, turned};

/// How deep a move may graze, in metres: what conversions and rotations leave over.
pub(super) const GRAZE: f64 = 1e-7;

/// What is carried, at its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piece {
    /// Its middle.
    pub middle: Point,
    /// The direction of its width, a unit vector.
    pub along: Point,
    /// Half its width; of a cylinder 0.
    pub half_width: f64,
    /// Half its depth; of a cylinder 0.
    pub half_depth: f64,
    /// Its radius; of a box 0.
    pub radius: f64,
}

/// A position and a direction of the piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pose {
    /// Where its middle is.
    pub middle: Point,
    /// The direction of its width, a unit vector.
    pub along: Point,
}

/// The obstacles, and how far the room and what lies beyond the way out reach.
#[derive(Debug, Clone)]
pub struct Scene {
    obstacles: Vec<Shape>,
    /// A circle about each obstacle.
    circles: Vec<(Point, f64)>,
    bounds: (Point, Point),
    buckets: Vec<Vec<u16>>,
    columns: usize,
    rows: usize,
}

/// The line past which a piece is out, and the gap it passes it by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exit {
    /// The middle of the gap, on the line.
    pub middle: Point,
    /// The direction out, a unit vector across the line.
    pub out: Point,
    /// Width of the gap.
    pub width: f64,
}

impl Piece {
    /// A box.
    pub fn rectangle(middle: Point, along: Point, width: f64, depth: f64) -> Self {
        Self { middle, along, half_width: width / 2.0, half_depth: depth / 2.0, radius: 0.0 }
    }

    /// A cylinder.
    pub fn cylinder(middle: Point, diameter: f64) -> Self {
        Self { middle, along: point(1.0, 0.0), half_width: 0.0, half_depth: 0.0, radius: diameter / 2.0 }
    }

    /// Its pose at its place.
    pub fn pose(&self) -> Pose {
        Pose { middle: self.middle, along: self.along }
    }

    /// Its lesser side: it needs a gap as wide.
    pub fn lesser(&self) -> f64 {
        2.0 * (self.half_width.min(self.half_depth) + self.radius)
    }

    /// The distance from its middle to its farthest point.
    pub fn reach(&self) -> f64 {
        libm::hypot(self.half_width, self.half_depth) + self.radius
    }

    /// Its plan at a pose.
    pub fn plan(&self, pose: &Pose) -> Shape {
        Shape::rectangle(pose.middle, pose.along, self.half_width, self.half_depth).grown(self.radius)
    }

    /// Whether it is a cylinder, which no turning changes.
    pub(super) fn round(&self) -> bool {
        self.half_width == 0.0 && self.half_depth == 0.0
    }

    /// How far it reaches from its middle along a direction.
    pub(super) fn extent(&self, along: Point, direction: Point) -> f64 {
        self.half_width * dot(along, direction).abs() + self.half_depth * dot(turned(along), direction).abs() + self.radius
    }

    /// The piece grown by turning either way by an angle: a box about all it sweeps.
    pub(super) fn turning(&self, angle: f64) -> Self {
        let (sin, cos) = (libm::sin(angle), libm::cos(angle));
        let grown = |half: f64, other: f64| (half * cos + other * sin).max(half);
        Self { half_width: grown(self.half_width, self.half_depth), half_depth: grown(self.half_depth, self.half_width), ..*self }
    }
}

/// Side of the buckets obstacles are sorted into, in metres.
const BUCKET: f64 = 0.3;
/// Buckets per side at most: a large yard has coarser ones.
const MOST_BUCKETS: usize = 128;

impl Scene {
    /// Obstacles, for a piece of a certain reach, between two corners: what lies beyond these is never looked at.
    pub fn new(obstacles: Vec<Shape>, bounds: (Point, Point), reach: f64) -> Self {
        let count = |length: f64| ((length / BUCKET).ceil().max(1.0) as usize).min(MOST_BUCKETS);
        let size = bounds.1 - bounds.0;
        let (columns, rows) = (count(size.x), count(size.y));
        let around = |shape: &Shape| {
            let (least, most) = shape.bounds();
            ((least + most) / 2.0, norm(most - least) / 2.0)
        };
        let circles = obstacles.iter().map(around).collect();
        let mut scene = Self { obstacles, circles, bounds, buckets: vec![Vec::new(); columns * rows], columns, rows };
        for (index, shape) in scene.obstacles.iter().enumerate() {
            let (least, most) = shape.bounds();
            // Farther than one step of the coarsest grid nothing is asked.
            let wide = point(reach + 0.1, reach + 0.1);
            let ((left, low), (right, high)) = (scene.bucket(least - wide), scene.bucket(most + wide));
            for row in low..=high {
                for column in left..=right {
                    scene.buckets[row * columns + column].push(u16::try_from(index).unwrap_or(u16::MAX));
                }
            }
        }
        scene
    }

    fn bucket(&self, at: Point) -> (usize, usize) {
        let size = self.bounds.1 - self.bounds.0;
        let place = |offset: f64, size: f64, count: usize| {
            let share = if size > 0.0 { offset / size } else { 0.0 };
            ((share * count as f64).floor().max(0.0) as usize).min(count - 1)
        };
        let offset = at - self.bounds.0;
        (place(offset.x, size.x, self.columns), place(offset.y, size.y, self.rows))
    }

    /// The obstacles.
    pub fn obstacles(&self) -> &[Shape] {
        &self.obstacles
    }

    /// Its least and greatest corner.
    pub fn bounds(&self) -> (Point, Point) {
        self.bounds
    }

    /// Whether a place lies within its bounds.
    pub(super) fn holds(&self, at: Point) -> bool {
        at.x >= self.bounds.0.x && at.y >= self.bounds.0.y && at.x <= self.bounds.1.x && at.y <= self.bounds.1.y
    }

    /// The obstacles that a piece at a place could meet while it moves by some distance.
    fn near(&self, piece: &Piece, at: Point, moves: f64) -> impl Iterator<Item = &Shape> {
        let (column, row) = self.bucket(at);
        let square = piece.half_width * piece.half_width + piece.half_depth * piece.half_depth;
        let reach = square.sqrt() + piece.radius + moves;
        self.buckets[row * self.columns + column].iter().map(|&index| usize::from(index)).filter_map(move |index| {
            let &(middle, radius) = self.circles.get(index)?;
            let (apart, within) = (middle - at, reach + radius);
            if dot(apart, apart) > within * within { None } else { self.obstacles.get(index) }
        })
    }

    /// Whether the piece can move straight from a pose by a vector: its whole sweep is free.
    pub(super) fn free(&self, piece: &Piece, pose: &Pose, by: Point) -> bool {
        self.near(piece, pose.middle, norm(by)).all(|obstacle| misses(piece, pose, by, obstacle))
    }

    /// The same for a move of any length.
    pub(super) fn free_far(&self, piece: &Piece, pose: &Pose, by: Point) -> bool {
        self.obstacles.iter().all(|obstacle| misses(piece, pose, by, obstacle))
    }

    /// The same, two obstacles left aside.
    pub(super) fn free_but(&self, piece: &Piece, pose: &Pose, by: Point, but: [usize; 2]) -> bool {
        let others = self.obstacles.iter().enumerate().filter(|(index, _)| !but.contains(index));
        others.map(|(_, obstacle)| obstacle).all(|obstacle| misses(piece, pose, by, obstacle))
    }

    /// Whether the piece can turn at a place from one direction by a small angle (either sign).
    pub(super) fn free_turn(&self, piece: &Piece, pose: &Pose, angle: f64) -> bool {
        const PARTS: usize = 4;
        let part = angle / PARTS as f64;
        let wide = piece.turning(part.abs() / 2.0);
        (0..PARTS).all(|index| {
            let along = rotated(pose.along, part * (index as f64 + 0.5));
            self.free(&wide, &Pose { along, ..*pose }, point(0.0, 0.0))
        })
    }

    /// Whether some obstacle is hit by every pose within a distance of this one.
    pub(super) fn surely_hit(&self, piece: &Piece, pose: &Pose, within: f64) -> bool {
        self.near(piece, pose.middle, 0.0).any(|obstacle| {
            let apart = separation(piece, pose, point(0.0, 0.0), obstacle);
            // A direction that parts them, or nearly: no need to look closer.
            if apart > -within {
                return false;
            }
            // Between corners and rounded parts the axes say too much; ask exactly there.
            let rounded = piece.radius > 0.0 || obstacle.radius() > 0.0;
            !rounded || obstacle.overlap(&piece.plan(pose)).is_some_and(|depth| depth > within)
        })
    }

    /// The obstacles nearest to a piece at a pose: at most three, none farther than a hand's breadth.
    pub(super) fn holding(&self, piece: &Piece, pose: &Pose) -> Vec<usize> {
        let plan = piece.plan(pose);
        let gaps = self.obstacles.iter().enumerate().map(|(index, obstacle)| (obstacle.gap(&plan).distance, index));
        let mut near: Vec<(f64, usize)> = gaps.filter(|(gap, _)| *gap < 0.15).collect();
        near.sort_by(|a, b| a.0.total_cmp(&b.0));
        near.into_iter().take(3).map(|(_, index)| index).collect()
    }
}

/// A direction turned by an angle, counterclockwise.
pub(super) fn rotated(along: Point, angle: f64) -> Point {
    let (sin, cos) = (libm::sin(angle), libm::cos(angle));
    let turned = point(along.x * cos - along.y * sin, along.x * sin + along.y * cos);
    turned / norm(turned)
}

/// The greatest distance by which some axis parts a swept piece from an obstacle; negative where none does. Never more than
/// the true distance; without rounding, the negative of the true depth.
fn separation(piece: &Piece, pose: &Pose, by: Point, obstacle: &Shape) -> f64 {
    let rounding = piece.radius + obstacle.radius();
    let corners = obstacle.corners();
    let mut most = f64::NEG_INFINITY;
    let mut along = |axis: Point| {
        let (mut least, mut greatest) = (f64::INFINITY, f64::NEG_INFINITY);
        for &corner in corners {
            let at = dot(corner, axis);
            least = least.min(at);
            greatest = greatest.max(at);
        }
        let (at, moved) = (dot(pose.middle, axis), dot(by, axis));
        let half = piece.half_width * dot(pose.along, axis).abs() + piece.half_depth * dot(turned(pose.along), axis).abs();
        let apart = (least - (at + half + moved.max(0.0))).max(at - half + moved.min(0.0) - greatest) - rounding;
        most = most.max(apart);
        apart > -GRAZE
    };
    if !piece.round() && (along(pose.along) || along(turned(pose.along))) {
        return most;
    }
    let length = norm(by);
    if length > 0.0 && along(turned(by / length)) {
        return most;
    }
    for (from, to) in obstacle.edges() {
        let edge = norm(to - from);
        if edge > 0.0 && along(turned((to - from) / edge)) {
            return most;
        }
    }
    if corners.len() == 1 || piece.round() {
        // Toward the nearest corner or middle.
        let nearest = corners.iter().min_by(|a, b| norm(**a - pose.middle).total_cmp(&norm(**b - pose.middle)));
        if let Some(toward) = nearest.and_then(|&corner| super::super::unit(corner - pose.middle)) {
            along(toward);
        }
    }
    most
}

/// Whether a piece that moves straight misses an obstacle.
fn misses(piece: &Piece, pose: &Pose, by: Point, obstacle: &Shape) -> bool {
    if separation(piece, pose, by, obstacle) > -GRAZE {
        return true;
    }
    if piece.radius <= 0.0 && obstacle.radius() <= 0.0 {
        return false;
    }
    let (u, v) = (pose.along * piece.half_width, turned(pose.along) * piece.half_depth);
    let corners = [u + v, u - v, v - u, point(0.0, 0.0) - u - v];
    let swept: Vec<Point> = corners.iter().flat_map(|&corner| [pose.middle + corner, pose.middle + corner + by]).collect();
    Shape::convex(&swept).grown(piece.radius).overlap(obstacle).is_none_or(|depth| depth <= GRAZE)
}
