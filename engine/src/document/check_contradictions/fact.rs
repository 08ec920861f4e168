//! Facts of a document as it is written, looked up by pointer.

use crate::document::Raw;
use crate::document::naming::called;
use redtag_schema::quantity::{Kind, System};
use serde_json::Value;

/// An element of a list, or the document.
pub(in crate::document) struct Fact<'a> {
    raw: &'a Raw,
    value: &'a Value,
    pointer: String,
}

impl<'a> Fact<'a> {
    /// Every element a pattern leads to.
    pub fn all(raw: &'a Raw, pattern: &str) -> Vec<Self> {
        let mut found = vec![Self { raw, value: &raw.value, pointer: String::new() }];
        for token in pattern.split('/').filter(|token| !token.is_empty()) {
            found = found.into_iter().flat_map(|fact| fact.step(token)).collect();
        }
        found
    }

    fn step(self, token: &str) -> Vec<Self> {
        let Self { raw, value, pointer } = self;
        match (token, value) {
            ("*", Value::Array(items)) => {
                items.iter().enumerate().map(|(at, value)| Self { raw, value, pointer: format!("{pointer}/{at}") }).collect()
            }
            ("*", _) => Vec::new(),
            _ => value.get(token).map(|value| Self { raw, value, pointer: format!("{pointer}/{token}") }).into_iter().collect(),
        }
    }

    /// Where it stands.
    pub fn pointer(&self) -> &str {
        &self.pointer
    }

    /// What it is called in a sentence.
    pub fn name(&self) -> String {
        called(&self.pointer, &self.raw.value)
    }

    /// The elements of a list of the document.
    pub fn others(&self, pattern: &str) -> Vec<Self> {
        Self::all(self.raw, pattern)
    }

    /// The element of a list of the document with an id.
    pub fn named(&self, pattern: &str, id: &str) -> Option<Self> {
        self.others(pattern).into_iter().find(|fact| fact.word("/id") == Some(id))
    }

    /// Whether something is written there.
    pub fn has(&self, step: &str) -> bool {
        self.value.pointer(step).is_some()
    }

    /// A word or another text.
    pub fn word(&self, step: &str) -> Option<&'a str> {
        self.value.pointer(step)?.as_str()
    }

    /// True or false.
    pub fn flag(&self, step: &str) -> Option<bool> {
        self.value.pointer(step)?.as_bool()
    }

    /// A plain number.
    pub fn number(&self, step: &str) -> Option<f64> {
        self.value.pointer(step)?.as_f64()
    }

    /// How many elements a list has.
    pub fn count(&self, step: &str) -> Option<usize> {
        Some(self.value.pointer(step)?.as_array()?.len())
    }

    /// A list.
    pub fn list(&self, step: &str) -> &'a [Value] {
        self.value.pointer(step).and_then(Value::as_array).map_or(&[], Vec::as_slice)
    }

    /// An amount in SI base units.
    pub fn amount(&self, step: &str, kind: Kind) -> Option<f64> {
        kind.parse(self.word(step)?).ok()
    }

    /// Says that the first amount must not be above the second, and is.
    pub fn above(&self, first: &str, second: &str, kind: Kind, what: &str) -> Option<super::Clash> {
        let (one, two) = (self.amount(first, kind)?, self.amount(second, kind)?);
        let slack = 1e-6 * one.abs().max(two.abs());
        (one > two + slack).then(|| super::Clash::Impossible(format!("{}: {what}, {}", self.name(), self.both(first, second))))
    }

    /// Both texts, as written.
    pub fn both(&self, first: &str, second: &str) -> String {
        let said = |step: &str| {
            self.value.pointer(step).map_or_else(String::new, |value| match value.as_str() {
                Some(words) => words.to_owned(),
                None => value.to_string(),
            })
        };
        format!("{} against {}", said(first), said(second))
    }
}

/// An amount for people.
pub(super) fn words(si: f64, kind: Kind) -> String {
    kind.print(si, System::UsCustomary, None)
}

/// The area a closed outline encloses, in square metres; nothing where a corner does not read.
pub(super) fn enclosed(corners: &[Value]) -> Option<f64> {
    let at = |corner: &Value, axis: &str| Kind::Position.parse(corner.get(axis)?.as_str()?).ok();
    let ring: Vec<redtag_plan::At> =
        corners.iter().map(|corner| Some([at(corner, "x")?, at(corner, "y")?])).collect::<Option<_>>()?;
    Some(redtag_plan::area(&ring)).filter(|area| *area > 0.0)
}
