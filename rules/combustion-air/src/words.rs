//! Sentences the rules of this family share.

use redtag_handbook::combustion_air::{End, Shortcoming};
use redtag_rule::prelude::*;

/// What an opening falls short of.
pub fn shortcoming(opening: &str, fault: &Shortcoming) -> Text {
    match fault {
        Shortcoming::TooSmall { free, required } => {
            let short = *required - *free;
            text!(
                "{} has {} free of {} needed, {} short",
                opening,
                in_unit(*free, "in²"),
                in_unit(*required, "in²"),
                in_unit(short, "in²")
            )
        }
        Shortcoming::TooNarrow { least, required } => {
            text!("{} is {} at its narrowest, {} is the least", opening, in_unit(*least, "in"), in_unit(*required, "in"))
        }
        Shortcoming::TooFar { end: End::Top, distance, limit } => far(opening, "below the ceiling", *distance, *limit),
        Shortcoming::TooFar { end: End::Bottom, distance, limit } => far(opening, "above the floor", *distance, *limit),
        Shortcoming::DuctTooSmall { area, required } => {
            text!("the duct of {} has {} of {} needed", opening, in_unit(*area, "in²"), in_unit(*required, "in²"))
        }
        Shortcoming::SharedDuct => text!("{} shares one duct with the other opening", opening),
    }
}

fn far(opening: &str, from: &str, distance: uom::si::f64::Length, limit: uom::si::f64::Length) -> Text {
    // An opening whose other end is not stated cannot serve that end.
    if distance.value > 1e5 {
        return text!("{} does not reach within {} {}", opening, in_unit(limit, "in"), from);
    }
    text!("{} begins {} {}, {} is the most", opening, in_unit(distance, "in"), from, in_unit(limit, "in"))
}
