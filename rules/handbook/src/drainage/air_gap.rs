//! The two air gaps: that of a waste pipe above its receptor, and that of a water outlet above a rim.

use crate::units;
use uom::si::f64::Length;

/// Gap of an indirect waste pipe: a multiple of its inside diameter, never less than a floor.
/// Source: [`sources::DRAINAGE_GAP`](super::sources::DRAINAGE_GAP).
pub fn drainage_air_gap(inside: Length, multiple: f64, least: Length) -> Length {
    let gap = inside * multiple;
    if gap > least { gap } else { least }
}

/// Table of the supply air gap, inches: opening up to, gap away from walls, gap close to a wall.
pub const SUPPLY_GAPS: [(f64, f64, f64); 3] = [(0.5, 1.0, 1.5), (0.75, 1.5, 2.5), (1.0, 2.0, 3.0)];

/// Gap of a water outlet: by the table up to 1 in, else twice the opening, three times close to a wall; never less than twice
/// the opening. Source: [`sources::SUPPLY_GAP`](super::sources::SUPPLY_GAP).
pub fn supply_air_gap(inside: Length, close_to_wall: bool) -> Length {
    let opening = units::in_inches(inside);
    let row = SUPPLY_GAPS.iter().find(|(up_to, ..)| opening <= up_to + 1e-9);
    let inches = match row {
        Some((_, away, close)) => (if close_to_wall { *close } else { *away }).max(2.0 * opening),
        None => opening * if close_to_wall { 3.0 } else { 2.0 },
    };
    units::inches(inches)
}

/// Whether an outlet is close to a wall: nearer than three diameters to one, four where two meet.
pub fn near_wall(distance: Length, inside: Length, in_corner: bool) -> bool {
    distance < inside * if in_corner { 4.0 } else { 3.0 }
}
