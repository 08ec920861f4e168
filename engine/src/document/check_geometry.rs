//! A project's outlines and boxes against one another: rooms that close, equipment that stands inside its room and not in other
//! equipment.
//!
//! Works on the document as written. What does not read as an amount has been complained about already and is passed
//! over, with everything that would depend on it.

mod outline;
mod overlaps;
mod placement;

use super::Raw;
use super::spans::join;
use crate::diagnostic::Diagnostic;
use geo::Coord;
use redtag_schema::quantity::{Kind, System};
use serde_json::Value;
use std::collections::HashMap;

/// What two conversions may leave between amounts that are the same, in metres: far below anything that can be measured.
const TOLERANCE: f64 = 1e-6;

/// Everything wrong with the outlines and boxes of a project.
pub(super) fn check(raw: &Raw) -> Vec<Diagnostic> {
    let mut out = Vec::new();
    let spaces: Vec<_> =
        items(&raw.value, "/spaces").map(|(pointer, value)| Space::read(raw, value, pointer, &mut out)).collect();
    let by_id: HashMap<&str, &Space<'_>> = spaces.iter().filter_map(|space| Some((space.id?, space))).collect();
    for (pointer, equipment) in items(&raw.value, "/equipment") {
        let space = equipment.get("space").and_then(Value::as_str).and_then(|id| by_id.get(id));
        out.extend(space.into_iter().flat_map(|space| placement::check(raw, &pointer, equipment, space)));
    }
    out.extend(overlaps::check(raw));
    out
}

/// A space as far as it can be read.
struct Space<'a> {
    id: Option<&'a str>,
    /// Its outline and what is cut out of it; nothing when one of them is not a room's shape.
    rings: Vec<Ring>,
    /// Height of what is above, suspended ceiling or structure, over the floor.
    headroom: Option<f64>,
    pointer: String,
}

/// Corners in order, in metres, each with the place it is written at. The last is joined to the first.
struct Ring {
    pointer: String,
    corners: Vec<Corner>,
}

struct Corner {
    at: Coord,
    /// Its number in the document's list.
    index: usize,
}

impl<'a> Space<'a> {
    fn read(raw: &Raw, value: &'a Value, pointer: String, out: &mut Vec<Diagnostic>) -> Self {
        let outline = join(&pointer, "outline");
        let holes = items(&raw.value, &join(&pointer, "holes")).map(|(pointer, _)| pointer);
        let mut rings = Vec::new();
        let mut whole = true;
        for (at, pointer) in std::iter::once(outline).chain(holes).enumerate() {
            match outline::read(raw, &pointer) {
                Ok(Some((ring, warnings))) => {
                    out.extend(warnings);
                    rings.push(ring);
                }
                Ok(None) => whole &= at > 0,
                Err(complaint) => {
                    out.push(*complaint);
                    whole = false;
                }
            }
        }
        let height = |name| amount(value.get(name), Kind::Length);
        let (ceiling, structure) = (height("ceiling_height"), height("structural_ceiling_height"));
        let headroom = ceiling.map(|ceiling| structure.map_or(ceiling, |structure| structure.max(ceiling)));
        let rings = if whole { rings } else { Vec::new() };
        Self { id: value.get("id").and_then(Value::as_str), rings, headroom, pointer }
    }
}

/// The items of a list, each with its pointer; none when there is no list.
fn items<'v>(document: &'v Value, list: &str) -> impl Iterator<Item = (String, &'v Value)> + use<'v> {
    let values = document.pointer(list).and_then(Value::as_array).map_or(&[][..], Vec::as_slice);
    let list = list.to_owned();
    values.iter().enumerate().map(move |(at, value)| (join(&list, &at.to_string()), value))
}

/// An amount in SI base units, if it is written as one.
fn amount(value: Option<&Value>, kind: Kind) -> Option<f64> {
    kind.parse(value?.as_str()?).ok()
}

/// A length in words.
fn feet(metres: f64) -> String {
    Kind::Length.print(metres, System::UsCustomary, None)
}
