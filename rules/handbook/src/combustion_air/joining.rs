//! Openings that make two spaces count as one.

use super::opening::{Assessed, End, Opening, OpeningLimits, Pair, best_pair, shortcomings};
use crate::units::{self, InputPerArea};
use redtag_schema::quantity::at_least;
use uom::si::f64::{Area, Power};

/// What openings between spaces must offer. Sources of the model-code values:
/// [`sources::SAME_STORY`](super::sources::SAME_STORY), [`sources::BETWEEN_STORIES`](super::sources::BETWEEN_STORIES).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JoiningLimits {
    /// On one story, each of the two openings: 1 in2 per 1000 Btu/h of all appliances in the space.
    pub same_story: InputPerArea,
    /// On one story, never less than this: 100 in2.
    pub least_area: Area,
    /// Between stories, all openings together: 2 in2 per 1000 Btu/h.
    pub between_stories: InputPerArea,
    /// Position and least dimension on one story.
    pub opening: OpeningLimits,
    /// Whether one opening reaching both ends of the enclosure (a fully louvered door) may be both openings when it has the
    /// area of both.
    pub one_may_be_both: bool,
}

impl Default for JoiningLimits {
    fn default() -> Self {
        Self {
            same_story: units::one_square_inch_per(1000.0),
            least_area: units::square_inches(100.0),
            between_stories: units::one_square_inch_per(500.0),
            opening: OpeningLimits::default(),
            one_may_be_both: true,
        }
    }
}

/// Free area asked of each of the two openings joining spaces of one story. `total_input` is that of all appliances in the
/// joined space. Source: [`sources::SAME_STORY`](super::sources::SAME_STORY).
pub fn same_story_area(total_input: Power, limits: &JoiningLimits) -> Area {
    let by_input: Area = total_input / limits.same_story;
    if at_least(by_input, limits.least_area) { by_input } else { limits.least_area }
}

/// The upper and lower opening between two spaces of one story that come closest to joining them; they join when the pair
/// complies. `None` when there are too few openings to try. Source: [`sources::SAME_STORY`](super::sources::SAME_STORY).
pub fn same_story(openings: &[Opening], total_input: Power, limits: &JoiningLimits) -> Option<Pair> {
    let required = same_story_area(total_input, limits);
    let assess = |index: usize, opening: Opening, end: End| Assessed {
        index,
        free: opening.free_area,
        required,
        shortcomings: shortcomings(&opening, required, end, &limits.opening),
    };
    best_pair(
        openings.len(),
        |upper, lower| Pair {
            upper: assess(upper, openings[upper], End::Top),
            lower: assess(lower, openings[lower], End::Bottom),
        },
        |index| {
            let half = Opening { free_area: openings[index].free_area / 2.0, ..openings[index] };
            limits.one_may_be_both.then(|| Pair { upper: assess(index, half, End::Top), lower: assess(index, half, End::Bottom) })
        },
    )
}

/// Free area asked of all openings together between spaces of different stories. Source:
/// [`sources::BETWEEN_STORIES`](super::sources::BETWEEN_STORIES).
pub fn between_stories_area(total_input: Power, limits: &JoiningLimits) -> Area {
    total_input / limits.between_stories
}

/// Openings in doors or floors between two stories, held against what is asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BetweenStories {
    /// Free area of all of them.
    pub provided: Area,
    /// What is asked.
    pub required: Area,
}

impl BetweenStories {
    /// Whether they join the stories. No opening at all joins nothing, not even for no input.
    pub fn complies(&self) -> bool {
        self.provided > Area::default() && at_least(self.provided, self.required)
    }
}

/// Free areas of the openings between two stories, added up. Source:
/// [`sources::BETWEEN_STORIES`](super::sources::BETWEEN_STORIES).
pub fn between_stories(free_areas: &[Area], total_input: Power, limits: &JoiningLimits) -> BetweenStories {
    let provided = free_areas.iter().fold(Area::default(), |sum, area| sum + *area);
    BetweenStories { provided, required: between_stories_area(total_input, limits) }
}

#[cfg(test)]
mod tests {
    use super::super::Shortcoming;
    use super::*;
    use crate::units::*;

    fn opening(free: f64, below_ceiling: f64, above_floor: f64) -> Opening {
        Opening {
            free_area: square_inches(free),
            least_dimension: inches(6.0),
            below_ceiling: inches(below_ceiling),
            above_floor: inches(above_floor),
        }
    }

    fn joined(openings: &[Opening], input: f64) -> bool {
        same_story(openings, btu_per_hour(input), &JoiningLimits::default()).is_some_and(|pair| pair.complies())
    }

    #[test]
    fn small_inputs_meet_the_floor_of_one_hundred_square_inches() {
        assert!(!joined(&[opening(99.0, 6.0, 80.0), opening(99.0, 80.0, 6.0)], 60_000.0));
        assert!(joined(&[opening(100.0, 6.0, 80.0), opening(100.0, 80.0, 6.0)], 60_000.0));
    }

    #[test]
    fn an_opening_beyond_twelve_inches_does_not_serve_that_end() {
        let low = opening(140.0, 80.0, 13.0);
        let pair = same_story(&[opening(140.0, 12.0, 80.0), low], btu_per_hour(140_000.0), &JoiningLimits::default());
        let pair = pair.unwrap();
        assert!(pair.upper.complies());
        assert_eq!(
            pair.lower.shortcomings,
            [Shortcoming::TooFar { end: End::Bottom, distance: inches(13.0), limit: inches(12.0) }]
        );
    }

    #[test]
    fn the_order_of_the_openings_does_not_matter() {
        let pair = same_story(
            &[opening(140.0, 80.0, 3.0), opening(10.0, 5.0, 5.0), opening(150.0, 3.0, 80.0)],
            btu_per_hour(140_000.0),
            &JoiningLimits::default(),
        )
        .unwrap();
        assert!(pair.complies());
        assert_eq!((pair.upper.index, pair.lower.index), (2, 0));
    }

    #[test]
    fn a_fully_louvered_door_is_both_openings_when_it_has_both_areas() {
        assert!(joined(&[opening(280.0, 10.0, 6.0)], 140_000.0));
        assert!(!joined(&[opening(279.0, 10.0, 6.0)], 140_000.0));
        let strict = JoiningLimits { one_may_be_both: false, ..Default::default() };
        assert!(same_story(&[opening(280.0, 10.0, 6.0)], btu_per_hour(140_000.0), &strict).is_none());
    }

    #[test]
    fn a_slot_is_too_narrow_whatever_its_area() {
        let slot = Opening { least_dimension: inches(2.9), ..opening(500.0, 6.0, 80.0) };
        let three = Opening { least_dimension: inches(3.0), ..slot };
        let low = opening(500.0, 80.0, 6.0);
        assert!(!joined(&[slot, low], 60_000.0));
        assert!(joined(&[three, low], 60_000.0));
    }

    #[test]
    fn stories_are_joined_by_area_alone() {
        let limits = JoiningLimits::default();
        let grille = square_inches(225.0);
        let input = btu_per_hour(140_000.0);
        assert!(!between_stories(&[grille], input, &limits).complies());
        assert!(between_stories(&[grille, grille], input, &limits).complies());
        assert!(between_stories(&[square_inches(280.0)], input, &limits).complies());
        assert!(!between_stories(&[], btu_per_hour(0.0), &limits).complies());
    }
}
