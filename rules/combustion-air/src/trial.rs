//! One method of supplying combustion air, tried on one space.

use redtag_rule::prelude::*;
use redtag_rule::schema::contract::{Remedy, Step};

/// How a method fared.
#[derive(Debug, Clone)]
pub enum Verdict {
    /// It supplies the air; the text says with what margin.
    Passes(Text),
    /// It falls short; the text says by how much, the remedies what would make it pass, smallest first.
    Misses(Text, Vec<Remedy>),
    /// The project does not say enough.
    Unknown(Unresolved),
}

/// A method, how it fared and the arithmetic.
#[derive(Debug, Clone)]
pub struct Trial {
    /// The method in words: `two outdoor openings`.
    pub method: &'static str,
    /// The section the method stands in.
    pub section: &'static str,
    /// How it fared.
    pub verdict: Verdict,
    /// The arithmetic.
    pub steps: Vec<Step>,
}

/// The arithmetic of a trial while it is being worked out.
#[derive(Debug, Default)]
pub struct Sheet(Vec<Step>);

impl Sheet {
    /// Adds a line.
    pub fn line(&mut self, label: &str, text: Text, source: &str) {
        self.push(label, text, source, None);
    }

    /// Adds a comparison.
    pub fn test(&mut self, label: &str, text: Text, source: &str, holds: bool) -> bool {
        self.push(label, text, source, Some(holds));
        holds
    }

    /// Takes over the lines of another sheet.
    pub fn take(&mut self, other: Self) {
        self.0.extend(other.0);
    }

    fn push(&mut self, label: &str, text: Text, source: &str, holds: Option<bool>) {
        let source = (!source.is_empty()).then(|| source.to_owned());
        self.0.push(Step { label: label.to_owned(), text, source, holds });
    }

    /// The trial of a method whose working may stop at a missing fact.
    pub fn trial(
        mut self,
        method: &'static str,
        section: &'static str,
        work: impl FnOnce(&mut Self) -> Lookup<Verdict>,
    ) -> Trial {
        let verdict = work(&mut self).unwrap_or_else(Verdict::Unknown);
        Trial { method, section, verdict, steps: self.0 }
    }
}

/// A cure in words.
pub fn remedy(words: Text) -> Remedy {
    Remedy { words, patch: Vec::new() }
}

/// A cure that can be tried: values at pointers, as the author of the project would write them.
pub fn remedy_at(words: Text, values: &[(String, &str)]) -> Remedy {
    let patch =
        values.iter().map(|(pointer, value)| redtag_rule::json!({"op": "add", "path": pointer, "value": value})).collect();
    Remedy { words, patch }
}
