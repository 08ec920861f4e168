//! The grid of positions and angles, square to the way out and through its middle.

use super::super::{Point, dot, norm, point, turned};
use super::middle;
use super::scene::{Exit, Piece, Pose, Scene, rotated};
use std::f64::consts::PI;

/// Positions `step` apart and angles that divide a half turn, which brings a box onto itself.
pub(super) struct Grid {
    datum: Point,
    right: Point,
    out: Point,
    step: f64,
    low: (i32, i32),
    columns: usize,
    rows: usize,
    directions: Vec<Point>,
}

/// Positions at most: larger rooms get a coarser grid.
const MOST_POSITIONS: f64 = 60_000.0;

impl Grid {
    /// A grid through a datum.
    pub(super) fn new(piece: &Piece, scene: &Scene, exit: &Exit, datum: Point, (step, angles): (f64, usize)) -> Self {
        let (least, most) = scene.bounds();
        let right = turned(exit.out) * -1.0;
        let corners = [least, most, point(least.x, most.y), point(most.x, least.y)];
        let range = |axis: Point| {
            let at = corners.map(|corner| dot(corner - datum, axis));
            at.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), &at| (low.min(at), high.max(at)))
        };
        let (across, along) = (range(right), range(exit.out));
        let area = (across.1 - across.0) * (along.1 - along.0);
        let step = step.max((area / MOST_POSITIONS).max(0.0).sqrt());
        let cell = |(low, high): (f64, f64)| ((low / step).floor() as i32, ((high - low) / step).ceil().max(0.0) as usize + 2);
        let ((left, columns), (back, rows)) = (cell(across), cell(along));
        let angles = if piece.round() { 1 } else { angles };
        let directions = (0..angles).map(|index| rotated(right, PI * index as f64 / angles as f64)).collect();
        Self { datum, right, out: exit.out, step, low: (left, back), columns, rows, directions }
    }

    pub(super) fn step(&self) -> f64 {
        self.step
    }

    pub(super) fn angles(&self) -> usize {
        self.directions.len()
    }

    /// The angle between two neighbouring directions.
    pub(super) fn turn(&self) -> f64 {
        PI / self.directions.len() as f64
    }

    pub(super) fn positions(&self) -> usize {
        self.columns * self.rows
    }

    /// The position nearest to a place.
    fn nearest(&self, at: Point) -> Option<usize> {
        let (across, along) = (dot(at - self.datum, self.right) / self.step, dot(at - self.datum, self.out) / self.step);
        let (column, row) = ((across + 0.5).floor() - f64::from(self.low.0), (along + 0.5).floor() - f64::from(self.low.1));
        let within = column >= 0.0 && row >= 0.0 && column < self.columns as f64 && row < self.rows as f64;
        within.then(|| row as usize * self.columns + column as usize)
    }

    pub(super) fn nodes(&self) -> usize {
        self.positions() * self.directions.len()
    }

    pub(super) fn position(&self, position: usize) -> Point {
        let (column, row) = ((position % self.columns) as i32 + self.low.0, (position / self.columns) as i32 + self.low.1);
        self.datum + self.right * (f64::from(column) * self.step) + self.out * (f64::from(row) * self.step)
    }

    /// Position and angle of a node.
    pub(super) fn parts(&self, node: usize) -> (usize, usize) {
        (node / self.directions.len(), node % self.directions.len())
    }

    pub(super) fn node(&self, position: usize, angle: usize) -> usize {
        position * self.directions.len() + angle
    }

    pub(super) fn pose(&self, node: usize) -> Pose {
        let (position, angle) = self.parts(node);
        Pose { middle: self.position(position), along: self.directions[angle] }
    }

    /// The position a step away: right, left, out, back.
    pub(super) fn beside(&self, position: usize, way: usize) -> Option<usize> {
        let (column, row) = (position % self.columns, position / self.columns);
        match way {
            0 => (column + 1 < self.columns).then_some(position + 1),
            1 => (column > 0).then(|| position - 1),
            2 => (row + 1 < self.rows).then_some(position + self.columns),
            _ => (row > 0).then(|| position - self.columns),
        }
    }

    /// The positions around a place: the four corners of the cell it lies in.
    pub(super) fn around(&self, at: Point) -> Vec<usize> {
        let (across, along) = (dot(at - self.datum, self.right) / self.step, dot(at - self.datum, self.out) / self.step);
        let mut found = Vec::with_capacity(4);
        for row in [along.floor(), along.floor() + 1.0] {
            for column in [across.floor(), across.floor() + 1.0] {
                let (column, row) = (column as i64 - i64::from(self.low.0), row as i64 - i64::from(self.low.1));
                let within = |at: i64, count: usize| usize::try_from(at).ok().filter(|&at| at < count);
                if let (Some(column), Some(row)) = (within(column, self.columns), within(row, self.rows)) {
                    found.push(row * self.columns + column);
                }
            }
        }
        found
    }

    /// The angle nearest to a direction, and by how much one must turn to it.
    pub(super) fn nearest_angle(&self, along: Point) -> (usize, f64) {
        if self.directions.len() == 1 {
            return (0, 0.0);
        }
        let turns = self.directions.iter().enumerate().map(|(index, &direction)| (index, turn_between(along, direction)));
        turns.min_by(|a, b| a.1.abs().total_cmp(&b.1.abs())).unwrap_or((0, 0.0))
    }
}

