//! Reading a project from JSON without generated visitors.
//!
//! The derived reader of a document this broad is larger than all rules together (measured in a module that links it: 2.68 MB
//! against the figure DEVELOPERS.md gives for this one), and every rule module links it. A record here is read field by field
//! from the parsed value by a few shared functions instead. Unknown fields and words are passed over.

use crate::quantity::{Amount, Dimension};
use serde_json::{Map, Value};
use std::fmt;

/// Why a value is not what it should be, and where.
#[derive(Debug)]
pub struct ReadError {
    pointer: String,
    message: String,
}

impl ReadError {
    fn expected(what: &str, found: &Value) -> Self {
        let found = match found {
            Value::Null => "null",
            Value::Bool(_) => "true or false",
            Value::Number(_) => "a number",
            Value::String(_) => "text",
            Value::Array(_) => "a list",
            Value::Object(_) => "an object",
        };
        Self { pointer: String::new(), message: format!("expected {what}, found {found}") }
    }

    fn below(mut self, step: &str) -> Self {
        self.pointer = format!("/{}{}", step.replace('~', "~0").replace('/', "~1"), self.pointer);
        self
    }
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let pointer = if self.pointer.is_empty() { "the document" } else { &self.pointer };
        write!(f, "{pointer}: {}", self.message)
    }
}

/// Something a project is made of.
pub trait Read: Sized {
    /// Reads it.
    ///
    /// # Errors
    /// When the value has another shape.
    fn read(value: Value) -> Result<Self, ReadError>;

    /// Whether it tells anything. A word of a later version tells no more than a field left out.
    fn is_said(&self) -> bool {
        true
    }
}

/// The fields of a record.
pub fn object(value: Value) -> Result<Map<String, Value>, ReadError> {
    match value {
        Value::Object(map) => Ok(map),
        other => Err(ReadError::expected("an object", &other)),
    }
}

/// A field that may be missing; `null` is missing too, and so is a word of a later version: what a rule needs and cannot
/// read must make it `unresolved`, never pass. Lists keep such words, since the others in them still count.
#[inline(never)]
pub fn optional<T: Read>(map: &mut Map<String, Value>, name: &str) -> Result<Option<T>, ReadError> {
    Ok(field(map, name)?.filter(T::is_said))
}

fn field<T: Read>(map: &mut Map<String, Value>, name: &str) -> Result<Option<T>, ReadError> {
    match map.get_mut(name).map(Value::take) {
        None | Some(Value::Null) => Ok(None),
        Some(value) => T::read(value).map(Some).map_err(|error| error.below(name)),
    }
}

/// A field that must be there.
#[inline(never)]
pub fn required<T: Read>(map: &mut Map<String, Value>, name: &str) -> Result<T, ReadError> {
    field(map, name)?.ok_or_else(|| ReadError { pointer: String::new(), message: format!("the field `{name}` is missing") })
}

/// The word of a closed set.
pub fn word(value: Value) -> Result<String, ReadError> {
    match value {
        Value::String(word) => Ok(word),
        other => Err(ReadError::expected("a word", &other)),
    }
}

impl Read for String {
    fn read(value: Value) -> Result<Self, ReadError> {
        match value {
            Value::String(text) => Ok(text),
            other => Err(ReadError::expected("text", &other)),
        }
    }
}

impl Read for bool {
    fn read(value: Value) -> Result<Self, ReadError> {
        value.as_bool().ok_or_else(|| ReadError::expected("true or false", &value))
    }
}

/// A whole number however it is written: to JSON Schema `2.0` and `-0.0` are integers too.
fn whole(value: &Value) -> Option<i64> {
    // Up to here every whole number has a float of its own.
    let exact = |number: &f64| number.fract() == 0.0 && number.abs() <= 9_007_199_254_740_992.0;
    value.as_i64().or_else(|| value.as_f64().filter(exact).map(|number| number as i64))
}

impl Read for u32 {
    fn read(value: Value) -> Result<Self, ReadError> {
        let number = whole(&value).and_then(|number| Self::try_from(number).ok());
        number.ok_or_else(|| ReadError::expected("a whole number that is not negative", &value))
    }
}

impl Read for i32 {
    fn read(value: Value) -> Result<Self, ReadError> {
        let number = whole(&value).and_then(|number| Self::try_from(number).ok());
        number.ok_or_else(|| ReadError::expected("a whole number", &value))
    }
}

impl Read for f64 {
    fn read(value: Value) -> Result<Self, ReadError> {
        value.as_f64().ok_or_else(|| ReadError::expected("a number", &value))
    }
}

impl<T: Read> Read for Vec<T> {
    fn read(value: Value) -> Result<Self, ReadError> {
        let Value::Array(items) = value else { return Err(ReadError::expected("a list", &value)) };
        let mut all = Self::with_capacity(items.len());
        for (index, item) in items.into_iter().enumerate() {
            all.push(T::read(item).map_err(|error| error.below(&index.to_string()))?);
        }
        Ok(all)
    }
}

impl<D: Dimension> Read for Amount<D> {
    fn read(value: Value) -> Result<Self, ReadError> {
        serde_json::from_value(value).map_err(|error| ReadError { pointer: String::new(), message: error.to_string() })
    }
}

impl Read for crate::contract::Stage {
    fn read(value: Value) -> Result<Self, ReadError> {
        serde_json::from_value(value).map_err(|error| ReadError { pointer: String::new(), message: error.to_string() })
    }
}

/// Lets `serde` read what [`Read`] reads.
macro_rules! read_by_value {
    ($name:ident) => {
        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let value = <serde_json::Value as serde::Deserialize>::deserialize(deserializer)?;
                <Self as crate::project::Read>::read(value).map_err(serde::de::Error::custom)
            }
        }
    };
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    // A random project with -0.0 for a count fitted the schema and was not read.
    #[test]
    fn whole_numbers_are_read_as_json_schema_counts_them() {
        for (written, read) in
            [(json!(2), Some(2)), (json!(2.0), Some(2)), (json!(-0.0), Some(0)), (json!(2.5), None), (json!(-1), None)]
        {
            assert_eq!(u32::read(written.clone()).ok(), read, "{written}");
        }
        assert_eq!(
            (i32::read(json!(-1.0)).ok(), i32::read(json!(1e300)).ok(), u32::read(json!("2")).ok()),
            (Some(-1), None, None)
        );
    }
}
