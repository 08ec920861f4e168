//! Whether a piece of equipment stands inside its room and under its ceiling.

use super::{Ring, Space, TOLERANCE, amount, feet};
use crate::diagnostic::{Code, Diagnostic};
use crate::document::Raw;
use crate::document::naming::called;
use crate::document::spans::join;
use geo::{Contains, Coord, Distance, Euclidean, Line, Point};
use redtag_schema::project::{Footprint, Placement};
use redtag_schema::quantity::Kind;
use serde_json::Value;

/// Complaints about where a piece of equipment stands.
pub(super) fn check(raw: &Raw, pointer: &str, equipment: &Value, space: &Space<'_>) -> Vec<Diagnostic> {
    let Some(placement) = equipment.get("placement") else { return Vec::new() };
    let at = join(pointer, "placement");
    let name = called(pointer, &raw.value);
    // What is set in a wall lies beyond the finished face that the outline follows.
    let set_in_wall = equipment.get("mounting").and_then(Value::as_str) == Some("recessed");
    let body = Body::read(placement).filter(|_| !set_in_wall);
    let outside = body.and_then(|body| body.farthest_outside(&space.rings));
    let outside = outside.map(|outside| outside_room(raw, &at, &name, space, &outside));
    outside.into_iter().chain(above_ceiling(raw, &at, &name, placement, space)).collect()
}

fn outside_room(raw: &Raw, at: &str, name: &str, space: &Space<'_>, outside: &Outside<'_>) -> Diagnostic {
    let room = called(&space.pointer, &raw.value);
    let message = format!("{name} reaches {} beyond the outline of its space {room}", feet(outside.distance));
    let ring = outside.ring;
    let side = |offset: usize| &ring.corners[(outside.side + offset) % ring.corners.len()];
    let corner = join(&ring.pointer, &side(0).index.to_string());
    let label = format!("beyond the side from this corner to corner {}", side(1).index + 1);
    Diagnostic::error(Code::OutsideItsSpace, message)
        .at(&raw.file, raw.spans.nearest(at))
        .related(&raw.file, raw.spans.nearest(&corner), label)
        .pointer(at)
        .expected("the whole body inside: `x` and `y` give its middle, `facing` the way its front looks")
        .help("move it, turn it, or correct its sizes or the outline")
}

fn above_ceiling(raw: &Raw, at: &str, name: &str, placement: &Value, space: &Space<'_>) -> Option<Diagnostic> {
    let headroom = space.headroom?;
    let height = amount(placement.get("height"), Kind::Length)?;
    let top = height + amount(placement.get("base"), Kind::Position).unwrap_or(0.0);
    if top <= headroom + TOLERANCE {
        return None;
    }
    let room = called(&space.pointer, &raw.value);
    let message = format!("{name} ends {} above the floor, {} above the ceiling of {room}", feet(top), feet(top - headroom));
    let ceiling = join(&space.pointer, "ceiling_height");
    Some(
        Diagnostic::error(Code::AboveTheCeiling, message)
            .at(&raw.file, raw.spans.nearest(&join(at, "height")))
            .related(&raw.file, raw.spans.nearest(&ceiling), "the ceiling")
            .pointer(join(at, "height"))
            .help("correct `base`, `height` or the ceiling"),
    )
}

/// What of a body is certain: a rectangle whose facing is known, a circle, else the circle that any facing would cover.
struct Body {
    middle: Coord,
    /// Half its width and half its depth.
    half: Coord,
    /// Where its front looks, clockwise from plan north, in radians; `None` for a circle.
    bearing: Option<f64>,
}

/// The worst overstepping of an outline.
struct Outside<'a> {
    distance: f64,
    ring: &'a Ring,
    /// The number of the first corner of the side that is overstepped.
    side: usize,
}

