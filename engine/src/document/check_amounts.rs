//! Amounts and numbers that cannot be, and those that nobody builds.
//!
//! The schema carries both limits of every amount under `x-range`. What is impossible is an error: a rule that believed it
//! would pass or refuse a house that does not exist. What is merely unusual is a warning that names the usual range.

use super::Raw;
use super::naming::called;
use super::schema_view::{Keywords, SchemaView, annotation};
use super::spans::join;
use crate::diagnostic::{Code, Diagnostic};
use redtag_schema::quantity::Kind;
use serde_json::Value;

const RANGE: &str = "x-range";
const DIMENSION: &str = "x-dimension";

/// How far two conversions of one amount may lie apart, as a share of it.
const SAME: f64 = 1e-9;

/// Everything that is out of its range, or the first `most` of very much.
pub(super) fn check(raw: &Raw, schema: &Value, most: usize) -> Vec<Diagnostic> {
    let view = SchemaView::new(schema);
    let mut walk = Walk { raw, view, most, found: Vec::new() };
    walk.value(&view.document(&raw.value), &raw.value, String::new());
    walk.found
}

struct Walk<'a> {
    raw: &'a Raw,
    view: SchemaView<'a>,
    most: usize,
    found: Vec<Diagnostic>,
}

impl<'a> Walk<'a> {
    fn value(&mut self, schemas: &[Keywords<'a>], value: &'a Value, pointer: String) {
        if self.found.len() >= self.most {
            return;
        }
        match value {
            Value::Object(fields) => {
                for (name, inner) in fields {
                    self.value(&self.view.field(schemas, name, inner), inner, join(&pointer, name));
                }
            }
            Value::Array(items) => {
                for (at, inner) in items.iter().enumerate() {
                    self.value(&self.view.item(schemas, at, inner), inner, join(&pointer, &at.to_string()));
                }
            }
            Value::String(_) | Value::Number(_) => {
                let range = annotation(schemas, RANGE).and_then(|range| Limits::read(range, annotation(schemas, DIMENSION)));
                let complaint = range.and_then(|range| range.complaint(value, &pointer, self.raw));
                self.found.extend(complaint);
            }
            _ => {}
        }
    }
}

/// A range as the schema says it.
struct Limits<'a> {
    of: &'a str,
    kind: Option<Kind>,
    possible: [&'a Value; 2],
    usual: [&'a Value; 2],
    none: bool,
}

impl<'a> Limits<'a> {
    fn read(range: &'a Value, dimension: Option<&Value>) -> Option<Self> {
        let ends = |name: &str| Some([range.get(name)?.get(0)?, range.get(name)?.get(1)?]);
        let kind = match dimension.and_then(Value::as_str) {
            Some(name) => Some(*Kind::ALL.iter().find(|kind| kind.name() == name)?),
            None => None,
        };
        let of = range.get("of")?.as_str()?;
        let none = range.get("none").and_then(Value::as_bool).unwrap_or_default();
        Some(Self { of, kind, possible: ends("possible")?, usual: ends("usual")?, none })
    }

    /// A value of the document, or a limit, as a number; nothing where it does not read, which is told elsewhere.
    fn number(&self, value: &Value) -> Option<f64> {
        match self.kind {
            Some(kind) => kind.parse(value.as_str()?).ok(),
            None => value.as_f64(),
        }
    }

    fn complaint(&self, value: &Value, pointer: &str, raw: &Raw) -> Option<Diagnostic> {
        let found = self.number(value)?;
        if self.none && found == 0.0 {
            return None;
        }
        if !self.within(found, self.possible)? {
            // A plain number past its bounds is told by the schema's own keywords.
            self.kind?;
            let message = format!("{} of {} cannot be", called(pointer, &raw.value), said(value));
            let expected = format!("{} between {}", self.of, self.words(self.possible));
            return Some(place(Diagnostic::error(Code::ImpossibleAmount, message), pointer, raw).expected(expected).help(HELP));
        }
        if self.within(found, self.usual)? {
            return None;
        }
        let message = format!("{} of {} is unusual", called(pointer, &raw.value), said(value));
        let expected = format!("{}: between {} is usual", self.of, self.words(self.usual));
        let help = "check the unit and the zeros; if it is so, leave it";
        Some(place(Diagnostic::warning(Code::UnusualAmount, message), pointer, raw).expected(expected).help(help))
    }

    /// Whether a number lies between two limits or on one of them.
    fn within(&self, found: f64, [least, most]: [&Value; 2]) -> Option<bool> {
        let (least, most) = (self.number(least)?, self.number(most)?);
        Some(found >= least - SAME * least.abs() && found <= most + SAME * most.abs())
    }

    fn words(&self, [least, most]: [&Value; 2]) -> String {
        format!("{} and {}", said(least), said(most))
    }
}

const HELP: &str = "correct the number or its unit; leave the field out when it is not known";

fn said(value: &Value) -> String {
    value.as_str().map_or_else(|| value.to_string(), str::to_owned)
}

fn place(diagnostic: Diagnostic, pointer: &str, raw: &Raw) -> Diagnostic {
    diagnostic.at(&raw.file, raw.spans.nearest(pointer)).pointer(pointer)
}
