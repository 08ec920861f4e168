//! One opening held against what is asked of it, and the choice of an upper and a lower one among several.

use crate::units;
use redtag_schema::quantity::{at_least, at_most};
use uom::si::f64::{Area, Length};

/// An opening through which air moves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Opening {
    /// Area left free by louver, grille or screen.
    pub free_area: Area,
    /// The smaller of its width and height, or the diameter.
    pub least_dimension: Length,
    /// From the top of the enclosure down to where the opening commences.
    pub below_ceiling: Length,
    /// From the bottom of the enclosure up to where the opening commences.
    pub above_floor: Length,
}

/// The end of the enclosure an opening serves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum End {
    /// The top.
    Top,
    /// The bottom.
    Bottom,
}

/// Where an opening must be and how narrow it may get.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OpeningLimits {
    /// It commences no farther than this from its end of the enclosure: 12 in. Some older appliance manuals say 6 in.
    pub from_end: Length,
    /// No dimension is smaller than this: 3 in.
    pub least_dimension: Length,
}

impl Default for OpeningLimits {
    fn default() -> Self {
        Self { from_end: units::inches(12.0), least_dimension: units::inches(3.0) }
    }
}

/// What an opening falls short of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shortcoming {
    /// Its free area is too small.
    TooSmall {
        /// The free area.
        free: Area,
        /// What is asked.
        required: Area,
    },
    /// One dimension is too small.
    TooNarrow {
        /// The smaller dimension.
        least: Length,
        /// What is asked.
        required: Length,
    },
    /// It commences too far from its end of the enclosure.
    TooFar {
        /// The end it would serve.
        end: End,
        /// How far it is.
        distance: Length,
        /// How far it may be.
        limit: Length,
    },
    /// The duct serving it is smaller than it must be.
    DuctTooSmall {
        /// Cross-section of the duct.
        area: Area,
        /// What is asked.
        required: Area,
    },
    /// One duct serves the upper and the lower opening.
    SharedDuct,
}

/// What `opening` falls short of when it must have `required` free area at `end` of the enclosure; empty when it serves.
pub(super) fn shortcomings(opening: &Opening, required: Area, end: End, limits: &OpeningLimits) -> Vec<Shortcoming> {
    let mut found = Vec::new();
    if !at_least(opening.free_area, required) {
        found.push(Shortcoming::TooSmall { free: opening.free_area, required });
    }
    if !at_least(opening.least_dimension, limits.least_dimension) {
        found.push(Shortcoming::TooNarrow { least: opening.least_dimension, required: limits.least_dimension });
    }
    let distance = match end {
        End::Top => opening.below_ceiling,
        End::Bottom => opening.above_floor,
    };
    if !at_most(distance, limits.from_end) {
        found.push(Shortcoming::TooFar { end, distance, limit: limits.from_end });
    }
    found
}

/// An opening chosen for a task, and how it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Assessed {
    /// Its place in the list given.
    pub index: usize,
    /// The free area that counts for this task: all of it, or half where one opening serves both ends.
    pub free: Area,
    /// The free area asked of it.
    pub required: Area,
    /// What it falls short of; empty when it serves.
    pub shortcomings: Vec<Shortcoming>,
}

impl Assessed {
    /// Whether it serves.
    pub fn complies(&self) -> bool {
        self.shortcomings.is_empty()
    }

    /// How bad it is: the number of shortcomings, then the share of area that is missing.
    pub(super) fn badness(&self) -> (usize, f64) {
        let missing = (self.required - self.free) / self.required;
        let missing = units::in_fraction(missing);
        (self.shortcomings.len(), if missing > 0.0 { missing } else { 0.0 })
    }
}

/// The upper and the lower opening that come closest.
#[derive(Clone, Debug, PartialEq)]
pub struct Pair {
    /// At the top of the enclosure.
    pub upper: Assessed,
    /// At the bottom.
    pub lower: Assessed,
}

impl Pair {
    /// Whether both serve.
    pub fn complies(&self) -> bool {
        self.upper.complies() && self.lower.complies()
    }

    fn badness(&self) -> (usize, f64) {
        let (upper, lower) = (self.upper.badness(), self.lower.badness());
        (upper.0 + lower.0, upper.1 + lower.1)
    }

    /// The better of two candidates; the earlier one when they are equal, so that the choice is repeatable.
    fn better(best: Option<Self>, candidate: Self) -> Option<Self> {
        match best {
            Some(best) if best.badness() <= candidate.badness() => Some(best),
            _ => Some(candidate),
        }
    }
}

/// Tries every upper with every other lower opening, and every opening with itself where `both` answers for it.
pub(super) fn best_pair(
    count: usize,
    assess: impl Fn(usize, usize) -> Pair,
    both: impl Fn(usize) -> Option<Pair>,
) -> Option<Pair> {
    let mut best = None;
    for upper in 0..count {
        for lower in 0..count {
            let candidate = if upper == lower { both(upper) } else { Some(assess(upper, lower)) };
            if let Some(candidate) = candidate {
                best = Pair::better(best, candidate);
            }
        }
    }
    best
}