/// The least turn that brings one direction onto another or its opposite.
fn turn_between(from: Point, to: Point) -> f64 {
    let sine = from.x * to.y - from.y * to.x;
    let cosine = dot(from, to);
    let turn = libm::atan2(sine, cosine);
    if turn > PI / 2.0 {
        turn - PI
    } else if turn < -PI / 2.0 {
        turn + PI
    } else {
        turn
    }
}

/// How much dearer a step is where the piece's longer side would not fit every way.
const TIGHT: u32 = 4;
/// How much dearer it is where its lesser side may not fit, as far as the coarse grid can tell.
const DOUBTFUL: u32 = 24;
/// A position not reached yet, and one that is closed.
const UNREACHED: u32 = u32::MAX - 1;

/// What a way from a place to the exit costs, about. It only guides the search.
pub(super) struct Guide {
    grid: Grid,
    costs: Vec<u32>,
}

impl Guide {
    /// Works it out on a grid of some step.
    pub(super) fn new(piece: &Piece, scene: &Scene, exit: &Exit, step: f64) -> Self {
        let grid = Grid::new(piece, scene, exit, exit.middle, (step, 1));
        let costs = cost_to_exit(&grid, piece, scene, exit);
        Self { grid, costs }
    }

    /// The cost from a place, in hundredths of a metre or so; `None` where there is no way.
    pub(super) fn cost(&self, at: Point) -> Option<u32> {
        let cost = self.costs.get(self.grid.nearest(at)?).copied();
        cost.filter(|&cost| cost != u32::MAX)
    }

    /// How many steps of a finer grid one step of the guide is.
    pub(super) fn steps(&self, step: f64) -> u32 {
        (self.grid.step / step).round().max(1.0) as u32
    }
}

