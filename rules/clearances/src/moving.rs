//! Cures that move a body.

use crate::amounts::inches;
use crate::scene::{Scene, Thing};
use redtag_handbook::space::{Point, Solid, norm, point};
use redtag_rule::prelude::*;
use redtag_rule::{Part, Value};

/// A move of a body by which it comes free.
pub struct Move {
    /// How far, and which way: "22 in east".
    pub words: Text,
    /// The values to set.
    pub values: Vec<(String, Value)>,
}

const QUARTER_INCH: f64 = 0.0254 / 4.0;

/// The shortest of some moves that brings a body to a place in the room where it meets no other body and is `free`; each
/// coordinate goes on to the next quarter inch.
pub fn shortest(scene: &Scene, thing: &Thing, tries: &[Point], free: impl Fn(&Solid) -> bool) -> Option<Move> {
    let mut tries: Vec<Point> = tries.iter().copied().filter(|by| norm(*by) > 1e-9 && norm(*by) < 20.0).collect();
    tries.sort_by(|a, b| norm(*a).total_cmp(&norm(*b)));
    tries.into_iter().find_map(|by| {
        let middle = thing.body.middle;
        let to = point(on(middle.x, by.x), on(middle.y, by.y));
        let there = Solid { plan: thing.solid.plan.clone().moved(to - middle), ..thing.solid.clone() };
        let others = scene.things.iter().filter(|other| other.equipment.get().id != thing.equipment.get().id);
        let fits = scene.room.as_ref().is_none_or(|room| room.contains_shape(&there.plan));
        let clear = fits && others.into_iter().all(|other| other.solid.overlap(&there).is_none());
        (clear && free(&there)).then(|| said(thing, to - middle, to))
    })
}

/// A coordinate moved, to the next quarter inch in that direction; as it was where it does not move.
fn on(at: f64, by: f64) -> f64 {
    let quarters = (at + by) / QUARTER_INCH;
    if by > 1e-9 {
        (quarters - 1e-6).ceil() * QUARTER_INCH
    } else if by < -1e-9 {
        (quarters + 1e-6).floor() * QUARTER_INCH
    } else {
        at
    }
}

fn said(thing: &Thing, by: Point, to: Point) -> Move {
    let pointer = thing.equipment.pointer();
    let mut parts: Vec<(Part, &str)> = Vec::new();
    let mut values = Vec::new();
    for (name, by, to, more, less) in [("x", by.x, to.x, "east", "west"), ("y", by.y, to.y, "north", "south")] {
        if by.abs() > 1e-9 {
            parts.push((inches(by.abs()), if by > 0.0 { more } else { less }));
            let written = quantity::Position::from_si(to).print_in("in");
            values.push((format!("{pointer}/placement/{name}"), Value::from(written)));
        }
    }
    let one = |(part, way): &(Part, &str)| text!("{} {}", part.clone(), *way);
    let words = match parts.as_slice() {
        [first, second] => text!("{} and {}", one(first), one(second)),
        [only] => one(only),
        _ => Text::default(),
    };
    Move { words, values }
}
