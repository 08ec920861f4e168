//! The proof that there is no path.

use super::super::dot;
use super::Budget;
use super::grid::Grid;
use super::scene::{Exit, Piece, Scene};
use super::seen::Seen;

/// What is known of a cell.
const CLOSED: u8 = 1;
const FROM_START: u8 = 2;
const FROM_EXIT: u8 = 3;

struct Flood<'s> {
    grid: Grid,
    piece: &'s Piece,
    scene: &'s Scene,
    exit: &'s Exit,
    /// How far any point of the piece moves within a cell.
    within: f64,
    seen: Seen<u8>,
}

/// Whether the way from the piece's place past the exit is proven closed.
pub(super) fn closed(piece: &Piece, scene: &Scene, exit: &Exit, level: (f64, usize), budget: &mut Budget) -> bool {
    let grid = Grid::new(piece, scene, exit, exit.middle, level);
    let turning = if piece.round() { 0.0 } else { piece.reach() * grid.turn() / 2.0 };
    let within = grid.step() * std::f64::consts::FRAC_1_SQRT_2 + turning;
    let mut flood = Flood { grid, piece, scene, exit, within, seen: Seen::default() };
    let (mut ahead, mut back) = (flood.starts(), flood.exits());
    loop {
        // The smaller front goes on: one of the two runs dry soon where the way is closed near it.
        if ahead.is_empty() || back.is_empty() {
            return true;
        }
        let from_start = ahead.len() <= back.len();
        let (front, mark) = if from_start { (&mut ahead, FROM_START) } else { (&mut back, FROM_EXIT) };
        match flood.spread(front, mark, budget) {
            Some(next) => *front = next,
            None => return false,
        }
    }
}

impl Flood<'_> {
    /// Marks a cell as reached; `false` where it is closed or was reached from this side, `None` where both sides meet.
    fn enter(&mut self, node: usize, mark: u8) -> Option<bool> {
        match self.seen.get(&(node as u32)).copied() {
            None => {
                let pose = self.grid.pose(node);
                let outside = !self.scene.holds(pose.middle);
                let closed = outside || self.scene.surely_hit(self.piece, &pose, self.within);
                self.seen.insert(node as u32, if closed { CLOSED } else { mark });
                Some(!closed)
            }
            Some(CLOSED) => Some(false),
            Some(before) if before == mark => Some(false),
            Some(_) => None,
        }
    }

    /// The cells that may hold the piece's place.
    fn starts(&mut self) -> Vec<usize> {
        let pose = self.piece.pose();
        let (angle, turn) = self.grid.nearest_angle(pose.along);
        let angles = self.grid.angles();
        let other = if turn < 0.0 { (angle + angles - 1) % angles } else { (angle + 1) % angles };
        let mut cells = Vec::new();
        for position in self.grid.around(pose.middle) {
            for angle in [angle, other] {
                let node = self.grid.node(position, angle);
                if self.seen.insert(node as u32, FROM_START).is_none() {
                    cells.push(node);
                }
            }
        }
        cells
    }

    /// The cells in which the piece may just be out.
    fn exits(&mut self) -> Vec<usize> {
        let mut cells = Vec::new();
        let right = super::super::turned(self.exit.out) * -1.0;
        let most_aside = self.exit.width / 2.0 + self.piece.reach() + self.within;
        for position in 0..self.grid.positions() {
            let offset = self.grid.position(position) - self.exit.middle;
            let beyond = dot(offset, self.exit.out);
            if dot(offset, right).abs() > most_aside || beyond < -self.within || beyond > self.piece.reach() + self.within {
                continue;
            }
            for angle in 0..self.grid.angles() {
                let node = self.grid.node(position, angle);
                let extent = self.piece.extent(self.grid.pose(node).along, self.exit.out);
                if (beyond - extent).abs() <= self.within + self.grid.step() && self.enter(node, FROM_EXIT) == Some(true) {
                    cells.push(node);
                }
            }
        }
        cells
    }

    /// Goes on from a front by one cell; `None` where both floods meet or the budget ends.
    fn spread(&mut self, front: &mut Vec<usize>, mark: u8, budget: &mut Budget) -> Option<Vec<usize>> {
        let mut next = Vec::new();
        for node in front.drain(..) {
            let (position, angle) = self.grid.parts(node);
            let angles = self.grid.angles();
            let turned = [(angle + 1) % angles, (angle + angles - 1) % angles].map(|angle| self.grid.node(position, angle));
            let moved = (0..4).filter_map(|way| self.grid.beside(position, way)).map(|beside| self.grid.node(beside, angle));
            let around: Vec<usize> = moved.chain(turned.into_iter().filter(|_| angles > 1)).collect();
            for cell in around {
                if mark == FROM_EXIT && self.surely_out(cell) {
                    continue;
                }
                if !self.seen.contains_key(&(cell as u32)) && !budget.take_cell() {
                    return None;
                }
                if self.enter(cell, mark)? {
                    next.push(cell);
                }
            }
        }
        Some(next)
    }

    /// Whether the piece is out in the whole cell: the flood from the exit goes inwards only.
    fn surely_out(&self, node: usize) -> bool {
        let pose = self.grid.pose(node);
        let beyond = dot(pose.middle - self.exit.middle, self.exit.out);
        beyond > self.piece.extent(pose.along, self.exit.out) + self.within + 2.0 * self.grid.step()
    }
}
