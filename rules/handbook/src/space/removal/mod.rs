//! Can a piece be carried out: translating and turning a rectangle, or moving a cylinder, upright, past obstacles.
//!
//! Three answers and no guess. **Out**: a path was found, every move of which was proven free over its whole sweep.
//! **Blocked**: a proof was found, either a gate narrower than the piece's lesser side (exact, with the pair), or that the
//! places the piece could reach, taken generously, are closed off. **Undecided**: neither within the moves allowed.
//!
//! The path is searched on a grid of positions and angles that grows finer, laid through the middle of the way out and square
//! to it, so that a piece fits a way as wide as itself. The proof floods cells of positions and angles from the piece's place
//! and from the way out; a cell counts as closed only where every position and angle in it collides. Where either flood runs
//! dry, there is no way, however small the cells.

mod flood;
mod grid;
mod scene;
mod search;

pub use scene::{Exit, Piece, Pose, Scene};

use super::Point;

/// What came of it.
#[derive(Debug, Clone, PartialEq)]
pub enum Carried {
    /// It gets out this way.
    Out(Vec<Pose>),
    /// It does not, and that is proven.
    Blocked(Held),
    /// Neither a way nor a proof was found within the moves allowed.
    Undecided(Held),
}

/// Where a piece gets stuck.
#[derive(Debug, Clone, PartialEq)]
pub struct Held {
    /// The pose nearest to the way out that it reaches.
    pub at: Pose,
    /// The obstacles that hold it there, nearest first: places in the scene's list.
    pub by: Vec<usize>,
}

/// How many moves a search may try, and how many cells a proof may look at. What is used is taken off, so that several pieces
/// can share one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Budget {
    /// Poses a search may go on from.
    pub poses: u32,
    /// Cells a proof may look at.
    pub cells: u32,
}

impl Budget {
    /// What a rule module can afford for one piece, by measurement about 2e8 instructions at the worst.
    pub const ONE_PIECE: Self = Self { poses: 6_000, cells: 120_000 };

    fn take_pose(&mut self) -> bool {
        take(&mut self.poses)
    }

    fn take_cell(&mut self) -> bool {
        take(&mut self.cells)
    }
}

fn take(left: &mut u32) -> bool {
    let any = *left > 0;
    *left = left.saturating_sub(1);
    any
}

/// Steps of the grid, in metres, and angles in a half turn: from coarse to fine.
const LEVELS: [(f64, usize); 3] = [(2.0 * 0.0254, 24), (0.0254, 48), (0.5 * 0.0254, 96)];

/// Carries a piece from its place past the exit.
pub fn carry(piece: &Piece, scene: &Scene, exit: &Exit, budget: &mut Budget) -> Carried {
    let mut held = Held { at: piece.pose(), by: scene.holding(piece, &piece.pose()) };
    let share = (budget.poses / 3, budget.cells / 2);
    for (level, &(step, angles)) in LEVELS.iter().enumerate() {
        let mut poses = Budget { poses: if level < 2 { share.0.min(budget.poses) } else { budget.poses }, cells: 0 };
        let allowed = poses.poses;
        let found = search::path(piece, scene, exit, (step, angles), &mut poses);
        budget.poses -= allowed - poses.poses;
        match found {
            Ok(path) => return Carried::Out(path),
            Err(at) => held = Held { by: scene.holding(piece, &at), at },
        }
        let mut cells = Budget { poses: 0, cells: if level < 2 { (share.1 / 2).min(budget.cells) } else { budget.cells } };
        let allowed = cells.cells;
        let closed = flood::closed(piece, scene, exit, (step, angles), &mut cells);
        budget.cells -= allowed - cells.cells;
        if closed {
            return Carried::Blocked(held);
        }
    }
    Carried::Undecided(held)
}

/// The longest rectangle of a width that gets around a right-angled corner between two corridors, from the closed formula:
/// the least, over the angle, of `a/cos + b/sin - w/(sin cos)`. For a ladder without width `(a^(2/3) + b^(2/3))^(3/2)`.
pub fn longest_around_corner(first: f64, second: f64, width: f64) -> f64 {
    let length = |angle: f64| {
        let (sin, cos) = (libm::sin(angle), libm::cos(angle));
        first / cos + second / sin - width / (sin * cos)
    };
    let (mut low, mut high) = (1e-6, std::f64::consts::FRAC_PI_2 - 1e-6);
    for _ in 0..200 {
        let (left, right) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if length(left) < length(right) { high = right } else { low = left }
    }
    length((low + high) / 2.0)
}

/// Least ceiling height under which a standing piece can be tipped through: the diagonal of its side.
pub fn tipping_height(height: f64, depth: f64) -> f64 {
    libm::hypot(height, depth)
}

fn middle(a: Point, b: Point) -> Point {
    (a + b) / 2.0
}
