//! Whether corners make a room: three or more, enclosing something, along walls that do not cross.

use super::{Corner, Ring, TOLERANCE, amount};
use crate::diagnostic::{Code, Diagnostic};
use crate::document::Raw;
use crate::document::naming::called;
use crate::document::spans::join;
use geo::line_intersection::{LineIntersection, line_intersection};
use geo::{Area, Coord, Distance, Euclidean, Line, LineString, Polygon};
use redtag_schema::quantity::Kind;
use serde_json::Value;

/// More corners than any room has; every wall is held against every other, which takes its time.
const MOST_CORNERS: usize = 500;

/// The least area of a room, in square metres: about a square inch.
const LEAST_AREA: f64 = 1e-3;

/// The ring at a pointer with what is odd about it; `None` when there is none or a corner cannot be read.
pub(super) fn read(raw: &Raw, pointer: &str) -> Result<Option<(Ring, Vec<Diagnostic>)>, Box<Diagnostic>> {
    let Some(points) = raw.value.pointer(pointer).and_then(Value::as_array) else { return Ok(None) };
    let Some(corners) = points.iter().enumerate().map(|(index, point)| corner(index, point)).collect() else {
        return Ok(None);
    };
    let (ring, warnings) = without_repeats(raw, pointer, corners);
    match shape_mistake(raw, &ring) {
        Some(complaint) => Err(Box::new(complaint)),
        None => Ok(Some((ring, warnings))),
    }
}

fn corner(index: usize, point: &Value) -> Option<Corner> {
    let coordinate = |name| amount(point.get(name), Kind::Position);
    Some(Corner { at: Coord { x: coordinate("x")?, y: coordinate("y")? }, index })
}

/// The corners that differ from the one before; the last also from the first.
fn without_repeats(raw: &Raw, pointer: &str, corners: Vec<Corner>) -> (Ring, Vec<Diagnostic>) {
    let mut ring = Ring { pointer: pointer.to_owned(), corners: Vec::with_capacity(corners.len()) };
    let mut warnings = Vec::new();
    for corner in corners {
        match ring.corners.last().filter(|last| same(last.at, corner.at)) {
            Some(last) => warnings.push(repeat(raw, pointer, &corner, last, "remove one of the two")),
            None => ring.corners.push(corner),
        }
    }
    if let [first, .., last] = ring.corners.as_slice()
        && same(first.at, last.at)
    {
        warnings.push(repeat(raw, pointer, last, first, "remove it: the last corner is joined to the first anyway"));
        ring.corners.pop();
    }
    (ring, warnings)
}

fn same(left: Coord, right: Coord) -> bool {
    Euclidean.distance(left, right) <= TOLERANCE
}

fn repeat(raw: &Raw, pointer: &str, again: &Corner, first: &Corner, help: &str) -> Diagnostic {
    let place = |corner: &Corner| join(pointer, &corner.index.to_string());
    let message = format!("corner {} of {} repeats corner {}", again.index + 1, called(pointer, &raw.value), first.index + 1);
    Diagnostic::warning(Code::RepeatedCorner, message)
        .at(&raw.file, raw.spans.nearest(&place(again)))
        .related(&raw.file, raw.spans.nearest(&place(first)), "the same corner")
        .pointer(place(again))
        .help(help)
}

/// The first thing that keeps a ring from being the shape of a room.
fn shape_mistake(raw: &Raw, ring: &Ring) -> Option<Diagnostic> {
    let name = called(&ring.pointer, &raw.value);
    let about = |code, message: String| {
        let head = raw.spans.nearest(&ring.pointer);
        Diagnostic::error(code, message).at(&raw.file, head).pointer(&ring.pointer)
    };
    let count = ring.corners.len();
    if count < 3 {
        let message = format!("{name} has {count} different corner{}", if count == 1 { "" } else { "s" });
        return Some(about(Code::TooFewCorners, message).expected("three corners or more"));
    }
    if count > MOST_CORNERS {
        let message = format!("{name} has {count} corners");
        return Some(about(Code::TooManyCorners, message).expected(format!("at most {MOST_CORNERS}")));
    }
    if ring.polygon().unsigned_area() < LEAST_AREA && !ring.has_crossing_that_cancels_area() {
        let message = format!("{name} encloses no area: its corners lie along one line");
        return Some(about(Code::NoArea, message).expected("corners that go around the room, one after the other"));
    }
    ring.crossing().map(|(first, second)| crossing(raw, ring, first, second))
}

fn crossing(raw: &Raw, ring: &Ring, first: usize, second: usize) -> Diagnostic {
    let number = |at: usize| ring.corners[at % ring.corners.len()].index + 1;
    let place = |at: usize| join(&ring.pointer, &ring.corners[at % ring.corners.len()].index.to_string());
    let side = |at: usize| format!("corners {} and {}", number(at), number(at + 1));
    let message = format!(
        "{} crosses itself: the side between {} meets the one between {}",
        called(&ring.pointer, &raw.value),
        side(first),
        side(second)
    );
    Diagnostic::error(Code::CrossingOutline, message)
        .at(&raw.file, raw.spans.nearest(&place(second)))
        .related(&raw.file, raw.spans.nearest(&place(first)), "the other side begins here")
        .pointer(&ring.pointer)
        .expected("corners in the order in which one walks around the room")
        .help("two corners may have changed places")
}

impl Ring {
    /// The enclosed shape.
    pub(super) fn polygon(&self) -> Polygon {
        Polygon::new(self.corners.iter().map(|corner| corner.at).collect::<LineString>(), Vec::new())
    }

    /// The sides, each from its corner to the next.
    pub(super) fn sides(&self) -> impl Iterator<Item = Line> {
        let next = self.corners.iter().cycle().skip(1);
        self.corners.iter().zip(next).map(|(from, to)| Line::new(from.at, to.at))
    }

    /// Two sides, by the numbers of their first corners, that meet elsewhere than at the corner they share.
    fn crossing(&self) -> Option<(usize, usize)> {
        let sides: Vec<_> = self.sides().collect();
        for first in 0..sides.len() {
            for second in first + 1..sides.len() {
                let follow = second == first + 1 || (first == 0 && second == sides.len() - 1);
                let meet = match line_intersection(sides[first], sides[second]) {
                    None => false,
                    Some(LineIntersection::SinglePoint { .. }) => !follow,
                    // Sides that follow one another share a point; sharing more means walking back.
                    Some(LineIntersection::Collinear { intersection }) => !same(intersection.start, intersection.end),
                };
                if meet {
                    return Some((first, second));
                }
            }
        }
        None
    }

    /// A figure of eight may enclose as much on one hand as on the other; that it crosses itself says more than its area.
    fn has_crossing_that_cancels_area(&self) -> bool {
        let sides: Vec<_> = self.sides().collect();
        sides.iter().enumerate().any(|(at, first)| {
            sides[at + 1..].iter().any(|second| {
                matches!(line_intersection(*first, *second), Some(LineIntersection::SinglePoint { is_proper: true, .. }))
            })
        })
    }
}
