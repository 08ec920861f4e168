//! Bodies: upright boxes turned to their front, and cylinders.

use crate::{At, direction, front};
use redtag_schema::project::{Footprint, Placement};

/// A body as it is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Body {
    /// Its middle in plan.
    pub middle: At,
    /// Width, seen from the front; the diameter of a cylinder.
    pub width: f64,
    /// Depth, from front to back; the diameter of a cylinder.
    pub depth: f64,
    /// Height of its underside above the floor.
    pub base: f64,
    /// Its own height.
    pub height: f64,
    /// The bearing of its front; a cylinder may leave that out.
    pub front: Option<f64>,
    /// Whether it is a cylinder.
    pub round: bool,
}

/// The body of a placement. What stands on the floor need not say how high it stands.
///
/// # Errors
/// The fields that are missing, in their order.
pub fn body(placement: &Placement, on_floor: bool) -> Result<Body, Vec<&'static str>> {
    read(placement, on_floor, true)
}

/// The same as far as it is seen from above: on the floor and without height where those are not said.
///
/// # Errors
/// The fields that are missing, in their order.
pub fn footprint(placement: &Placement) -> Result<Body, Vec<&'static str>> {
    read(placement, true, false)
}

fn read(placement: &Placement, on_floor: bool, with_height: bool) -> Result<Body, Vec<&'static str>> {
    let mut lacking = Vec::new();
    let mut number = |name: &'static str, value: Option<f64>| {
        if value.is_none() {
            lacking.push(name);
        }
        value.unwrap_or_default()
    };
    let round = placement.footprint == Some(Footprint::Circle);
    let length = |length: &Option<redtag_schema::quantity::Length>| length.as_ref().map(|length| length.si());
    let position = |position: &Option<redtag_schema::quantity::Position>| position.as_ref().map(|position| position.si());
    let middle = [number("x", position(&placement.x)), number("y", position(&placement.y))];
    let front = front(placement);
    number("facing", front.or(round.then_some(0.0)));
    let width = number("width", length(&placement.width));
    let depth = if round { width } else { number("depth", length(&placement.depth)) };
    let base = number("base", position(&placement.base).or(on_floor.then_some(0.0)));
    let height = number("height", length(&placement.height).or((!with_height).then_some(0.0)));
    if lacking.is_empty() { Ok(Body { middle, width, depth, base, height, front, round }) } else { Err(lacking) }
}

impl Body {
    /// Height of its top above the floor.
    pub fn top(&self) -> f64 {
        self.base + self.height
    }

    /// The unit vector of its front; plan north for a cylinder that says nothing.
    pub fn ahead(&self) -> At {
        direction(self.front.unwrap_or_default())
    }

    /// The corners of a box, or of the box around a cylinder, counterclockwise.
    pub fn corners(&self) -> [At; 4] {
        let [ax, ay] = self.ahead();
        let (u, v) = (self.width / 2.0, self.depth / 2.0);
        [(-u, -v), (u, -v), (u, v), (-u, v)]
            .map(|(aside, ahead)| [self.middle[0] + aside * ay + ahead * ax, self.middle[1] - aside * ax + ahead * ay])
    }

    /// Least and greatest corner in plan.
    pub fn bounds(&self) -> [At; 2] {
        if self.round {
            let [x, y] = self.middle;
            let half = self.width / 2.0;
            return [[x - half, y - half], [x + half, y + half]];
        }
        let corners = self.corners();
        let ends = |axis: usize| {
            corners.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), at| (least.min(at[axis]), most.max(at[axis])))
        };
        let ((left, right), (low, high)) = (ends(0), ends(1));
        [[left, low], [right, high]]
    }

    /// Distance of a place from it in plan; none inside.
    pub fn distance(&self, at: At) -> f64 {
        let off = [at[0] - self.middle[0], at[1] - self.middle[1]];
        if self.round {
            return ((off[0] * off[0] + off[1] * off[1]).sqrt() - self.width / 2.0).max(0.0);
        }
        let [ax, ay] = self.ahead();
        let (ahead, aside) = (off[0] * ax + off[1] * ay, off[0] * ay - off[1] * ax);
        let (over, beside) = ((ahead.abs() - self.depth / 2.0).max(0.0), (aside.abs() - self.width / 2.0).max(0.0));
        (over * over + beside * beside).sqrt()
    }
}

/// How deep two bodies stand in each other: the least shift in plan that would part them, or the height they share where that is
/// less; none where they only touch.
pub fn overlap(one: &Body, other: &Body) -> f64 {
    let high = one.top().min(other.top()) - one.base.max(other.base);
    high.min(plan_overlap(one, other)).max(0.0)
}

