//! Two permanent openings to outdoors.

use super::opening::{Assessed, End, Opening, OpeningLimits, Pair, Shortcoming, best_pair, shortcomings};
use crate::units::{self, InputPerArea};
use redtag_schema::quantity::at_least;
use uom::si::f64::{Area, Power, Ratio};

/// How an opening reaches outdoors.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Path {
    /// Through the wall, or straight into a space that communicates freely with outdoors.
    Direct,
    /// Through a vertical duct, up to an attic or down to a crawl space included.
    Vertical,
    /// Through a horizontal duct.
    Horizontal,
}

/// What the cross-section of a duct is held against.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum DuctMatch {
    /// The free area of the opening it serves, as the code's words say.
    FreeAreaOfOpening,
    /// The free area asked of the opening: a larger grille on a duct of the right size passes.
    AreaRequired,
}

/// What two outdoor openings must offer. Source of the model-code values:
/// [`sources::TWO_OPENINGS`](super::sources::TWO_OPENINGS). One city asks 1 in2 per 1000 Btu/h instead.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TwoOpenings {
    /// Direct: 1 in2 per 4000 Btu/h each.
    pub direct: InputPerArea,
    /// Vertical duct: 1 in2 per 4000 Btu/h each.
    pub vertical: InputPerArea,
    /// Horizontal duct: 1 in2 per 2000 Btu/h each.
    pub horizontal: InputPerArea,
    /// Position and least dimension.
    pub opening: OpeningLimits,
    /// What a duct's cross-section is held against.
    pub duct_match: DuctMatch,
}

impl Default for TwoOpenings {
    fn default() -> Self {
        Self {
            direct: units::one_square_inch_per(4000.0),
            vertical: units::one_square_inch_per(4000.0),
            horizontal: units::one_square_inch_per(2000.0),
            opening: OpeningLimits::default(),
            duct_match: DuctMatch::FreeAreaOfOpening,
        }
    }
}

/// Free area asked of an opening by its own path; each of the two carries its full figure, also where the paths differ.
/// Source: [`sources::TWO_OPENINGS`](super::sources::TWO_OPENINGS); for mixed paths, from memory.
pub fn outdoor_opening_area(total_input: Power, path: Path, method: &TwoOpenings) -> Area {
    total_input
        / match path {
            Path::Direct => method.direct,
            Path::Vertical => method.vertical,
            Path::Horizontal => method.horizontal,
        }
}

/// The duct an opening is served by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ServingDuct {
    /// Any number that tells one duct from another.
    pub identity: usize,
    /// Its cross-section.
    pub area: Area,
}

/// An opening to outdoors.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutdoorOpening {
    /// The opening.
    pub opening: Opening,
    /// Its way outdoors.
    pub path: Path,
    /// The duct, where there is one.
    pub duct: Option<ServingDuct>,
}

/// The upper and lower opening that come closest to the method; the method is met when the pair complies. `share` is the
/// part of the full size asked for: one, or the reduction factor of the combination method. `None` with fewer than two.
/// Source: [`sources::TWO_OPENINGS`](super::sources::TWO_OPENINGS).
pub fn two_openings(openings: &[OutdoorOpening], total_input: Power, share: Ratio, method: &TwoOpenings) -> Option<Pair> {
    let assess = |index: usize, end: End| {
        let opening = &openings[index];
        let required = outdoor_opening_area(total_input, opening.path, method) * share;
        let mut found = shortcomings(&opening.opening, required, end, &method.opening);
        found.extend(duct_shortcoming(opening, required, method.duct_match));
        Assessed { index, free: opening.opening.free_area, required, shortcomings: found }
    };
    best_pair(
        openings.len(),
        |upper, lower| {
            let mut pair = Pair { upper: assess(upper, End::Top), lower: assess(lower, End::Bottom) };
            let ducts = (openings[upper].duct, openings[lower].duct);
            if let (Some(one), Some(other)) = ducts
                && one.identity == other.identity
            {
                pair.upper.shortcomings.push(Shortcoming::SharedDuct);
                pair.lower.shortcomings.push(Shortcoming::SharedDuct);
            }
            pair
        },
        |_| None,
    )
}

