//! From text to values. `serde_json` decides whether the text is JSON; `jsonc-parser`, with every leniency off, says
//! where the values of an accepted text stand, and keeps the keys that stand twice.

use super::spans::{Field, Inside, Node, SpanIndex, join};
use super::{repair, syntax_error};
use crate::diagnostic::{Code, Diagnostic, SourceFile, quoted};
use jsonc_parser::{CollectOptions, CommentCollectionStrategy, ParseOptions, ast, common::Ranged};
use serde_json::Value;
use std::borrow::Cow;
use std::collections::HashMap;
use std::ops::Range;
use std::sync::Arc;

/// A text as far as it is JSON.
#[derive(Debug)]
pub(super) struct Parsed {
    /// Its values and where they stand. Where there are slips, those that are left when the slips are read past.
    pub(super) read: Option<(Value, SpanIndex)>,
    /// What is not JSON, each at its place.
    pub(super) slips: Vec<Diagnostic>,
    /// The keys that stand twice.
    pub(super) duplicate_keys: Vec<Diagnostic>,
}

/// Reads a text as JSON; of keys that stand twice, the first `most` are reported.
///
/// Plain slips are complained about and read past, so that one run tells of all of them and of what is wrong behind them. The
/// text that is read then is as long as the one that was written: every place stays where it is.
pub(super) fn parse(file: &Arc<SourceFile>, most: usize) -> Parsed {
    let mut slips = Vec::new();
    let mut text = Cow::Borrowed(file.text());
    let value: Value = loop {
        match serde_json::from_str(&text) {
            Ok(value) => break value,
            Err(error) => {
                slips.push(syntax_error::explain(file, &error));
                match repair::past(&text, file, &error, slips.len()) {
                    Some(repaired) => text = Cow::Owned(repaired),
                    None => return Parsed { read: None, slips, duplicate_keys: Vec::new() },
                }
            }
        }
    };
    let mut indexer = Indexer { file, most, duplicates: Vec::new() };
    match indexer.index(&text) {
        Ok(root) => Parsed { read: Some((value, SpanIndex::new(root))), slips, duplicate_keys: indexer.duplicates },
        Err(error) => {
            slips.push(error);
            Parsed { read: None, slips, duplicate_keys: Vec::new() }
        }
    }
}

const STRICT: ParseOptions = ParseOptions {
    allow_comments: false,
    allow_loose_object_property_names: false,
    allow_trailing_commas: false,
    allow_missing_commas: false,
    allow_single_quoted_strings: false,
    allow_hexadecimal_numbers: false,
    allow_unary_plus_numbers: false,
    allow_bare_decimal_point_numbers: false,
    allow_non_finite_numbers: false,
    allow_extended_string_escapes: false,
};

struct Indexer<'a> {
    file: &'a Arc<SourceFile>,
    most: usize,
    duplicates: Vec<Diagnostic>,
}

impl Indexer<'_> {
    fn index(&mut self, text: &str) -> Result<Node, Diagnostic> {
        let file = self.file;
        let collect = CollectOptions { comments: CommentCollectionStrategy::Off, tokens: false };
        let parsed = jsonc_parser::parse_to_ast(text, &collect, &STRICT).map_err(|error| {
            // The two parsers disagree: nothing the author can have meant, but a place to look at is better than none.
            let range = error.range();
            Diagnostic::error(Code::InvalidJson, format!("this is not JSON: {}", error.kind())).at(file, range.start..range.end)
        })?;
        let value = parsed.value.ok_or_else(|| syntax_error::empty(file))?;
        Ok(self.node(value, ""))
    }

    fn node(&mut self, value: ast::Value<'_>, pointer: &str) -> Node {
        let range = value.range().start..value.range().end;
        let inside = match value {
            ast::Value::Object(object) => Inside::Fields(self.fields(object, pointer)),
            ast::Value::Array(array) => {
                let items = array.elements.into_iter().enumerate();
                Inside::Items(items.map(|(at, item)| self.node(item, &join(pointer, &at.to_string()))).collect())
            }
            _ => Inside::Nothing,
        };
        Node { range, inside }
    }

    fn fields(&mut self, object: ast::Object<'_>, pointer: &str) -> Vec<Field> {
        let mut seen: HashMap<String, Range<usize>> = HashMap::new();
        let mut fields = Vec::with_capacity(object.properties.len());
        for property in object.properties {
            let key = property.name.range();
            let key = key.start..key.end;
            let name = property.name.into_string();
            let pointer = join(pointer, &name);
            match seen.get(&name) {
                Some(_) if self.duplicates.len() >= self.most => {}
                Some(first) => self.duplicates.push(self.duplicate(&name, &pointer, first, &key)),
                None => drop(seen.insert(name.clone(), key.clone())),
            }
            let value = self.node(property.value, &pointer);
            fields.push(Field { name, key, value });
        }
        fields
    }

    fn duplicate(&self, name: &str, pointer: &str, first: &Range<usize>, again: &Range<usize>) -> Diagnostic {
        Diagnostic::error(Code::DuplicateKey, format!("{} stands twice in the same object", quoted(name)))
            .at(self.file, again.clone())
            .related(self.file, first.clone(), "first given here")
            .pointer(pointer)
            .help("keep one of the two: readers of JSON disagree about which one counts")
    }
}
