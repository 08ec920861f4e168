//! How much water stands over a drain at a level.

use super::plan::plan_area;
use super::pond::wetted;
use super::surface::Surface;

/// Volume and area under water at a level.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Held {
    /// Level above the drain's rim, in metres.
    pub depth: f64,
    /// Cubic metres.
    pub volume: f64,
    /// Square metres.
    pub area: f64,
}

/// What the floor around a drain holds, by the depth over its rim.
#[derive(Clone, Debug, PartialEq)]
pub struct Basin {
    rows: Vec<Held>,
}

/// How many levels a basin is read at, at the least.
const ROWS: usize = 160;

impl Basin {
    /// A basin with upright sides.
    pub fn upright(area: f64) -> Self {
        Self { rows: vec![Held { area, ..Held::default() }, Held { depth: 1.0, volume: area, area }] }
    }

    /// The floor of a surface around one of its nodes: what is connected with it at each level. Above the highest corner the
    /// walls hold the water.
    pub fn around(surface: &Surface, node: usize) -> Self {
        let rim = surface.nodes[node][2];
        let reach = surface.flood(&[(node, f64::NEG_INFINITY)]).levels;
        let mut levels: Vec<f64> = reach.iter().copied().filter(|level| level.is_finite()).collect();
        let top = levels.iter().copied().fold(rim, f64::max);
        levels.extend((0..=ROWS).map(|step| {
            // Closer together near the rim, where inlets work.
            let share = step as f64 / ROWS as f64;
            rim + (top - rim) * share * share
        }));
        // A hair above the highest corner everything is wet, however level the floor is there.
        levels.extend([top + 1e-6, top + 1.0]);
        levels.sort_by(f64::total_cmp);
        levels.dedup_by(|a, b| (*a - *b).abs() < 1e-7);
        let rows = levels.into_iter().map(|level| Self::held(surface, &reach, rim, level)).collect();
        Self { rows }
    }

    fn held(surface: &Surface, reach: &[f64], rim: f64, level: f64) -> Held {
        let mut held = Held { depth: level - rim, ..Held::default() };
        for face in surface.faces.iter().filter(|face| face.iter().any(|node| reach[*node] <= level)) {
            let corners = surface.corners(face);
            let (area, volume) = if corners.iter().all(|corner| corner[2] <= level) {
                let mean = corners.iter().map(|corner| corner[2]).sum::<f64>() / 3.0;
                (plan_area(&corners), plan_area(&corners) * (level - mean))
            } else {
                wetted(&corners, level)
            };
            held.area += area;
            held.volume += volume;
        }
        held
    }

    /// What it holds at a depth.
    pub fn at_depth(&self, depth: f64) -> Held {
        self.between(|row| row.depth, depth)
    }

    /// How deep it stands with a volume in it.
    pub fn at_volume(&self, volume: f64) -> Held {
        self.between(|row| row.volume, volume)
    }

    fn between(&self, key: impl Fn(&Held) -> f64, value: f64) -> Held {
        let after = self.rows.partition_point(|row| key(row) <= value).min(self.rows.len().saturating_sub(1));
        let (Some(low), Some(high)) = (self.rows.get(after.saturating_sub(1)), self.rows.get(after)) else {
            return Held::default();
        };
        let width = key(high) - key(low);
        let share = if width > 0.0 { ((value - key(low)) / width).max(0.0) } else { 0.0 };
        let mix = |a: f64, b: f64| a + (b - a) * share;
        Held { depth: mix(low.depth, high.depth), volume: mix(low.volume, high.volume), area: mix(low.area, high.area) }
    }
}