/// Whether the duct is smaller than it must be.
pub(super) fn duct_shortcoming(opening: &OutdoorOpening, required: Area, duct_match: DuctMatch) -> Option<Shortcoming> {
    let area = opening.duct?.area;
    let wanted = match duct_match {
        DuctMatch::FreeAreaOfOpening => opening.opening.free_area,
        DuctMatch::AreaRequired => required,
    };
    (!at_least(area, wanted)).then_some(Shortcoming::DuctTooSmall { area, required: wanted })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::*;

    fn at(end: End, free: f64, path: Path) -> OutdoorOpening {
        let (below_ceiling, above_floor) = match end {
            End::Top => (inches(6.0), inches(84.0)),
            End::Bottom => (inches(84.0), inches(6.0)),
        };
        let opening = Opening { free_area: square_inches(free), least_dimension: inches(5.0), below_ceiling, above_floor };
        OutdoorOpening { opening, path, duct: None }
    }

    fn pair(upper: OutdoorOpening, lower: OutdoorOpening) -> Pair {
        two_openings(&[upper, lower], btu_per_hour(140_000.0), fraction(1.0), &TwoOpenings::default()).unwrap()
    }

    #[test]
    fn horizontal_ducts_are_asked_for_twice_the_area() {
        assert!(!pair(at(End::Top, 35.0, Path::Horizontal), at(End::Bottom, 35.0, Path::Horizontal)).complies());
        assert!(pair(at(End::Top, 70.0, Path::Horizontal), at(End::Bottom, 70.0, Path::Horizontal)).complies());
        assert!(pair(at(End::Top, 35.0, Path::Vertical), at(End::Bottom, 35.0, Path::Vertical)).complies());
    }

    #[test]
    fn mixed_paths_carry_their_own_figures() {
        assert!(pair(at(End::Top, 35.0, Path::Vertical), at(End::Bottom, 70.0, Path::Horizontal)).complies());
        let short = pair(at(End::Top, 35.0, Path::Vertical), at(End::Bottom, 69.0, Path::Horizontal));
        assert!(short.upper.complies() && !short.lower.complies());
    }

    #[test]
    fn one_duct_never_serves_both() {
        let duct = Some(ServingDuct { identity: 7, area: square_inches(70.0) });
        let upper = OutdoorOpening { duct, ..at(End::Top, 70.0, Path::Horizontal) };
        let lower = OutdoorOpening { duct, ..at(End::Bottom, 70.0, Path::Horizontal) };
        let shared = pair(upper, lower);
        assert_eq!(shared.upper.shortcomings, [Shortcoming::SharedDuct]);
        let own = Some(ServingDuct { identity: 8, area: square_inches(70.0) });
        assert!(pair(upper, OutdoorOpening { duct: own, ..lower }).complies());
    }

    #[test]
    fn a_duct_is_held_against_its_opening_or_against_the_need() {
        let duct = |identity| Some(ServingDuct { identity, area: square_inches(36.0) });
        let upper = OutdoorOpening { duct: duct(1), ..at(End::Top, 40.0, Path::Vertical) };
        let lower = OutdoorOpening { duct: duct(2), ..at(End::Bottom, 40.0, Path::Vertical) };
        let small = Shortcoming::DuctTooSmall { area: square_inches(36.0), required: square_inches(40.0) };
        assert_eq!(pair(upper, lower).upper.shortcomings, [small]);
        let lenient = TwoOpenings { duct_match: DuctMatch::AreaRequired, ..Default::default() };
        let pair = two_openings(&[upper, lower], btu_per_hour(140_000.0), fraction(1.0), &lenient);
        assert!(pair.unwrap().complies());
    }

    #[test]
    fn one_opening_is_no_pair() {
        let only = [at(End::Top, 500.0, Path::Direct)];
        assert!(two_openings(&only, btu_per_hour(1000.0), fraction(1.0), &TwoOpenings::default()).is_none());
    }
}
