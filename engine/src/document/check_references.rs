//! Names that stand for something else in the document: every name once, every mention leading somewhere. And days, which
//! must be days of the calendar.
//!
//! The schema says which texts are names. `x-identifies: "space"` marks the id of a space; `x-refers-to: "space"`, or a
//! list of classes, marks a mention of one; the class `any` is every class. Both may stand on the text or on the list
//! around it. `format: "date"` marks a day.

use super::Raw;
use super::did_you_mean::did_you_mean;
use super::naming::listed;
use super::schema_view::{Keywords, SchemaView, annotation};
use super::spans::join;
use crate::diagnostic::{Code, Diagnostic, quoted};
use serde_json::Value;
use std::collections::HashMap;

const IDENTIFIES: &str = "x-identifies";
const REFERS_TO: &str = "x-refers-to";
const FORMAT: &str = "format";

/// More names than any building has; among so many no guess is made which one was meant.
const MOST_NAMES: usize = 2000;

/// What is wrong with the names of a document: everything, or the first `most` of very many. Parts that do not fit the
/// schema are passed over.
pub(super) fn check(raw: &Raw, schema: &Value, most: usize) -> Vec<Diagnostic> {
    let view = SchemaView::new(schema);
    let mut names = Names::default();
    names.collect(view, &view.document(&raw.value), &raw.value, String::new());
    names.complaints(raw, most)
}

/// A text that is a name, and what the schema says it names.
struct Name<'a> {
    name: &'a str,
    classes: Vec<&'a str>,
    pointer: String,
}

impl Name<'_> {
    fn is_one_of(&self, wanted: &[&str]) -> bool {
        wanted.contains(&ANY) || self.classes.iter().any(|class| wanted.contains(class))
    }
}

/// In place of a class: every class.
const ANY: &str = "any";

#[derive(Default)]
struct Names<'a> {
    ids: Vec<Name<'a>>,
    mentions: Vec<Name<'a>>,
    /// What is to be a day and is none, and where.
    no_days: Vec<(&'a str, String)>,
}

impl<'a> Names<'a> {
    fn collect(&mut self, view: SchemaView<'a>, schemas: &[Keywords<'a>], value: &'a Value, pointer: String) {
        if let Some(class) = annotation(schemas, IDENTIFIES) {
            gather(&mut self.ids, value, class, &pointer);
        }
        if let Some(class) = annotation(schemas, REFERS_TO) {
            gather(&mut self.mentions, value, class, &pointer);
        }
        if let Some(words) = value.as_str()
            && annotation(schemas, FORMAT).is_some_and(|format| format == "date")
            && !is_day(words)
        {
            self.no_days.push((words, pointer.clone()));
        }
        match value {
            Value::Object(fields) => {
                for (name, inner) in fields {
                    self.collect(view, &view.field(schemas, name, inner), inner, join(&pointer, name));
                }
            }
            Value::Array(items) => {
                for (at, inner) in items.iter().enumerate() {
                    self.collect(view, &view.item(schemas, at, inner), inner, join(&pointer, &at.to_string()));
                }
            }
            _ => {}
        }
    }

    fn complaints(&self, raw: &Raw, most: usize) -> Vec<Diagnostic> {
        let mut first: HashMap<&str, &Name<'_>> = HashMap::new();
        let mut out = Vec::new();
        for id in &self.ids {
            match first.get(id.name) {
                Some(earlier) if out.len() < most => out.push(duplicate(id, earlier, raw)),
                Some(_) => {}
                None => drop(first.insert(id.name, id)),
            }
        }
        out.extend(self.no_days.iter().take(most).map(|(words, pointer)| no_day(words, pointer, raw)));
        for mention in &self.mentions {
            if out.len() >= most {
                break;
            }
            match first.get(mention.name) {
                None => out.push(self.dangling(mention, raw)),
                Some(named) if named.is_one_of(&mention.classes) => {}
                Some(named) => out.push(self.wrong_class(mention, named, raw)),
            }
        }
        out
    }

    fn candidates(&self, mention: &Name<'_>) -> impl Iterator<Item = &'a str> {
        self.ids.iter().filter(|id| id.is_one_of(&mention.classes)).map(|id| id.name)
    }

    fn dangling(&self, mention: &Name<'_>, raw: &Raw) -> Diagnostic {
        let wanted = if mention.classes.contains(&ANY) { "thing".to_owned() } else { classes(mention) };
        let message = format!("there is no {wanted} {} in this document", quoted(mention.name));
        self.advise(place(Diagnostic::error(Code::DanglingReference, message), mention, raw), mention)
    }

    fn wrong_class(&self, mention: &Name<'_>, named: &Name<'_>, raw: &Raw) -> Diagnostic {
        let (wanted, is) = (with_article(&classes(mention)), with_article(&classes(named)));
        let message = format!("{} is the id of {is}; here {wanted} is wanted", quoted(mention.name));
        let range = raw.spans.nearest(&named.pointer);
        let complaint = place(Diagnostic::error(Code::WrongReference, message), mention, raw);
        self.advise(complaint.related(&raw.file, range, "this is its id"), mention)
    }

    fn advise(&self, complaint: Diagnostic, mention: &Name<'_>) -> Diagnostic {
        if self.ids.len() > MOST_NAMES {
            return complaint;
        }
        let mut known: Vec<_> = self.candidates(mention).collect();
        known.dedup();
        let complaint = match known.as_slice() {
            [] => complaint.expected(format!("the id of {}, but the document has none", with_article(&classes(mention)))),
            known => complaint.expected(listed(known.iter().map(|name| quoted(name)))),
        };
        match did_you_mean(mention.name, known.iter().copied()) {
            Some(meant) => complaint.help(format!("did you mean {}?", quoted(meant))),
            None => complaint,
        }
    }
}

