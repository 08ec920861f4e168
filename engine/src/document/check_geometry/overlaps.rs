//! Bodies that stand in each other.
//!
//! A box is a simple picture of a thing, so what overlaps is told as a warning, and only where both bodies are known in full: a
//! shelf over a tank and a panel over a bench are told apart by their heights. What is set in a wall or hangs in a pipe has no
//! body of its own in the room.

use super::{feet, items};
use crate::diagnostic::{Code, Diagnostic};
use crate::document::Raw;
use crate::document::naming::called;
use crate::document::spans::join;
use redtag_plan::{Body, body, overlap};
use redtag_schema::project::Placement;
use serde_json::Value;

/// How deep two boxes may lie in each other and still be drawn by hand, in metres: 3/4 in.
const DRAWN: f64 = 0.75 * 0.0254;

/// What lies in the floor or hangs in a pipe.
const WITHOUT_BODY: [&str; 8] =
    ["floor-drain", "sump", "sink", "circulator", "gas-regulator", "pump", "expansion-tank", "gas-manifold"];

/// A warning for every two bodies of a space that stand in each other.
pub(super) fn check(raw: &Raw) -> Vec<Diagnostic> {
    let placed: Vec<_> = items(&raw.value, "/equipment").filter_map(|(pointer, value)| Some((read(value)?, pointer))).collect();
    let mut found = Vec::new();
    for (at, ((space, one), pointer)) in placed.iter().enumerate() {
        for ((other_space, other), other_pointer) in &placed[at + 1..] {
            let depth = overlap(one, other);
            if space == other_space && depth > DRAWN {
                found.push(complaint(raw, pointer, other_pointer, depth));
            }
        }
    }
    found
}

/// The space and the body of a piece of equipment, where all of it is said.
fn read(value: &Value) -> Option<(&str, Body)> {
    let word = |name: &str| value.get(name).and_then(Value::as_str);
    if word("mounting") == Some("recessed") || WITHOUT_BODY.contains(&word("kind")?) {
        return None;
    }
    let placement: Placement = serde_json::from_value(value.get("placement")?.clone()).ok()?;
    Some((word("space")?, body(&placement, word("mounting") == Some("floor")).ok()?))
}

fn complaint(raw: &Raw, pointer: &str, other: &str, depth: f64) -> Diagnostic {
    let (one, two) = (called(pointer, &raw.value), called(other, &raw.value));
    let (at, there) = (join(pointer, "placement"), join(other, "placement"));
    Diagnostic::warning(Code::BodiesOverlap, format!("{one} stands {} deep in {two}", feet(depth)))
        .at(&raw.file, raw.spans.nearest(&at))
        .related(&raw.file, raw.spans.nearest(&there), "the other body")
        .pointer(at)
        .expected("bodies beside, above or below each other")
        .help("move one of them, or correct its size or its height")
}
