//! Floors that need no protection underneath.

use super::Answer;
use crate::units::{feet, inches};
use redtag_schema::quantity::{at_least, at_most};
use uom::si::f64::{Area, Length};

/// Limits of the exceptions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FloorLimits {
    /// Largest part of a floor left open.
    pub open: Area,
    /// Least width of a member.
    pub width: Length,
    /// Least depth of a member.
    pub depth: Length,
}

impl Default for FloorLimits {
    fn default() -> Self {
        // A member of 2 in by 10 in nominal.
        Self { open: feet(80.0) * feet(1.0), width: inches(1.5), depth: inches(9.25) }
    }
}

/// A floor as far as it is known.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct FloorFacts {
    /// Whether the space below has sprinklers.
    pub sprinklered_below: Option<bool>,
    /// Whether a crawl space without storage and without appliances that burn fuel lies below.
    pub plain_crawl_space: Option<bool>,
    /// Area left open.
    pub open: Option<Area>,
    /// Whether the edge of the open part is fireblocked.
    pub open_blocked: Option<bool>,
    /// Whether its members are sawn or composite lumber.
    pub solid_members: Option<bool>,
    /// Width of a member.
    pub width: Option<Length>,
    /// Depth of a member.
    pub depth: Option<Length>,
}

/// An exception.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FloorException {
    /// Sprinklers below.
    Sprinklers,
    /// A crawl space without storage and appliances.
    CrawlSpace,
    /// A small open part, fireblocked around.
    SmallPart,
    /// Members large enough.
    LargeMembers,
}

/// Each exception with its answer.
pub fn floor_exception(facts: &FloorFacts, limits: &FloorLimits) -> [(FloorException, Answer<FloorException>); 4] {
    use FloorException as E;
    let of = |truth: Option<bool>, exception: E| Answer::of(truth, exception);
    let most = |width: Option<Length>, least: Length| width.map(|width| at_least(width, least));
    let members = Answer::all([
        of(facts.solid_members, E::LargeMembers),
        of(most(facts.width, limits.width), E::LargeMembers),
        of(most(facts.depth, limits.depth), E::LargeMembers),
    ]);
    // An open part nobody speaks of is no open part.
    let small = match facts.open {
        None => Answer::No,
        Some(open) => Answer::all([Answer::known(at_most(open, limits.open)), of(facts.open_blocked, E::SmallPart)]),
    };
    [
        (E::Sprinklers, of(facts.sprinklered_below, E::Sprinklers)),
        (E::CrawlSpace, of(facts.plain_crawl_space, E::CrawlSpace)),
        (E::SmallPart, small),
        (E::LargeMembers, members),
    ]
}