fn plan_overlap(one: &Body, other: &Body) -> f64 {
    match (one.round, other.round) {
        (true, true) => {
            let (dx, dy) = (one.middle[0] - other.middle[0], one.middle[1] - other.middle[1]);
            (one.width + other.width) / 2.0 - (dx * dx + dy * dy).sqrt()
        }
        (true, false) => one.width / 2.0 - other.distance(one.middle),
        (false, true) => other.width / 2.0 - one.distance(other.middle),
        (false, false) => boxes_overlap(one, other),
    }
}

/// Boxes are apart where some side of one of them parts them.
fn boxes_overlap(one: &Body, other: &Body) -> f64 {
    let (first, second) = (one.corners(), other.corners());
    let axes = [one, other].into_iter().flat_map(|body| {
        let [x, y] = body.ahead();
        [[x, y], [y, -x]]
    });
    let extent = |corners: &[At; 4], axis: At| {
        let along = corners.map(|at| at[0] * axis[0] + at[1] * axis[1]);
        (along.iter().copied().fold(f64::INFINITY, f64::min), along.iter().copied().fold(f64::NEG_INFINITY, f64::max))
    };
    let shared = axes.map(|axis| {
        let ((from, to), (start, end)) = (extent(&first, axis), extent(&second, axis));
        to.min(end) - from.max(start)
    });
    shared.fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn drawn(value: Value) -> Result<Body, Vec<&'static str>> {
        body(&serde_json::from_value(value).expect("a placement"), false)
    }

    #[test]
    fn everything_missing_is_named_at_once() {
        assert_eq!(drawn(json!({"x": "1 m"})).unwrap_err(), ["y", "facing", "width", "depth", "base", "height"]);
        assert_eq!(drawn(json!({"footprint": "circle"})).unwrap_err(), ["x", "y", "width", "base", "height"]);
    }

    #[test]
    fn a_body_is_turned_to_its_front() {
        let placed = |facing: Value| {
            let mut value = json!({"x": "0 m", "y": "0 m", "base": "1 m", "width": "4 m", "depth": "2 m", "height": "1 m"});
            value.as_object_mut().unwrap().extend(facing.as_object().unwrap().clone());
            drawn(value).unwrap()
        };
        let (south, west) = (placed(json!({"facing": "south"})), placed(json!({"bearing": "-90 deg"})));
        assert_eq!((south.bounds(), west.bounds()), ([[-2.0, -1.0], [2.0, 1.0]], [[-1.0, -2.0], [1.0, 2.0]]));
        assert_eq!(
            (south.distance([0.0, 3.0]), west.distance([0.0, 3.0]), west.distance([0.5, 1.0]), south.top()),
            (2.0, 1.0, 0.0, 2.0)
        );
        let turned = placed(json!({"facing": "northeast"}));
        assert!((turned.bounds()[1][0] - 3.0 / 2.0_f64.sqrt()).abs() < 1e-12);
        // The corners of a box run counterclockwise.
        assert!(crate::signed_area(&turned.corners()) > 0.0);
    }

    #[test]
    fn bodies_that_touch_do_not_overlap() {
        let at = |x: f64, base: f64, round: bool| Body {
            middle: [x, 0.0],
            width: 2.0,
            depth: 2.0,
            base,
            height: 1.0,
            front: Some(0.0),
            round,
        };
        assert_eq!(overlap(&at(0.0, 0.0, false), &at(2.0, 0.0, false)), 0.0);
        assert_eq!(overlap(&at(0.0, 0.0, false), &at(1.5, 0.0, false)), 0.5);
        // One on the other, and one that reaches a little into it from above.
        assert_eq!(overlap(&at(0.0, 0.0, false), &at(0.0, 1.0, false)), 0.0);
        assert_eq!(overlap(&at(0.0, 0.0, false), &at(0.0, 0.75, false)), 0.25);
        assert_eq!(overlap(&at(0.0, 0.0, true), &at(1.5, 0.0, true)), 0.5);
        assert_eq!(overlap(&at(0.0, 0.0, true), &at(1.5, 0.0, false)), 0.5);
        // A box turned by an eighth reaches farther, and its corner passes another's.
        let turned = Body { front: Some(std::f64::consts::FRAC_PI_4), ..at(2.3, 0.0, false) };
        assert!((overlap(&at(0.0, 0.0, false), &turned) - (1.0 + 2.0_f64.sqrt() - 2.3)).abs() < 1e-12);
    }
}