/// Whether a text is a day of the calendar, written `YYYY-MM-DD`.
pub fn is_day(text: &str) -> bool {
    text.len() == 10
        && text.bytes().enumerate().all(|(at, byte)| if matches!(at, 4 | 7) { byte == b'-' } else { byte.is_ascii_digit() })
        && text.parse::<jiff::civil::Date>().is_ok()
}

fn no_day(words: &str, pointer: &str, raw: &Raw) -> Diagnostic {
    Diagnostic::error(Code::BadDate, format!("{} is not a day of the calendar", quoted(words)))
        .at(&raw.file, raw.spans.nearest(pointer))
        .pointer(pointer)
        .expected("a day as YYYY-MM-DD, such as 2025-01-31")
}

fn gather<'a>(names: &mut Vec<Name<'a>>, value: &'a Value, class: &'a Value, pointer: &str) {
    let classes: Vec<&str> = match class {
        Value::Array(classes) => classes.iter().filter_map(Value::as_str).collect(),
        class => class.as_str().into_iter().collect(),
    };
    match value {
        Value::String(name) => names.push(Name { name, classes, pointer: pointer.to_owned() }),
        Value::Array(items) => {
            let texts = items.iter().enumerate().filter_map(|(at, item)| Some((at, item.as_str()?)));
            names.extend(texts.map(|(at, name)| Name {
                name,
                classes: classes.clone(),
                pointer: join(pointer, &at.to_string()),
            }));
        }
        _ => {}
    }
}

fn place(diagnostic: Diagnostic, name: &Name<'_>, raw: &Raw) -> Diagnostic {
    diagnostic.at(&raw.file, raw.spans.nearest(&name.pointer)).pointer(&name.pointer)
}

fn duplicate(again: &Name<'_>, earlier: &Name<'_>, raw: &Raw) -> Diagnostic {
    let message = format!("the id {} is taken: it already stands for {}", quoted(again.name), with_article(&classes(earlier)));
    place(Diagnostic::error(Code::DuplicateId, message), again, raw)
        .related(&raw.file, raw.spans.nearest(&earlier.pointer), "first given here")
        .help("ids are unique across the whole document: change one of the two")
}

/// Classes in words: `gas node`, `panel or disconnect`.
fn classes(name: &Name<'_>) -> String {
    listed(name.classes.iter().map(|class| class.replace(['-', '_'], " ")))
}

/// `a room`, `an opening`. Equipment is counted in pieces.
fn with_article(class: &str) -> String {
    let article = match class.chars().next() {
        _ if class.starts_with("equipment") => "a piece of",
        Some('a' | 'e' | 'i' | 'o') => "an",
        _ => "a",
    };
    format!("{article} {class}")
}
