//! The parts of a project that a question carries: what its rules declare that they read, and no more.

use serde_json::{Map, Value};
use std::collections::BTreeSet;

/// Fields every question carries.
pub const ALWAYS: [&str; 2] = ["/schema", "/name"];

/// The parts of a document that pointers lead to, at their own places. What an array holds is taken whole, so that places in
/// it stay what they are.
pub fn parts<'a>(reads: impl IntoIterator<Item = &'a str>, document: &Value) -> Map<String, Value> {
    let pointers: BTreeSet<&str> = reads.into_iter().chain(ALWAYS).collect();
    let mut into = Value::Object(Map::new());
    // In the order of the text a pointer comes before those below it, which then find their part copied already.
    for pointer in pointers {
        copy_part(document, &mut into, pointer);
    }
    in_order_of(document, into)
}

/// Copies the part a pointer leads to, with what leads there.
pub fn copy_part(from: &Value, into: &mut Value, pointer: &str) {
    let Some((key, rest)) = first_step(pointer) else {
        *into = from.clone();
        return;
    };
    let (Value::Object(from), Value::Object(into)) = (from, into) else { return };
    let Some(part) = from.get(&key) else { return };
    if rest.is_empty() || !part.is_object() {
        into.insert(key, part.clone());
        return;
    }
    copy_part(part, into.entry(key).or_insert_with(|| Value::Object(Map::new())), rest);
}

/// The first step of a pointer, and what is left of it.
fn first_step(pointer: &str) -> Option<(String, &str)> {
    let after = pointer.strip_prefix('/')?;
    let end = after.find('/').unwrap_or(after.len());
    Some((after[..end].replace("~1", "/").replace("~0", "~"), &after[end..]))
}

/// The parts in the order of the document, so that the question does not depend on the order of pointers.
fn in_order_of(document: &Value, parts: Value) -> Map<String, Value> {
    let Value::Object(mut parts) = parts else { return Map::new() };
    let keys = document.as_object().into_iter().flat_map(Map::keys);
    keys.filter_map(|key| parts.shift_remove_entry(key)).collect()
}
