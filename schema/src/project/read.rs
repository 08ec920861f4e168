//! Reading a project from JSON without generated visitors.
//!
//! Every rule module links the reader of a document broader than all its rules, so it is written for size. A record is filled
//! field by field, in place, by a few shared functions. Nothing returns early: the first thing that does not fit is noted in the
//! [`Reader`] and reading goes on, because every early return carries the code that takes the half-read record apart again
//! (measured: DEVELOPERS.md). Unknown fields and words are passed over.

use crate::contract::Stage;
use crate::quantity::{Amount, Dimension};
use serde_json::{Map, Value};
use std::fmt;
use std::mem;

/// Why a value is not what it should be, and where.
#[derive(Debug)]
pub struct ReadError {
    pointer: String,
    message: String,
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let pointer = if self.pointer.is_empty() { "the document" } else { &self.pointer };
        write!(f, "{pointer}: {}", self.message)
    }
}

/// Something a project is made of.
pub trait Read: Sized {
    /// Reads it, taking what it keeps out of the value. Where the value has another shape the reader is told, and what comes
    /// back stands for nothing: a reader with a complaint gives no document.
    fn read_from(value: &mut Value, reader: &mut Reader) -> Self;

    /// Whether it tells anything. A word of a later version tells no more than a field left out.
    fn is_said(&self) -> bool {
        true
    }
}

/// Reads a whole value.
///
/// # Errors
/// Where a value has another shape: the first such place.
pub fn read<T: Read>(mut value: Value) -> Result<T, ReadError> {
    let mut reader = Reader::default();
    let read = T::read_from(&mut value, &mut reader);
    reader.end(read)
}

/// Goes through a value, and keeps the first thing in it that does not fit.
#[derive(Debug, Default)]
pub struct Reader {
    complaint: Option<ReadError>,
    /// How many steps below the top we are.
    depth: usize,
    /// From which depth on the complaint's pointer is written.
    told: usize,
}

impl Reader {
    /// What was read, unless something did not fit.
    pub fn end<T>(self, read: T) -> Result<T, ReadError> {
        let Some(complaint) = self.complaint else { return Ok(read) };
        // The code that takes a whole project apart is one function of 143 KB, twice what a module may have. A module that
        // refuses a project ends.
        if cfg!(target_arch = "wasm32") {
            mem::forget(read);
        }
        Err(complaint)
    }

    #[cold]
    #[inline(never)]
    fn complain(&mut self, message: String) {
        if self.complaint.is_none() {
            self.complaint = Some(ReadError { pointer: String::new(), message });
            self.told = self.depth;
        }
    }

    #[cold]
    #[inline(never)]
    fn expected(&mut self, what: &str, found: &Value) {
        let found = match found {
            Value::Null => "null",
            Value::Bool(_) => "true or false",
            Value::Number(_) => "a number",
            Value::String(_) => "text",
            Value::Array(_) => "a list",
            Value::Object(_) => "an object",
        };
        self.complain(format!("expected {what}, found {found}"));
    }

    /// One step up. A complaint from below learns the step it came by.
    #[inline(never)]
    fn leave(&mut self, step: &str) {
        if let Some(complaint) = self.complaint.as_mut().filter(|_| self.told == self.depth) {
            complaint.pointer = format!("/{}{}", step.replace('~', "~0").replace('/', "~1"), complaint.pointer);
            self.told -= 1;
        }
        self.depth -= 1;
    }

    #[inline(never)]
    fn leave_item(&mut self, index: usize) {
        if self.complaint.is_some() && self.told == self.depth {
            return self.leave(&index.to_string());
        }
        self.depth -= 1;
    }

    /// The fields of a record.
    #[inline(never)]
    pub fn object<'v>(&mut self, value: &'v mut Value) -> Option<&'v mut Map<String, Value>> {
        match value {
            Value::Object(fields) => Some(fields),
            other => {
                self.expected("an object", other);
                None
            }
        }
    }

    /// One step down, to a field that says something.
    #[inline(never)]
    fn enter<'v>(&mut self, fields: &'v mut Map<String, Value>, name: &str) -> Option<&'v mut Value> {
        /// Records are small: most have fewer fields than it takes to pay for hashing each name that is asked for.
        const FEW: usize = 24;
        let value = match fields.len() {
            0 => None,
            1..=FEW => fields.iter_mut().find(|(field, _)| *field == name).map(|(_, value)| value),
            _ => fields.get_mut(name),
        };
        let value = value.filter(|value| !value.is_null());
        self.depth += usize::from(value.is_some());
        value
    }

    /// Where a word stands in a closed set; past its end where it is not one of this version's.
    #[inline(never)]
    pub fn word(&mut self, value: &Value, words: &[&str]) -> usize {
        let Value::String(said) = value else {
            self.expected("a word", value);
            return words.len();
        };
        words.iter().position(|word| word == said).unwrap_or(words.len())
    }
}

/// A field that may be missing; `null` is missing too, and so is a word of a later version: what a rule needs and cannot
/// read must make it `unresolved`, never pass. Lists keep such words, since the others in them still count.
#[inline(never)]
pub fn optional<T: Read>(fields: &mut Map<String, Value>, name: &str, slot: &mut Option<T>, reader: &mut Reader) {
    let Some(value) = reader.enter(fields, name) else { return };
    let read = T::read_from(value, reader);
    reader.leave(name);
    if read.is_said() {
        // The slot is empty. Told so, the compiler leaves out the code that would free what it held.
        mem::forget(slot.replace(read));
    }
}

