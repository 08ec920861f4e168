//! How far a vent that ends in a wall stays from openings.

use crate::units;
use redtag_schema::quantity::{at_least, at_most};
use uom::si::f64::{Length, Power};

/// The distances of a direct-vent terminal from openings, by input.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DirectVentLimits {
    /// To 10,000 Btu/h.
    pub to_10k: Length,
    /// To 50,000 Btu/h.
    pub to_50k: Length,
    /// To 150,000 Btu/h.
    pub to_150k: Length,
}

impl Default for DirectVentLimits {
    fn default() -> Self {
        Self { to_10k: units::inches(6.0), to_50k: units::inches(9.0), to_150k: units::inches(12.0) }
    }
}

/// The distance of a direct-vent terminal from openings; nothing above 150,000 Btu/h, where the instructions decide.
/// Source: IFGC table 503.8, as water heater manuals print it (9 in and 12 in: a maker's, page 12; 6 in and the end of the table
/// from memory).
pub fn direct_vent(input: Power, limits: &DirectVentLimits) -> Option<Length> {
    let steps = [(10_000.0, limits.to_10k), (50_000.0, limits.to_50k), (150_000.0, limits.to_150k)];
    steps.iter().find(|(most, _)| at_most(input, units::btu_per_hour(*most))).map(|&(_, distance)| distance)
}

/// The distances of a mechanical-draft terminal from openings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MechanicalLimits {
    /// Below an opening.
    pub below: Length,
    /// Beside an opening.
    pub beside: Length,
    /// Above an opening.
    pub above: Length,
}

impl Default for MechanicalLimits {
    fn default() -> Self {
        Self { below: units::feet(4.0), beside: units::feet(4.0), above: units::feet(1.0) }
    }
}

/// Where a terminal is from an opening.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Offset {
    /// Shortest distance.
    pub distance: Option<Length>,
    /// Distance sideways.
    pub horizontal: Option<Length>,
    /// Height of the terminal above its upper edge, below zero where it is beneath its lower edge, zero beside it.
    pub vertical: Option<Length>,
}

impl Offset {
    /// The shortest distance, as stated or from its two parts; one part alone is no more than a lower bound and does not count.
    pub fn shortest(&self) -> Option<Length> {
        let parts = || Some((self.horizontal? * self.horizontal? + self.vertical? * self.vertical?).sqrt());
        self.distance.or_else(parts)
    }

    /// Whether it is at least this far in a straight line; nothing where not told enough.
    pub fn is_clear(&self, distance: Length) -> Option<bool> {
        if let Some(shortest) = self.shortest() {
            return Some(at_least(shortest, distance));
        }
        let apart = |part: Option<Length>| part.is_some_and(|part| at_least(part.abs(), distance));
        (apart(self.horizontal) || apart(self.vertical)).then_some(true)
    }
}

/// Whether a terminal keeps one of three distances: `below`, `beside` or `above`; nothing where not told enough.
/// Source: IFGC 503.8 (2018 IRC page 593; a boiler maker's manual).
pub fn mechanical(offset: &Offset, limits: &MechanicalLimits) -> Option<bool> {
    let beside = offset.horizontal.map(|part| at_least(part, limits.beside));
    let apart = offset.vertical.map(|part| at_least(part, limits.above) || at_least(-part, limits.below));
    match (beside, apart) {
        (Some(true), _) | (_, Some(true)) => Some(true),
        (Some(false), Some(false)) => Some(false),
        _ => offset.distance.and_then(|distance| by_distance(distance, limits)),
    }
}

/// A straight distance alone decides only at the ends: nearer than every limit, or farther than any two together.
fn by_distance(distance: Length, limits: &MechanicalLimits) -> Option<bool> {
    let nearest = limits.below.min(limits.beside).min(limits.above);
    let farthest = (limits.beside * limits.beside + limits.below.max(limits.above) * limits.below.max(limits.above)).sqrt();
    if at_least(distance, farthest) {
        return Some(true);
    }
    (!at_least(distance, nearest)).then_some(false)
}

/// Whether a terminal is high enough above a forced-air inlet, or far enough beside it; nothing where not told enough.
/// Source: IFGC 503.8 (two makers' manuals).
pub fn forced_air_inlet(offset: &Offset, above: Length, within: Length) -> Option<bool> {
    let beside = offset.horizontal.map(|part| at_least(part, within));
    let high = offset.vertical.map(|part| at_least(part, above));
    match (beside, high) {
        (Some(true), _) | (_, Some(true)) => Some(true),
        (Some(false), Some(false)) => Some(false),
        // The straight distance is no less than the distance sideways.
        _ => offset.distance.filter(|&distance| !at_least(distance, above)).map(|_| false),
    }
}