impl Body {
    fn read(placement: &Value) -> Option<Self> {
        let placement: Placement = serde_json::from_value(placement.clone()).ok()?;
        let (x, y) = (placement.x.as_ref()?, placement.y.as_ref()?);
        let middle = Coord { x: x.si(), y: y.si() };
        let width = placement.width.as_ref().map_or(0.0, |width| width.si());
        let depth = placement.depth.as_ref().map_or(0.0, |depth| depth.si());
        let round = placement.footprint == Some(Footprint::Circle);
        let bearing = redtag_plan::front(&placement);
        let half = match (round, bearing) {
            (true, _) => Coord { x: width / 2.0, y: width / 2.0 },
            (false, Some(_)) => Coord { x: width / 2.0, y: depth / 2.0 },
            (false, None) => Coord { x: width.min(depth) / 2.0, y: width.min(depth) / 2.0 },
        };
        Some(Self { middle, half, bearing: bearing.filter(|_| !round) })
    }

    /// Where it oversteps the rings most, if it does. The first ring is the outline, the others are cut out of it.
    fn farthest_outside<'a>(&self, rings: &'a [Ring]) -> Option<Outside<'a>> {
        let (outline, holes) = rings.split_first()?;
        let mut worst: Option<Outside<'a>> = None;
        let mut note = |found: Option<Outside<'a>>| {
            if let Some(found) = found.filter(|found| found.distance > TOLERANCE)
                && worst.as_ref().is_none_or(|worst| found.distance > worst.distance)
            {
                worst = Some(found);
            }
        };
        note(self.beyond(outline, false));
        holes.iter().for_each(|hole| note(self.beyond(hole, true)));
        for ring in rings {
            for (side, line) in ring.sides().enumerate() {
                note(Some(Outside { distance: self.cut(line), ring, side }));
            }
        }
        worst
    }

    /// How far its points lie on the wrong side of a ring.
    fn beyond<'a>(&self, ring: &'a Ring, hole: bool) -> Option<Outside<'a>> {
        let polygon = ring.polygon();
        let wrong = |point: &Coord| polygon.contains(&Point::from(*point)) == hole;
        let nearest = |point: Coord| {
            let distances = ring.sides().map(move |side| Euclidean.distance(&side, &Point::from(point))).enumerate();
            distances.min_by(|left, right| left.1.total_cmp(&right.1))
        };
        let reach = if self.bearing.is_some() { 0.0 } else { self.half.x };
        self.points()
            .into_iter()
            .filter(wrong)
            .filter_map(nearest)
            .max_by(|left, right| left.1.total_cmp(&right.1))
            .map(|(side, distance)| Outside { distance: distance + reach, ring, side })
    }

    /// The points that must lie inside: the corners of a rectangle, the middle of a circle.
    fn points(&self) -> Vec<Coord> {
        let Some(bearing) = self.bearing else { return vec![self.middle] };
        let (sin, cos) = bearing.sin_cos();
        let corner = |(u, v): (f64, f64)| Coord { x: self.middle.x + u * cos + v * sin, y: self.middle.y - u * sin + v * cos };
        let Coord { x: u, y: v } = self.half;
        [(-u, -v), (u, -v), (u, v), (-u, v)].map(corner).to_vec()
    }

    /// How deep a side runs into the body; 0 when it does not.
    fn cut(&self, line: Line) -> f64 {
        let away = Euclidean.distance(&line, &Point::from(self.middle));
        if away >= self.half.x.hypot(self.half.y) {
            return 0.0;
        }
        let Some(bearing) = self.bearing else {
            return (self.half.x - away).max(0.0);
        };
        let (sin, cos) = bearing.sin_cos();
        let seen = |point: Coord| {
            let (x, y) = (point.x - self.middle.x, point.y - self.middle.y);
            Coord { x: x * cos - y * sin, y: x * sin + y * cos }
        };
        let (start, end) = (seen(line.start), seen(line.end));
        let depth = |share: f64| {
            let point = start + (end - start) * share;
            (self.half.x - point.x.abs()).min(self.half.y - point.y.abs())
        };
        highest(depth).max(0.0)
    }
}

/// The highest value between 0 and 1 of a function that only rises before it and only falls after it.
fn highest(function: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (0.0_f64, 1.0_f64);
    // Each step keeps two thirds: after 80 the interval is narrower than a float can tell.
    for _ in 0..80 {
        let third = (high - low) / 3.0;
        if function(low + third) < function(high - third) { low += third } else { high -= third }
    }
    function((low + high) / 2.0).max(function(0.0)).max(function(1.0))
}