/// A field that must be there. The slot holds something that has nothing to free.
#[inline(never)]
pub fn required<T: Read>(fields: &mut Map<String, Value>, name: &str, slot: &mut T, reader: &mut Reader) {
    let Some(value) = reader.enter(fields, name) else { return reader.complain(format!("the field `{name}` is missing")) };
    mem::forget(mem::replace(slot, T::read_from(value, reader)));
    reader.leave(name);
}

impl Read for String {
    fn read_from(value: &mut Value, reader: &mut Reader) -> Self {
        match value {
            Value::String(text) => mem::take(text),
            other => {
                reader.expected("text", other);
                Self::new()
            }
        }
    }
}

impl Read for bool {
    fn read_from(value: &mut Value, reader: &mut Reader) -> Self {
        value.as_bool().unwrap_or_else(|| {
            reader.expected("true or false", value);
            false
        })
    }
}

/// A whole number however it is written: to JSON Schema `2.0` and `-0.0` are integers too.
fn whole(value: &Value) -> Option<i64> {
    // Up to here every whole number has a float of its own.
    let exact = |number: &f64| number.fract() == 0.0 && number.abs() <= 9_007_199_254_740_992.0;
    value.as_i64().or_else(|| value.as_f64().filter(exact).map(|number| number as i64))
}

impl Read for u32 {
    fn read_from(value: &mut Value, reader: &mut Reader) -> Self {
        whole(value).and_then(|number| Self::try_from(number).ok()).unwrap_or_else(|| {
            reader.expected("a whole number that is not negative", value);
            0
        })
    }
}

impl Read for i32 {
    fn read_from(value: &mut Value, reader: &mut Reader) -> Self {
        whole(value).and_then(|number| Self::try_from(number).ok()).unwrap_or_else(|| {
            reader.expected("a whole number", value);
            0
        })
    }
}

impl Read for f64 {
    fn read_from(value: &mut Value, reader: &mut Reader) -> Self {
        value.as_f64().unwrap_or_else(|| {
            reader.expected("a number", value);
            0.0
        })
    }
}

impl<T: Read> Read for Vec<T> {
    fn read_from(value: &mut Value, reader: &mut Reader) -> Self {
        let Value::Array(items) = value else {
            reader.expected("a list", value);
            return Self::new();
        };
        let read = |(index, item): (usize, &mut Value)| {
            reader.depth += 1;
            let read = T::read_from(item, reader);
            reader.leave_item(index);
            read
        };
        items.iter_mut().enumerate().map(read).collect()
    }
}

impl<D: Dimension> Read for Amount<D> {
    fn read_from(value: &mut Value, reader: &mut Reader) -> Self {
        let (si, written) = amount(value, D::KIND, reader);
        Self::from_parts(si, written)
    }
}

/// Once for all dimensions.
#[inline(never)]
fn amount(value: &Value, kind: crate::quantity::Kind, reader: &mut Reader) -> (f64, Option<Box<str>>) {
    crate::quantity::read(kind, value).unwrap_or_else(|error| {
        reader.complain(error.to_string());
        (0.0, None)
    })
}

impl Read for Stage {
    fn read_from(value: &mut Value, reader: &mut Reader) -> Self {
        serde_json::from_value(value.take()).unwrap_or_else(|error| {
            reader.complain(error.to_string());
            Self::Permit
        })
    }
}

/// Lets `serde` read what [`Read`] reads.
macro_rules! read_by_value {
    ($name:ident) => {
        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let value = <serde_json::Value as serde::Deserialize>::deserialize(deserializer)?;
                crate::project::read::read(value).map_err(serde::de::Error::custom)
            }
        }
    };
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::project::{Project, Space};
    use serde_json::json;

    // A random project with -0.0 for a count fitted the schema and was not read.
    #[test]
    fn whole_numbers_are_read_as_json_schema_counts_them() {
        for (written, expected) in
            [(json!(2), Some(2)), (json!(2.0), Some(2)), (json!(-0.0), Some(0)), (json!(2.5), None), (json!(-1), None)]
        {
            assert_eq!(read::<u32>(written.clone()).ok(), expected, "{written}");
        }
        assert_eq!(
            (read::<i32>(json!(-1.0)).ok(), read::<i32>(json!(1e300)).ok(), read::<u32>(json!("2")).ok()),
            (Some(-1), None, None)
        );
    }

    #[test]
    fn the_first_thing_that_does_not_fit_is_told_at_its_place() {
        let told = |value: Value| read::<Project>(value).expect_err("refused").to_string();
        let first = json!({"schema": 1, "spaces": [
            {"id": "a", "kind": "boiler-room"},
            {"id": "b", "kind": "boiler-room", "story": "one", "name": 3}, {"kind": 5}], "openings": 7});
        assert_eq!(told(first), "/spaces/1/name: expected text, found a number", "fields in the order of the record");
        let deep = json!({"schema": 1, "equipment": [{"id": "e", "kind": "furnace", "placement": {"x": "3 furlongs"}}]});
        assert!(told(deep).starts_with("/equipment/0/placement/x: "));
        assert_eq!(told(json!({"spaces": []})), "the document: the field `schema` is missing");
        assert_eq!(told(json!({"schema": 1, "spaces": [{"kind": "attic"}]})), "/spaces/0: the field `id` is missing");
        assert_eq!(told(json!([])), "the document: expected an object, found a list");
    }

    #[test]
    fn a_record_with_many_unknown_fields_reads_the_same() {
        let mut space = json!({"id": "a", "kind": "attic", "name": "Loft"});
        let plain: Space = read(space.clone()).expect("it reads");
        for number in 0..100 {
            space[format!("later-{number}")] = json!(number);
        }
        assert_eq!(read::<Space>(space).expect("it reads"), plain);
    }
}
