//! Where water stays on a floor, how much of it, and where it runs over.

use super::flood::{self, Fill};
use super::plan::plan_area;
use super::surface::Surface;

/// Where water leaves a floor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outlet {
    /// A drain, by its place in the list.
    Drain(usize),
    /// A door, by its place in the list.
    Door(usize),
}

/// Water that stays in a hollow.
#[derive(Clone, Debug, PartialEq)]
pub struct Pond {
    /// Its level; water above it runs over.
    pub level: f64,
    /// Its greatest depth, in metres.
    pub depth: f64,
    /// Where it is deepest: x, y, level of the floor.
    pub deepest: [f64; 3],
    /// Its area in plan, in square metres.
    pub area: f64,
    /// Its volume, in cubic metres.
    pub volume: f64,
    /// Where it runs over.
    pub spill: [f64; 3],
    /// Where it runs to from there.
    pub outlet: Outlet,
    /// Least and greatest corner in plan.
    pub bounds: [[f64; 2]; 2],
}

/// Where the water of a floor goes.
#[derive(Clone, Debug, PartialEq)]
pub struct Runoff {
    /// Hollows that hold water, the deepest first.
    pub ponds: Vec<Pond>,
    /// The flood they come from.
    pub fill: Fill,
    /// The outlets, in the order of the fill's seeds.
    pub outlets: Vec<Outlet>,
}

impl Surface {
    /// Floods the floor from its drains and the doors whose thresholds are known; `None` where there is neither.
    pub fn runoff(&self) -> Option<Runoff> {
        let mut seeds = Vec::new();
        let mut outlets = Vec::new();
        for (index, node) in self.drains.iter().enumerate() {
            if let Some(node) = *node {
                seeds.push((node, self.nodes[node][2]));
                outlets.push(Outlet::Drain(index));
            }
        }
        for (index, (node, threshold)) in self.doors.iter().zip(&self.thresholds).enumerate() {
            if let (Some(node), Some(threshold)) = (*node, *threshold) {
                seeds.push((node, threshold));
                outlets.push(Outlet::Door(index));
            }
        }
        if seeds.is_empty() {
            return None;
        }
        let fill = self.flood(&seeds);
        let ponds = self.ponds(&fill, &outlets);
        Some(Runoff { ponds, fill, outlets })
    }

    /// The level at which water over a node runs out of a door with every drain blocked, and that door; the lowest.
    pub fn lowest_threshold(&self, from: usize) -> Option<(f64, usize)> {
        let fill = self.flood(&[(from, f64::NEG_INFINITY)]);
        let doors = self.doors.iter().zip(&self.thresholds).enumerate().filter_map(|(index, (node, threshold))| {
            let level = fill.levels.get((*node)?).copied()?.max((*threshold)?);
            level.is_finite().then_some((level, index))
        });
        doors.min_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// Floods the floor from any nodes.
    pub fn flood(&self, seeds: &[(usize, f64)]) -> Fill {
        let ground: Vec<f64> = self.nodes.iter().map(|node| node[2]).collect();
        flood::fill(&ground, seeds, |node| self.neighbours[node].iter().copied())
    }

    fn ponds(&self, fill: &Fill, outlets: &[Outlet]) -> Vec<Pond> {
        let wet = |node: usize| fill.levels[node].is_finite() && fill.levels[node] > self.nodes[node][2];
        let mut pond_of: Vec<Option<usize>> = vec![None; self.nodes.len()];
        let mut ponds = Vec::new();
        for start in 0..self.nodes.len() {
            if pond_of[start].is_some() || !wet(start) {
                continue;
            }
            let mut members = vec![start];
            pond_of[start] = Some(ponds.len());
            let mut next = 0;
            while let Some(&node) = members.get(next) {
                next += 1;
                for &other in &self.neighbours[node] {
                    if pond_of[other].is_none() && wet(other) {
                        pond_of[other] = Some(ponds.len());
                        members.push(other);
                    }
                }
            }
            ponds.push(self.pond(fill, outlets, &members));
        }
        for face in &self.faces {
            if let Some(index) = face.iter().find_map(|node| pond_of[*node]) {
                let corners = self.corners(face);
                let pond: &mut Pond = &mut ponds[index];
                let (area, volume) = wetted(&corners, pond.level);
                pond.area += area;
                pond.volume += volume;
                stretch(&mut pond.bounds, &corners, pond.level);
            }
        }
        let sorted = |a: &Pond, b: &Pond| {
            b.depth.total_cmp(&a.depth).then_with(|| a.deepest.partial_cmp(&b.deepest).unwrap_or(std::cmp::Ordering::Equal))
        };
        ponds.sort_by(sorted);
        ponds
    }

    fn pond(&self, fill: &Fill, outlets: &[Outlet], members: &[usize]) -> Pond {
        let first = members[0];
        let deepest = members.iter().copied().min_by(|a, b| self.nodes[*a][2].total_cmp(&self.nodes[*b][2])).unwrap_or(first);
        // Water came in from the one place outside the pond: there it runs over.
        let entry = members.iter().filter_map(|node| fill.through[*node]).find(|through| !members.contains(through));
        let level = fill.levels[first];
        Pond {
            level,
            depth: level - self.nodes[deepest][2],
            deepest: self.nodes[deepest],
            area: 0.0,
            volume: 0.0,
            spill: self.nodes[entry.unwrap_or(deepest)],
            outlet: fill.outlet[first].and_then(|seed| outlets.get(seed).copied()).unwrap_or(Outlet::Drain(0)),
            bounds: [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]],
        }
    }
}

