//! The JSON inside a case file: read by the same reader as every document, with places in the case file itself.

use super::{Expected, Setting};
use crate::diagnostic::{Diagnostic, SourceFile};
use crate::document::{Checker, Document, Format, Limits, read_bytes};
use schemars::{JsonSchema, schema_for};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Map, Value};
use std::ops::Range;
use std::sync::LazyLock;

/// What a block of JSON in a case file is.
pub(super) trait Block: Serialize + DeserializeOwned + JsonSchema + Sized + 'static {
    /// Its format.
    fn format() -> &'static Result<Format, Diagnostic>;
}

macro_rules! block {
    ($type:ty, $name:literal) => {
        impl Block for $type {
            fn format() -> &'static Result<Format, Diagnostic> {
                static FORMAT: LazyLock<Result<Format, Diagnostic>> = LazyLock::new(|| {
                    Ok(Format { name: $name, version: 1, checker: Checker::new(schema_for!($type).to_value())? })
                });
                &FORMAT
            }
        }
    };
}
pub(super) use block;

block!(Map<String, Value>, "project");
block!(Vec<Value>, "change");
block!(Setting, "setting");
block!(Vec<Expected>, "list of findings");

/// Reads a part of a text as JSON.
pub(super) fn read<T: Block>(file: &SourceFile, range: Range<usize>) -> Result<Document<T>, Vec<Diagnostic>> {
    let format = T::format().as_ref().map_err(|error| vec![error.clone()])?;
    read_bytes(file.name(), masked(file.text(), range).as_bytes(), format, &Limits::default())
}

/// The text with everything blank but one part, so that lines and columns in it are those of the whole.
fn masked(text: &str, range: Range<usize>) -> String {
    let blank = |part: &str| part.chars().map(|character| if character == '\n' { '\n' } else { ' ' }).collect::<String>();
    let (before, part, after) = (text.get(..range.start), text.get(range.clone()), text.get(range.end..));
    format!("{}{}{}", blank(before.unwrap_or_default()), part.unwrap_or_default(), blank(after.unwrap_or_default()))
}
