//! The search for a path.

use super::super::{Point, dot, point, turned};
use super::Budget;
use super::grid::{Grid, Guide, shortened};
use super::scene::{Exit, Piece, Pose, Scene};
use super::seen::Seen;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// How much dearer a turn by one angle is than a step.
const TURN_COST: u32 = 2;
/// How much the guide weighs against what was walked: more finds a way sooner, less a shorter one.
const GUIDE: u32 = 2;
/// A node nobody came to yet.
const NOWHERE: u32 = u32::MAX;

fn key(node: usize) -> u32 {
    u32::try_from(node).unwrap_or(NOWHERE)
}

struct Search<'s> {
    grid: Grid,
    piece: &'s Piece,
    scene: &'s Scene,
    exit: &'s Exit,
    guide: &'s Guide,
    /// Steps of this grid for one of the guide.
    scale: u32,
    /// What each node costs so far, from which it is reached (a node, or beyond the nodes a way from the start), whether the
    /// search went on from it.
    nodes: Seen<(u32, u32, bool)>,
    queue: BinaryHeap<Reverse<(u32, u32)>>,
    /// Ways from the start to the grid.
    starts: Vec<Vec<Pose>>,
    nearest: (u32, Pose),
}

/// A path of the piece past the exit, every move of it proven free.
///
/// # Errors
/// The pose nearest to the exit it was found to reach.
pub(super) fn path(
    piece: &Piece,
    scene: &Scene,
    exit: &Exit,
    (guide, datum, level): (&Guide, Point, (f64, usize)),
    budget: &mut Budget,
) -> Result<Vec<Pose>, Pose> {
    let grid = Grid::new(piece, scene, exit, datum, level);
    let nearest = (u32::MAX, piece.pose());
    let queue = BinaryHeap::new();
    let scale = guide.steps(grid.step());
    let nodes = Seen::default();
    let mut search = Search { grid, piece, scene, exit, guide, scale, nodes, queue, starts: Vec::new(), nearest };
    if search.out(&piece.pose()) {
        return Ok(vec![piece.pose()]);
    }
    search.start();
    search.run(budget)
}

impl Search<'_> {
    fn out(&self, pose: &Pose) -> bool {
        let beyond = dot(pose.middle - self.exit.middle, self.exit.out);
        beyond >= self.piece.extent(pose.along, self.exit.out) - 1e-9
    }

    /// Draws the piece straight out of its place, four ways, and from there onto the grid.
    fn start(&mut self) {
        let origin = self.piece.pose();
        let (along, across) = (origin.along, turned(origin.along));
        let most = 2.0 * self.piece.reach() + 4.0 * self.grid.step();
        for way in [across, across * -1.0, along, along * -1.0] {
            let mut pulled = 0.0;
            self.land(&origin, &[origin]);
            while pulled < most {
                let pose = Pose { middle: origin.middle + way * pulled, ..origin };
                let step = self.grid.step();
                if !self.scene.free(self.piece, &pose, way * step) {
                    break;
                }
                pulled += step;
                let pose = Pose { middle: origin.middle + way * pulled, ..origin };
                self.land(&pose, &[origin, pose]);
            }
        }
    }

    /// Moves from a pose onto the grid positions around it, and turns to the nearest of its angles.
    fn land(&mut self, pose: &Pose, way: &[Pose]) {
        let (angle, turn) = self.grid.nearest_angle(pose.along);
        for position in self.grid.around(pose.middle) {
            let node = self.grid.node(position, angle);
            let at = Pose { middle: self.grid.position(position), ..*pose };
            let fresh = !self.nodes.contains_key(&key(node));
            if !fresh || !self.scene.free(self.piece, pose, at.middle - pose.middle) {
                continue;
            }
            let turns = turn.abs() > 1e-9 && !self.piece.round();
            if turns && !self.scene.free_turn(self.piece, &at, turn) {
                continue;
            }
            // Its direction is that of the grid, to the last bit.
            if !self.scene.free(self.piece, &self.grid.pose(node), point(0.0, 0.0)) {
                continue;
            }
            let start = u32::try_from(self.grid.nodes() + self.starts.len()).unwrap_or(NOWHERE);
            self.starts.push(way.iter().copied().chain([at]).collect());
            self.reach(node, 0, start);
        }
    }

    /// What it costs to come to a node so far.
    fn cost(&self, node: usize) -> u32 {
        self.nodes.get(&key(node)).map_or(u32::MAX, |&(cost, _, _)| cost)
    }

    fn reach(&mut self, node: usize, cost: u32, from: u32) {
        let (position, _) = self.grid.parts(node);
        let Some(guide) = self.guide.cost(self.grid.position(position)).filter(|_| cost < self.cost(node)) else { return };
        self.nodes.insert(key(node), (cost, from, false));
        if guide < self.nearest.0 {
            self.nearest = (guide, self.grid.pose(node));
        }
        let ahead = guide.saturating_mul(GUIDE * self.scale);
        self.queue.push(Reverse((cost.saturating_add(ahead), key(node))));
    }

    fn run(&mut self, budget: &mut Budget) -> Result<Vec<Pose>, Pose> {
        while let Some(Reverse((_, node))) = self.queue.pop() {
            let Some((_, _, done)) = self.nodes.get_mut(&node) else { continue };
            if std::mem::replace(done, true) {
                continue;
            }
            let node = node as usize;
            if self.out(&self.grid.pose(node)) {
                return Ok(self.walked(node));
            }
            if !budget.take_pose() {
                break;
            }
            self.go_on(node);
        }
        Err(self.nearest.1)
    }

    fn go_on(&mut self, node: usize) {
        let pose = self.grid.pose(node);
        let (position, angle) = self.grid.parts(node);
        let cost = self.cost(node);
        let came = key(node);
        for way in 0..4 {
            let Some(beside) = self.grid.beside(position, way) else { continue };
            let next = self.grid.node(beside, angle);
            if cost + 1 < self.cost(next) && self.scene.free(self.piece, &pose, self.grid.position(beside) - pose.middle) {
                self.reach(next, cost + 1, came);
            }
        }
        let angles = self.grid.angles();
        if angles == 1 {
            return;
        }
        for (to, turn) in [((angle + 1) % angles, self.grid.turn()), ((angle + angles - 1) % angles, -self.grid.turn())] {
            let next = self.grid.node(position, to);
            if cost + TURN_COST < self.cost(next) && self.scene.free_turn(self.piece, &pose, turn) {
                self.reach(next, cost + TURN_COST, came);
            }
        }
    }

    /// The poses from the start to a node.
    fn walked(&self, last: usize) -> Vec<Pose> {
        let mut path = Vec::new();
        let mut node = last;
        loop {
            path.push(self.grid.pose(node));
            let from = self.nodes.get(&key(node)).map_or(NOWHERE, |&(_, from, _)| from) as usize;
            if from >= self.grid.nodes() {
                let start = self.starts.get(from - self.grid.nodes()).map_or(&[][..], Vec::as_slice);
                path.extend(start.iter().rev());
                break;
            }
            node = from;
        }
        path.reverse();
        shortened(path)
    }
}