/// The cost from every position to the exit for a round body as wide as the piece's lesser side, which prefers wide ways;
/// `u32::MAX` where there is none.
fn cost_to_exit(grid: &Grid, piece: &Piece, scene: &Scene, exit: &Exit) -> Vec<u32> {
    let slack = 0.6 * grid.step();
    let mut costs = vec![UNREACHED; grid.positions()];
    let (mut tight, mut doubtful) = (costs.clone(), costs.clone());
    let longer = piece.half_width.max(piece.half_depth) + piece.radius;
    for obstacle in scene.obstacles() {
        close(grid, obstacle, piece.lesser() / 2.0 - slack, &mut costs);
        close(grid, obstacle, piece.lesser() / 2.0, &mut doubtful);
        close(grid, obstacle, longer - slack, &mut tight);
    }
    let mut fronts: Vec<Vec<usize>> = vec![Vec::new(); DOUBTFUL as usize + 1];
    for position in grid.around(exit.middle + exit.out * (piece.lesser() / 2.0)) {
        costs[position] = 0;
        fronts[0].push(position);
    }
    let (mut cost, mut waiting) = (0_u32, fronts[0].len());
    while waiting > 0 {
        let front = cost as usize % fronts.len();
        while let Some(position) = fronts[front].pop() {
            waiting -= 1;
            if costs[position] != cost {
                continue;
            }
            for way in 0..4 {
                let Some(beside) = grid.beside(position, way) else { continue };
                let dear = |map: &[u32], dear: u32| if map[beside] == u32::MAX { dear } else { 1 };
                let next = cost + dear(&tight, TIGHT).max(dear(&doubtful, DOUBTFUL));
                if costs[beside] == u32::MAX || next >= costs[beside] || !scene.holds(grid.position(beside)) {
                    continue;
                }
                costs[beside] = next;
                fronts[next as usize % (DOUBTFUL as usize + 1)].push(beside);
                waiting += 1;
            }
        }
        cost += 1;
    }
    costs.iter_mut().filter(|cost| **cost == UNREACHED).for_each(|cost| *cost = u32::MAX);
    costs
}

/// Closes the positions a round body cannot take because of an obstacle.
fn close(grid: &Grid, obstacle: &super::super::Shape, radius: f64, steps: &mut [u32]) {
    let (left, right) = obstacle.extent(grid.right);
    let (back, front) = obstacle.extent(grid.out);
    let shift = (dot(grid.datum, grid.right), dot(grid.datum, grid.out));
    let range = |low: f64, high: f64, shift: f64, first: i32, count: usize| {
        let cell = |at: f64| ((at - shift) / grid.step) - f64::from(first);
        let from = cell(low - radius).ceil().max(0.0) as usize;
        let to = cell(high + radius).floor();
        from..(if to < 0.0 { 0 } else { (to as usize + 1).min(count) })
    };
    let corners = obstacle.corners();
    let reach = radius + obstacle.radius();
    for row in range(back, front, shift.1, grid.low.1, grid.rows) {
        for column in range(left, right, shift.0, grid.low.0, grid.columns) {
            let position = row * grid.columns + column;
            if steps[position] != u32::MAX && distance(corners, grid.position(position)) < reach {
                steps[position] = u32::MAX;
            }
        }
    }
}

/// The distance from a place to a hull.
fn distance(corners: &[Point], at: Point) -> f64 {
    let count = corners.len();
    if count == 1 {
        return norm(at - corners[0]);
    }
    let mut inside = count > 2;
    let mut least = f64::INFINITY;
    for index in 0..count {
        let (from, to) = (corners[index], corners[(index + 1) % count]);
        inside &= (to.x - from.x) * (at.y - from.y) - (to.y - from.y) * (at.x - from.x) >= 0.0;
        least = least.min(norm(super::super::shape::nearest(at, from, to) - at));
    }
    if inside { 0.0 } else { least }
}

/// A path made shorter: a straight run of poses keeps only its ends.
pub(super) fn shortened(path: Vec<Pose>) -> Vec<Pose> {
    let mut kept: Vec<Pose> = Vec::with_capacity(path.len());
    for pose in path {
        if let [.., before, last] = kept.as_slice() {
            let straight = norm(middle(before.middle, pose.middle) - last.middle)
                < norm(pose.middle - before.middle) / 2.0 + 1e-9
                && super::super::cross(last.middle - before.middle, pose.middle - last.middle).abs() < 1e-9
                && dot(last.middle - before.middle, pose.middle - last.middle) > 0.0
                && before.along == last.along
                && last.along == pose.along;
            if straight {
                kept.pop();
            }
        }
        kept.push(pose);
    }
    kept
}
