//! Boxes in the face of a rated wall.

use super::Answer;
use crate::units::{feet, inches, square_inches};
use redtag_schema::quantity::{at_least, at_most};
use uom::si::f64::{Area, Length};

/// Limits of boxes in rated walls.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoxLimits {
    /// Largest steel box.
    pub one: Area,
    /// All boxes in any part of the wall as large as `part`.
    pub all: Area,
    /// That part.
    pub part: Area,
    /// Widest gap between box and board.
    pub gap: Length,
    /// Least horizontal distance between boxes in opposite faces.
    pub opposite: Length,
}

impl Default for BoxLimits {
    fn default() -> Self {
        Self {
            one: square_inches(16.0),
            all: square_inches(100.0),
            part: feet(10.0) * feet(10.0),
            gap: inches(0.125),
            opposite: inches(24.0),
        }
    }
}

/// A box as far as it is known.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BoxFacts {
    /// Whether it is steel.
    pub steel: Option<bool>,
    /// Its face.
    pub area: Option<Area>,
    /// The gap around it.
    pub gap: Option<Length>,
    /// Distance to the nearest box in the other face.
    pub opposite: Option<Length>,
    /// Whether listed pads or solid blocking guard it.
    pub guarded: Option<bool>,
    /// Whether a listed firestop system protects it.
    pub listed: bool,
}

/// What a box breaks, or which fact decides it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BoxFault {
    /// Its material: not steel and not listed.
    Material,
    /// Its size.
    Size,
    /// The gap around it.
    Gap,
    /// A box too close in the other face.
    Opposite,
    /// Pads or blocking that would guard it; only ever unknown.
    Guard,
}

/// What a box breaks for sure, and the facts that could still break it.
pub fn box_faults(facts: &BoxFacts, limits: &BoxLimits) -> (Vec<BoxFault>, Vec<BoxFault>) {
    let apart = Answer::of(facts.opposite.map(|distance| at_least(distance, limits.opposite)), BoxFault::Opposite);
    let guarded = Answer::of(facts.guarded, BoxFault::Guard);
    let steel = [
        (BoxFault::Material, Answer::of(facts.steel, BoxFault::Material)),
        (BoxFault::Size, Answer::of(facts.area.map(|area| at_most(area, limits.one)), BoxFault::Size)),
        (BoxFault::Gap, Answer::of(facts.gap.map(|gap| at_most(gap, limits.gap)), BoxFault::Gap)),
        (BoxFault::Opposite, Answer::any([apart.clone(), guarded.clone()])),
    ];
    // A listed box is held to its listing, but the faces of the wall stay apart.
    let listed = [(BoxFault::Opposite, Answer::any([apart, guarded]))];
    let demands: &[(BoxFault, Answer<BoxFault>)] = if facts.listed { &listed } else { &steel };
    let broken = demands.iter().filter(|(_, answer)| *answer == Answer::No).map(|&(fault, _)| fault);
    let open =
        demands.iter().filter_map(|(_, answer)| if let Answer::Depends(facts) = answer { Some(facts.clone()) } else { None });
    (broken.collect(), open.flatten().collect())
}

/// The greatest area of boxes within any stretch of a wall as long as `stretch`, each box given by where its middle is along the
/// wall and its face. Both ends of the stretch count.
pub fn greatest_box_area(boxes: &[(Length, Area)], stretch: Length) -> Area {
    let within = |start: Length| {
        let inside = |at: Length| at_least(at, start) && at_most(at, start + stretch);
        boxes.iter().filter(|(at, _)| inside(*at)).fold(square_inches(0.0), |sum, (_, area)| sum + *area)
    };
    boxes.iter().map(|&(at, _)| within(at)).fold(square_inches(0.0), |most, area| if area > most { area } else { most })
}
