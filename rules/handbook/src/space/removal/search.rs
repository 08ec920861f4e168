//! The search for a path.

use super::super::{dot, point, turned};
use super::Budget;
use super::grid::{Grid, shortened, steps_to_exit};
use super::scene::{Exit, Piece, Pose, Scene};
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// How much dearer a turn by one angle is than a step.
const TURN_COST: u32 = 2;
/// How much the guide weighs against what was walked: more finds a way sooner, less a shorter one.
const GUIDE: u32 = 2;
/// A node nobody came to yet.
const NOWHERE: u32 = u32::MAX;

struct Search<'s> {
    grid: Grid,
    piece: &'s Piece,
    scene: &'s Scene,
    exit: &'s Exit,
    guide: Vec<u32>,
    /// What each node costs so far, and from which it is reached: a node, or beyond the nodes a way from the start.
    cost: Vec<u32>,
    from: Vec<u32>,
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
    level: (f64, usize),
    budget: &mut Budget,
) -> Result<Vec<Pose>, Pose> {
    let grid = Grid::new(piece, scene, exit, level);
    let guide = steps_to_exit(&grid, piece, scene, exit);
    let (cost, from) = (vec![u32::MAX; grid.nodes()], vec![NOWHERE; grid.nodes()]);
    let nearest = (u32::MAX, piece.pose());
    let queue = BinaryHeap::new();
    let mut search = Search { grid, piece, scene, exit, guide, cost, from, queue, starts: Vec::new(), nearest };
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
            let fresh = self.cost[node] == u32::MAX && self.guide[position] != u32::MAX;
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

    fn reach(&mut self, node: usize, cost: u32, from: u32) {
        let (position, _) = self.grid.parts(node);
        let guide = self.guide[position];
        if guide == u32::MAX || cost >= self.cost[node] {
            return;
        }
        self.cost[node] = cost;
        self.from[node] = from;
        if guide < self.nearest.0 {
            self.nearest = (guide, self.grid.pose(node));
        }
        let node = u32::try_from(node).unwrap_or(NOWHERE);
        self.queue.push(Reverse((cost.saturating_add(guide.saturating_mul(GUIDE)), node)));
    }

    fn run(&mut self, budget: &mut Budget) -> Result<Vec<Pose>, Pose> {
        let mut done = vec![false; self.grid.nodes()];
        while let Some(Reverse((_, node))) = self.queue.pop() {
            let node = node as usize;
            if std::mem::replace(&mut done[node], true) {
                continue;
            }
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
        let cost = self.cost[node];
        let came = u32::try_from(node).unwrap_or(NOWHERE);
        for way in 0..4 {
            let Some(beside) = self.grid.beside(position, way) else { continue };
            let next = self.grid.node(beside, angle);
            let wanted = self.guide[beside] != u32::MAX && cost + 1 < self.cost[next];
            if wanted && self.scene.free(self.piece, &pose, self.grid.position(beside) - pose.middle) {
                self.reach(next, cost + 1, came);
            }
        }
        let angles = self.grid.angles();
        if angles == 1 {
            return;
        }
        for (to, turn) in [((angle + 1) % angles, self.grid.turn()), ((angle + angles - 1) % angles, -self.grid.turn())] {
            let next = self.grid.node(position, to);
            if cost + TURN_COST < self.cost[next] && self.scene.free_turn(self.piece, &pose, turn) {
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
            let from = self.from[node] as usize;
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
