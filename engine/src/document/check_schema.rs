//! A document against its JSON Schema: one complaint for one mistake, in our own words, at the place of the mistake.
//!
//! The `jsonschema` crate finds what does not fit. It knows nothing of the text, names the same slip several times where
//! a schema offers alternatives, and speaks to programmers; folding and wording happen here.

mod dimension;
mod fields;
mod fold;
mod mistake;
mod words;

use super::Raw;
use super::naming::called;
use super::schema_view::SchemaView;
use crate::diagnostic::{Code, Diagnostic};
use serde_json::Value;

/// A JSON Schema made ready to check documents with.
#[derive(Debug)]
pub struct Checker {
    schema: Value,
    validator: jsonschema::Validator,
}

impl Checker {
    /// Makes a schema ready. Where the schema says `x-dimension`, amounts are read as the quantity of that name.
    ///
    /// # Errors
    /// When the schema is not one: a mistake of whoever wrote the schema, not of a document's author.
    pub fn new(schema: Value) -> Result<Self, Diagnostic> {
        let validator = jsonschema::options()
            .with_draft(jsonschema::Draft::Draft202012)
            .with_keyword(dimension::KEYWORD, dimension::compile)
            .build(&schema)
            .map_err(|error| {
                let message = format!("the schema itself is wrong at {}: {error}", error.instance_path());
                Diagnostic::error(Code::BadSchema, message)
            })?;
        Ok(Self { schema, validator })
    }

    /// The schema.
    pub fn schema(&self) -> &Value {
        &self.schema
    }

    /// What in a document does not fit the schema: everything, or the first `most` of very many.
    pub(super) fn check(&self, raw: &Raw, most: usize) -> Vec<Diagnostic> {
        if self.validator.is_valid(&raw.value) {
            return Vec::new();
        }
        // A few more than are reported, since some only follow from others.
        let found = self.validator.iter_errors(&raw.value).flat_map(|error| mistake::settle(&error));
        let found = found.take(most.saturating_mul(4)).collect();
        let view = SchemaView::new(&self.schema);
        let mistakes = fold::tidy(found, view, &raw.value);
        if mistakes.is_empty() {
            return vec![self.unexplained(raw)];
        }
        mistakes.iter().take(most).map(|mistake| words::explain(mistake, view, raw)).collect()
    }

    /// A document that does not fit is never taken for one that does, even where folding leaves nothing to say.
    fn unexplained(&self, raw: &Raw) -> Diagnostic {
        let error = self.validator.iter_errors(&raw.value).next();
        let pointer = error.as_ref().map_or("", |error| error.instance_path().as_str());
        let told = error.as_ref().map_or_else(String::new, |error| format!(": {error}"));
        Diagnostic::error(Code::DoesNotFit, format!("{} does not fit{told}", called(pointer, &raw.value)))
            .at(&raw.file, raw.spans.nearest(pointer))
            .pointer(pointer)
    }
}
