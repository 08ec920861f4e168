//! Can a piece be carried out: translating and turning a rectangle, or moving a cylinder, upright, past obstacles.
//!
//! Three answers and no guess. **Out**: a path was found, every move of which was proven free over its whole sweep.
//! **Blocked**: a proof was found, either a gate narrower than the piece's lesser side (exact, with the pair), or that the
//! places the piece could reach, taken generously, are closed off. **Undecided**: neither within the moves allowed.
//!
//! The path is searched on a grid of positions and angles that grows finer, laid square to the way out through its middle,
//! so that a piece fits a way as wide as itself, and then through the piece's own place. Around a right-angled corner the path of the
//! closed formula is tried first, and its proof that there is none: they need no room to spare. The other proof floods cells of positions and angles from the piece's place
//! and from the way out; a cell counts as closed only where every position and angle in it collides. Where either flood runs
//! dry, there is no way, however small the cells.

mod corner;
mod flood;
mod grid;
mod scene;
mod search;
mod seen;

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
    /// What a rule module can afford for one piece: as measured, at the worst 5e8 of the 2e9 steps of a call.
    pub const ONE_PIECE: Self = Self { poses: 5_000, cells: 100_000 };

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

/// A piece with what is around it, made ready to be carried.
pub struct Carrying<'s> {
    piece: &'s Piece,
    scene: &'s Scene,
    exit: &'s Exit,
    guide: grid::Guide,
}

impl<'s> Carrying<'s> {
    /// Makes a piece ready.
    pub fn new(piece: &'s Piece, scene: &'s Scene, exit: &'s Exit) -> Self {
        Self { piece, scene, exit, guide: grid::Guide::new(piece, scene, exit, FIRST_LOOK.0) }
    }

    /// Looks for a way on a grid coarser than any other: most pieces find theirs there.
    pub fn quickly(&self, budget: &mut Budget) -> Option<Vec<Pose>> {
        search::path(self.piece, self.scene, self.exit, (&self.guide, self.exit.middle, FIRST_LOOK), budget).ok()
    }

    /// On a grid through the middle of the way out, then on one through the piece's place: gaps are often whole inches from
    /// the one or the other.
    fn paths(&self, guide: &grid::Guide, level: (f64, usize), budget: &mut Budget) -> Result<Vec<Pose>, Pose> {
        let half = budget.poses / 2;
        let mut first = Budget { poses: half, cells: 0 };
        let look =
            |datum: Point, budget: &mut Budget| search::path(self.piece, self.scene, self.exit, (guide, datum, level), budget);
        let found = look(self.exit.middle, &mut first);
        budget.poses -= half - first.poses;
        found.or_else(|_| look(self.piece.middle, budget))
    }

    /// Carries the piece from its place past the exit.
    pub fn carry(&self, budget: &mut Budget) -> Carried {
        let start = self.piece.pose();
        let mut held = Held { at: start, by: self.scene.holding(self.piece, &start) };
        if budget.poses == 0 {
            return Carried::Undecided(held);
        }
        if let Some(path) = corner::path(self.piece, self.scene, self.exit) {
            return Carried::Out(path);
        }
        if corner::closed(self.piece, self.scene, self.exit) {
            return Carried::Blocked(held);
        }
        // A finer guide than that of a first look, for what is hard.
        let guide = grid::Guide::new(self.piece, self.scene, self.exit, LEVELS[0].0);
        let share = ([budget.poses / 5, budget.poses / 2], budget.cells / 4);
        for (level, &grid) in LEVELS.iter().enumerate() {
            let last = level + 1 == LEVELS.len();
            let allowed = share.0.get(level).map_or(budget.poses, |&share| share.min(budget.poses));
            let mut poses = Budget { poses: allowed, cells: 0 };
            let found = self.paths(&guide, grid, &mut poses);
            budget.poses -= allowed - poses.poses;
            match found {
                Ok(path) => return Carried::Out(path),
                Err(at) => held = Held { by: self.scene.holding(self.piece, &at), at },
            }
            let allowed = if last { budget.cells } else { share.1.min(budget.cells) };
            let mut cells = Budget { poses: 0, cells: allowed };
            let closed = flood::closed(self.piece, self.scene, self.exit, grid, &mut cells);
            budget.cells -= allowed - cells.cells;
            if closed {
                return Carried::Blocked(held);
            }
        }
        Carried::Undecided(held)
    }
}

/// The grid of a first look.
const FIRST_LOOK: (f64, usize) = (4.0 * 0.0254, 12);

/// Carries a piece from its place past the exit.
pub fn carry(piece: &Piece, scene: &Scene, exit: &Exit, budget: &mut Budget) -> Carried {
    Carrying::new(piece, scene, exit).carry(budget)
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
