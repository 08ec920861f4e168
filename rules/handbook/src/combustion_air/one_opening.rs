//! One permanent opening to outdoors.

use super::opening::{Assessed, End, OpeningLimits, shortcomings};
use super::outdoor::{DuctMatch, OutdoorOpening, duct_shortcoming};
use crate::units::{self, InputPerArea};
use redtag_schema::quantity::at_least;
use std::f64::consts::PI;
use uom::si::f64::{Area, Length, Power, Ratio};

/// What one outdoor opening must offer. Source of the model-code values:
/// [`sources::ONE_OPENING`](super::sources::ONE_OPENING).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OneOpening {
    /// 1 in2 per 3000 Btu/h, by whatever path.
    pub per_input: InputPerArea,
    /// Position (the top) and least dimension.
    pub opening: OpeningLimits,
    /// Clearance at the sides of each appliance: 1 in.
    pub side_clearance: Length,
    /// Clearance behind each appliance: 1 in.
    pub back_clearance: Length,
    /// Clearance in front of each appliance: 6 in.
    pub front_clearance: Length,
    /// What a duct's cross-section is held against.
    pub duct_match: DuctMatch,
}

impl Default for OneOpening {
    fn default() -> Self {
        Self {
            per_input: units::one_square_inch_per(3000.0),
            opening: OpeningLimits::default(),
            side_clearance: units::inches(1.0),
            back_clearance: units::inches(1.0),
            front_clearance: units::inches(6.0),
            duct_match: DuctMatch::FreeAreaOfOpening,
        }
    }
}

/// Area of a round vent connector or duct.
pub fn round_area(diameter: Length) -> Area {
    diameter * diameter * (PI / 4.0)
}

/// The two floors under the free area of the opening.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OneOpeningArea {
    /// By total input.
    pub by_input: Area,
    /// By the areas of all vent connectors in the space, added up.
    pub by_connectors: Area,
}

impl OneOpeningArea {
    /// The larger of the two.
    pub fn required(&self) -> Area {
        if self.by_connectors > self.by_input { self.by_connectors } else { self.by_input }
    }

    /// The area asked for under the combination method. Literally the reduction applies to the full size; a careful pack
    /// keeps the floor by the connectors whole.
    pub fn reduced(&self, reduction: Ratio, keep_connector_floor: bool) -> Self {
        let by_connectors = if keep_connector_floor { self.by_connectors } else { self.by_connectors * reduction };
        Self { by_input: self.by_input * reduction, by_connectors }
    }
}

/// Free area asked of one outdoor opening. `connectors` is the sum of the areas of all vent connectors in the space; see
/// [`round_area`]. Source: [`sources::ONE_OPENING`](super::sources::ONE_OPENING).
pub fn one_opening_area(total_input: Power, connectors: Area, method: &OneOpening) -> OneOpeningArea {
    OneOpeningArea { by_input: total_input / method.per_input, by_connectors: connectors }
}

/// The opening that comes closest to having `required` free area at the top of the enclosure; `None` when there is none.
/// Source: [`sources::ONE_OPENING`](super::sources::ONE_OPENING).
pub fn one_opening(openings: &[OutdoorOpening], required: Area, method: &OneOpening) -> Option<Assessed> {
    let assess = |(index, opening): (usize, &OutdoorOpening)| {
        let mut found = shortcomings(&opening.opening, required, End::Top, &method.opening);
        found.extend(duct_shortcoming(opening, required, method.duct_match));
        Assessed { index, free: opening.opening.free_area, required, shortcomings: found }
    };
    openings.iter().enumerate().map(assess).reduce(|best, next| if best.badness() <= next.badness() { best } else { next })
}

/// Room around an appliance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ApplianceClearances {
    /// The smaller of the two sides.
    pub sides: Length,
    /// Behind.
    pub back: Length,
    /// In front.
    pub front: Length,
}

/// A side of an appliance.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Side {
    /// Either side.
    Sides,
    /// Behind.
    Back,
    /// In front.
    Front,
}

/// A clearance that bars the method.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClearanceShortfall {
    /// Which one.
    pub side: Side,
    /// What there is.
    pub clear: Length,
    /// What is asked.
    pub required: Length,
}

/// Clearances too small for the one-opening method; empty when it may be used. The listing may ask for more. Source:
/// [`sources::ONE_OPENING`](super::sources::ONE_OPENING).
pub fn clearance_shortfalls(clearances: &ApplianceClearances, method: &OneOpening) -> Vec<ClearanceShortfall> {
    [
        (Side::Sides, clearances.sides, method.side_clearance),
        (Side::Back, clearances.back, method.back_clearance),
        (Side::Front, clearances.front, method.front_clearance),
    ]
    .into_iter()
    .filter(|(_, clear, required)| !at_least(*clear, *required))
    .map(|(side, clear, required)| ClearanceShortfall { side, clear, required })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::super::{Opening, Path, Shortcoming};
    use super::*;
    use crate::units::*;

    fn connectors(diameters: &[f64]) -> Area {
        diameters.iter().fold(Area::default(), |sum, diameter| sum + round_area(inches(*diameter)))
    }

    fn required(input: f64, diameters: &[f64]) -> f64 {
        let area = one_opening_area(btu_per_hour(input), connectors(diameters), &OneOpening::default());
        in_square_inches(area.required())
    }

    #[test]
    fn the_larger_floor_governs() {
        assert!((required(140_000.0, &[3.0, 4.0]) - 46.666_67).abs() < 1e-4);
        assert!((required(140_000.0, &[8.0]) - 50.265_48).abs() < 1e-4);
    }

    #[test]
    fn a_careful_pack_keeps_the_floor_by_the_connectors() {
        let full = one_opening_area(btu_per_hour(140_000.0), connectors(&[8.0]), &OneOpening::default());
        let half = fraction(0.5);
        assert!((in_square_inches(full.reduced(half, false).required()) - 25.132_74).abs() < 1e-4);
        assert!((in_square_inches(full.reduced(half, true).required()) - 50.265_48).abs() < 1e-4);
    }

    #[test]
    fn the_best_opening_is_held_against_the_top() {
        let opening = |free, below| OutdoorOpening {
            opening: Opening {
                free_area: square_inches(free),
                least_dimension: inches(4.0),
                below_ceiling: inches(below),
                above_floor: inches(60.0),
            },
            path: Path::Direct,
            duct: None,
        };
        let best = one_opening(&[opening(60.0, 20.0), opening(46.6, 12.0)], square_inches(46.6), &OneOpening::default());
        let best = best.unwrap();
        assert!(best.complies());
        assert_eq!(best.index, 1);
        let low = one_opening(&[opening(60.0, 12.5)], square_inches(46.6), &OneOpening::default()).unwrap();
        assert!(matches!(low.shortcomings[..], [Shortcoming::TooFar { end: End::Top, .. }]));
        assert_eq!(one_opening(&[], square_inches(1.0), &OneOpening::default()), None);
    }

    #[test]
    fn five_inches_in_front_bar_the_method() {
        let clearances = ApplianceClearances { sides: inches(1.0), back: inches(1.0), front: inches(5.0) };
        let found = clearance_shortfalls(&clearances, &OneOpening::default());
        assert_eq!(found, [ClearanceShortfall { side: Side::Front, clear: inches(5.0), required: inches(6.0) }]);
    }
}
