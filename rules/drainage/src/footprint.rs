//! Where bodies stand on the floor.

use redtag_rule::prelude::*;

/// A body seen from above: a rectangle turned to its facing, or a circle.
#[derive(Clone, Copy, Debug)]
pub struct Print {
    middle: [f64; 2],
    half: [f64; 2],
    turn: [f64; 2],
    round: bool,
}

impl Print {
    /// That of a piece of equipment; `None` where its place or size is not said.
    pub fn of(equipment: &Equipment) -> Option<Self> {
        let placement = equipment.placement.as_ref()?;
        let middle = [placement.x.as_ref()?.si(), placement.y.as_ref()?.si()];
        let width = placement.width.as_ref()?.si() / 2.0;
        let round = placement.footprint == Some(Footprint::Circle);
        let depth = if round { width } else { placement.depth.as_ref()?.si() / 2.0 };
        let turn = match (placement.facing, &placement.bearing) {
            (Some(Compass::North | Compass::South), _) | (None, None) => [0.0, 1.0],
            (Some(Compass::East | Compass::West), _) => [1.0, 0.0],
            (Some(Compass::Northeast | Compass::Southwest), _) => [std::f64::consts::FRAC_1_SQRT_2; 2],
            (Some(_), _) => [-std::f64::consts::FRAC_1_SQRT_2, std::f64::consts::FRAC_1_SQRT_2],
            (None, Some(bearing)) => {
                let (sin, cos) = (libm::sin(bearing.si()), libm::cos(bearing.si()));
                [sin, cos]
            }
        };
        Some(Self { middle, half: [width, depth], turn, round })
    }

    /// Its middle.
    pub fn middle(&self) -> [f64; 2] {
        self.middle
    }

    /// Distance of a place from it; none inside.
    pub fn distance(&self, at: [f64; 2]) -> f64 {
        let off = [at[0] - self.middle[0], at[1] - self.middle[1]];
        if self.round {
            return ((off[0] * off[0] + off[1] * off[1]).sqrt() - self.half[0]).max(0.0);
        }
        let ahead = off[0] * self.turn[0] + off[1] * self.turn[1];
        let aside = off[0] * self.turn[1] - off[1] * self.turn[0];
        let (over, beside) = ((ahead.abs() - self.half[1]).max(0.0), (aside.abs() - self.half[0]).max(0.0));
        (over * over + beside * beside).sqrt()
    }

    /// Least and greatest corner.
    pub fn bounds(&self) -> [[f64; 2]; 2] {
        let reach = |axis: usize| {
            if self.round {
                return self.half[0];
            }
            self.half[1] * self.turn[axis].abs() + self.half[0] * self.turn[1 - axis].abs()
        };
        let (x, y) = (reach(0), reach(1));
        [[self.middle[0] - x, self.middle[1] - y], [self.middle[0] + x, self.middle[1] + y]]
    }
}

/// Height of its underside above the floor; on the floor where nothing is said.
pub fn base(equipment: &Equipment) -> f64 {
    equipment.placement.as_ref().and_then(|placement| placement.base.as_ref()).map_or(0.0, |base| base.si())
}
