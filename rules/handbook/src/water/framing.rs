//! Holes and notches a stud or joist of sawn lumber may have. Source: [`sources::FRAMING`](super::sources::FRAMING). Engineered
//! lumber follows its maker alone.

use uom::si::f64::Length;

/// What a stud does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MemberUse {
    /// It carries load, or stands in an exterior wall.
    Bearing,
    /// It carries load and is doubled, and no more than two such studs follow each other.
    BearingDoubled,
    /// It carries nothing.
    NonBearing,
}

/// The widest hole of a stud, by its depth.
pub fn greatest_stud_hole(depth: Length, used: MemberUse) -> Length {
    match used {
        MemberUse::Bearing => depth * 0.40,
        MemberUse::BearingDoubled | MemberUse::NonBearing => depth * 0.60,
    }
}

/// The deepest notch of a stud, by its depth.
pub fn greatest_stud_notch(depth: Length, used: MemberUse) -> Length {
    match used {
        MemberUse::Bearing | MemberUse::BearingDoubled => depth * 0.25,
        MemberUse::NonBearing => depth * 0.40,
    }
}

/// The widest hole of a joist, by its depth.
pub fn greatest_joist_hole(depth: Length) -> Length {
    depth / 3.0
}

/// The deepest and the longest notch of a joist, by its depth; at its ends a notch may be deeper.
pub fn greatest_joist_notch(depth: Length, at_end: bool) -> (Length, Length) {
    (depth / if at_end { 4.0 } else { 6.0 }, depth / 3.0)
}