/// Area and volume of water at a level over a triangle.
pub(super) fn wetted(corners: &[[f64; 3]; 3], level: f64) -> (f64, f64) {
    let whole = plan_area(corners);
    let mut depths = corners.map(|corner| level - corner[2]);
    depths.sort_by(|a, b| b.total_cmp(a));
    let [d1, d2, d3] = depths;
    if d1 <= 0.0 {
        return (0.0, 0.0);
    }
    if d3 >= 0.0 {
        return (whole, whole * (d1 + d2 + d3) / 3.0);
    }
    if d2 <= 0.0 {
        let share = d1 * d1 / ((d1 - d2) * (d1 - d3));
        return (whole * share, whole * share * d1 / 3.0);
    }
    // All of it less the dry corner.
    let dry = d3 * d3 / ((d1 - d3) * (d2 - d3));
    (whole * (1.0 - dry), (whole * (d1 + d2 + d3) / 3.0 - whole * dry * d3 / 3.0).max(0.0))
}

/// Widens bounds by the wet part of a triangle.
fn stretch(bounds: &mut [[f64; 2]; 2], corners: &[[f64; 3]; 3], level: f64) {
    let mut take = |at: [f64; 2]| {
        for axis in 0..2 {
            bounds[0][axis] = bounds[0][axis].min(at[axis]);
            bounds[1][axis] = bounds[1][axis].max(at[axis]);
        }
    };
    for (index, a) in corners.iter().enumerate() {
        let b = corners[(index + 1) % 3];
        if a[2] < level {
            take([a[0], a[1]]);
        }
        if (a[2] < level) != (b[2] < level) {
            let share = (level - a[2]) / (b[2] - a[2]);
            take([a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share]);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // A unit triangle (area 1) with depths 1, -1, -1 and 1, 1, -1: 1/12 and 5/12 (checked by Monte Carlo).
    #[test]
    fn a_partly_wet_triangle_holds_what_integration_gives() {
        let over = |levels: [f64; 3]| [[0.0, 0.0, levels[0]], [2.0, 0.0, levels[1]], [0.0, 1.0, levels[2]]];
        let (area, volume) = wetted(&over([-1.0, 1.0, 1.0]), 0.0);
        assert!((area - 0.25).abs() < 1e-12 && (volume - 1.0 / 12.0).abs() < 1e-12);
        let (area, volume) = wetted(&over([-1.0, -1.0, 1.0]), 0.0);
        assert!((area - 0.75).abs() < 1e-12 && (volume - 5.0 / 12.0).abs() < 1e-12);
        assert_eq!(wetted(&over([0.0, 1.0, 1.0]), 0.0), (0.0, 0.0));
    }
}
