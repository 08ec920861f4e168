//! Priority flood: how high water must stand everywhere before it finds a way out.
//!
//! Barnes, Lehman and Mulla (2014): from the outlets inwards, always from the lowest water known so far. The same code works
//! the edges of a triangulated surface and the cells of a grid; on a surface of flat triangles the lowest pass between two
//! hollows is always on an edge, so that the answer there is exact.

use std::cmp::{Ordering, Reverse};
use std::collections::BinaryHeap;

/// What a flood finds, by node.
#[derive(Clone, Debug, PartialEq)]
pub struct Fill {
    /// The level water must reach at each node to leave it; infinite where it never can.
    pub levels: Vec<f64>,
    /// The neighbour through which it leaves; `None` at outlets and where it never can.
    pub through: Vec<Option<usize>>,
    /// The outlet it runs to, as its place in the list of seeds.
    pub outlet: Vec<Option<usize>>,
}

#[derive(PartialEq)]
struct Water {
    level: f64,
    node: usize,
}

impl Eq for Water {}

impl PartialOrd for Water {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Water {
    fn cmp(&self, other: &Self) -> Ordering {
        self.level.total_cmp(&other.level).then(self.node.cmp(&other.node))
    }
}

/// Floods `ground` from `seeds`: nodes with the level at which water leaves there, never below the ground itself.
/// `neighbours` names the nodes next to one.
pub fn fill<N: IntoIterator<Item = usize>>(ground: &[f64], seeds: &[(usize, f64)], neighbours: impl Fn(usize) -> N) -> Fill {
    let mut fill =
        Fill { levels: vec![f64::INFINITY; ground.len()], through: vec![None; ground.len()], outlet: vec![None; ground.len()] };
    let mut done = vec![false; ground.len()];
    let mut open = BinaryHeap::new();
    for (index, &(node, level)) in seeds.iter().enumerate() {
        let Some(&height) = ground.get(node) else { continue };
        let level = level.max(height);
        if level < fill.levels[node] {
            (fill.levels[node], fill.outlet[node]) = (level, Some(index));
            open.push(Reverse(Water { level, node }));
        }
    }
    while let Some(Reverse(Water { level, node })) = open.pop() {
        if std::mem::replace(&mut done[node], true) {
            continue;
        }
        for next in neighbours(node) {
            let reached = ground.get(next).map_or(f64::INFINITY, |height| height.max(level));
            if next < ground.len() && !done[next] && reached < fill.levels[next] {
                (fill.levels[next], fill.through[next], fill.outlet[next]) = (reached, Some(node), fill.outlet[node]);
                open.push(Reverse(Water { level: reached, node: next }));
            }
        }
    }
    fill
}

/// Heights in rows and columns. Its border is a wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Grid {
    /// How many columns there are.
    pub columns: usize,
    /// The heights, row by row.
    pub heights: Vec<f64>,
}

impl Grid {
    /// Floods the grid from outlets at their own height, over the four nearest cells or over all eight.
    pub fn fill(&self, outlets: &[usize], eight: bool) -> Fill {
        let seeds: Vec<(usize, f64)> = outlets.iter().map(|&cell| (cell, f64::NEG_INFINITY)).collect();
        fill(&self.heights, &seeds, |cell| self.around(cell, eight))
    }

    fn around(&self, cell: usize, eight: bool) -> Vec<usize> {
        let columns = self.columns.max(1) as isize;
        let rows = self.heights.len() as isize / columns;
        let (row, column) = (cell as isize / columns, cell as isize % columns);
        let mut cells = Vec::with_capacity(8);
        for (down, across) in [(-1, 0), (0, -1), (0, 1), (1, 0), (-1, -1), (-1, 1), (1, -1), (1, 1)] {
            let (r, c) = (row + down, column + across);
            let inside = (0..rows).contains(&r) && (0..columns).contains(&c);
            if inside && (eight || down == 0 || across == 0) {
                cells.push((r * columns + c) as usize);
            }
        }
        cells
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The hand-worked floor of seven by six cells, inches on a 1 ft grid, with one drain in the middle.
    const SURVEY: [f64; 42] = [
        1.50, 1.30, 1.10, 1.00, 1.10, 1.30, 1.50, 1.40, 1.15, 0.90, 0.75, 0.90, 1.10, 1.35, 1.30, 1.00, 0.65, 0.45, 0.65, 0.70,
        1.25, 1.25, 0.95, 0.50, 0.00, 0.50, 0.95, 1.20, 1.30, 0.70, 0.80, 0.45, 0.70, 1.00, 1.25, 1.10, 0.55, 0.90, 0.80, 0.95,
        1.15, 1.40,
    ];

    fn depths(eight: bool) -> Vec<(usize, f64)> {
        let grid = Grid { columns: 7, heights: SURVEY.to_vec() };
        let fill = grid.fill(&[3 * 7 + 3], eight);
        let depth = |(cell, level): (usize, &f64)| (cell, level - grid.heights[cell]);
        fill.levels.iter().enumerate().map(depth).filter(|(_, depth)| *depth > 1e-9).collect()
    }

    #[test]
    fn a_surveyed_grid_holds_what_was_worked_out_by_hand() {
        let eight = depths(true);
        assert_eq!(eight.len(), 1);
        assert!(eight[0].0 == 5 * 7 + 1 && (eight[0].1 - 0.15).abs() < 1e-9);
        let four = depths(false);
        assert_eq!(four.iter().map(|(cell, _)| *cell).collect::<Vec<_>>(), [4 * 7 + 1, 5 * 7 + 1]);
        assert!((four.iter().map(|(_, depth)| depth).sum::<f64>() - 0.35).abs() < 1e-9);
    }

    #[test]
    fn without_an_outlet_nothing_leaves() {
        let grid = Grid { columns: 2, heights: vec![0.0; 4] };
        assert!(grid.fill(&[], true).levels.iter().all(|level| level.is_infinite()));
        assert!(Grid { columns: 0, heights: vec![] }.fill(&[3], true).levels.is_empty());
    }
}
