//! The older way to size a vent of draft-hood appliances, by areas, and the limit of seven times the outlet that the tables keep
//! as well.

use redtag_schema::quantity::{at_least, at_most};
use std::f64::consts::PI;
use uom::si::f64::{Area, Length};

/// The flow area of a round pipe.
pub fn round(diameter: Length) -> Area {
    diameter * diameter * (PI / 4.0)
}

/// The diameter of a round pipe with this area.
pub fn diameter(area: Area) -> Length {
    (area * (4.0 / PI)).sqrt()
}

/// The least area by this way: that of the largest outlet and half of the others. Source: IFGC 503.6.10.1 from memory, as a
/// gas utility's guide prints it (a gas utility's guide).
pub fn least(outlets: &[Area]) -> Area {
    let largest = outlets.iter().copied().fold(Area::default(), Area::max);
    let all = outlets.iter().copied().fold(Area::default(), |sum, area| sum + area);
    largest + (all - largest) * 0.5
}

/// The greatest area: `times` (seven) that of the smallest outlet. Source: furnace manuals printing the general venting
/// requirements (a furnace manual).
pub fn most(outlets: &[Area], times: f64) -> Option<Area> {
    outlets.iter().copied().reduce(Area::min).map(|smallest| smallest * times)
}

/// Whether an area lies between the two.
pub fn fits(area: Area, outlets: &[Area], times: f64) -> bool {
    at_least(area, least(outlets)) && most(outlets, times).is_some_and(|most| at_most(area, most))
}
