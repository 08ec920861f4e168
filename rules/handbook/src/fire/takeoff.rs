//! How much board a wall takes: its face less its openings.

use crate::units::feet;
use uom::si::area::square_meter;
use uom::si::f64::{Area, Length};
use uom::si::length::meter;

/// A straight wall: its length in plan and its height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wall {
    /// Length in plan.
    pub length: Length,
    /// Height of the board.
    pub height: Length,
}

/// An opening in a wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cut {
    /// Where it is: along the wall from its first end, and up from its lower edge.
    Placed {
        /// Its two ends along the wall.
        along: (Length, Length),
        /// Its two ends up the wall.
        up: (Length, Length),
    },
    /// How large it is, nothing being known of where.
    Loose(Area),
}

/// What a face takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoardArea {
    /// The whole face.
    pub gross: Area,
    /// What openings take out of it.
    pub cut: Area,
    /// What is left.
    pub net: Area,
}

/// The face of a wall less its openings. Placed openings count where they lie on the wall and only once where they overlap.
pub fn wall_board(wall: Wall, cuts: &[Cut]) -> BoardArea {
    let (length, height) = (wall.length.get::<meter>().max(0.0), wall.height.get::<meter>().max(0.0));
    let gross = length * height;
    let placed: Vec<[f64; 4]> = cuts.iter().filter_map(|cut| clipped(cut, length, height)).collect();
    let loose: f64 = cuts.iter().map(|cut| if let Cut::Loose(area) = cut { area.get::<square_meter>() } else { 0.0 }).sum();
    let cut = (union(&placed) + loose).min(gross);
    let area = Area::new::<square_meter>;
    BoardArea { gross: area(gross), cut: area(cut), net: area(gross - cut) }
}

/// A placed opening as `[left, right, bottom, top]`, cut to the wall.
fn clipped(cut: &Cut, length: f64, height: f64) -> Option<[f64; 4]> {
    let Cut::Placed { along, up } = cut else { return None };
    let ends = |pair: &(Length, Length), most: f64| {
        let (a, b) = (pair.0.get::<meter>(), pair.1.get::<meter>());
        (a.min(b).clamp(0.0, most), a.max(b).clamp(0.0, most))
    };
    let ((left, right), (bottom, top)) = (ends(along, length), ends(up, height));
    Some([left, right, bottom, top])
}

/// Area of the union of rectangles: column by column between their edges.
fn union(rectangles: &[[f64; 4]]) -> f64 {
    let mut edges: Vec<f64> = rectangles.iter().flat_map(|&[left, right, ..]| [left, right]).collect();
    edges.sort_by(f64::total_cmp);
    let column = |pair: &[f64]| {
        let &[left, right] = pair else { return 0.0 };
        let mut spans: Vec<(f64, f64)> =
            rectangles.iter().filter(|r| r[0] <= left && r[1] >= right).map(|r| (r[2], r[3])).collect();
        spans.sort_by(|a, b| a.0.total_cmp(&b.0));
        (right - left) * covered(&spans)
    };
    edges.windows(2).map(column).sum()
}

/// Length of the union of spans sorted by their lower ends.
fn covered(spans: &[(f64, f64)]) -> f64 {
    let mut reach = f64::NEG_INFINITY;
    let mut total = 0.0;
    for &(low, high) in spans {
        if high > reach {
            total += high - low.max(reach);
            reach = high;
        }
    }
    total
}

/// How many whole sheets of 4 ft by 8 ft an area takes, without waste. Common practice.
pub fn sheets(area: Area) -> u32 {
    let sheet = (feet(4.0) * feet(8.0)).get::<square_meter>();
    // A sheet too many for the last bit of a product would be a false figure.
    let count = libm::ceil(area.get::<square_meter>() / sheet - 1e-9).max(0.0);
    count as u32
}
