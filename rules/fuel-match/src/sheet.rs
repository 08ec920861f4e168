//! A finding worked out line by line, going on after the first fault and the first missing fact.

use redtag_rule::prelude::*;
use redtag_rule::schema::contract::{Remedy, Step};
use redtag_rule::{Value, json};

/// What is known so far about one subject.
#[derive(Debug, Default)]
pub struct Sheet {
    steps: Vec<Step>,
    faults: Vec<Text>,
    advice: Vec<Text>,
    missing: Option<Unresolved>,
    cures: Vec<Remedy>,
}

impl Sheet {
    /// Adds a line.
    pub fn line(&mut self, label: &str, text: Text, source: &str) {
        self.push(label, text, source, None);
    }

    /// Adds a comparison, and answers it.
    pub fn test(&mut self, label: &str, text: Text, source: &str, holds: bool) -> bool {
        self.push(label, text, source, Some(holds));
        holds
    }

    fn push(&mut self, label: &str, text: Text, source: &str, holds: Option<bool>) {
        let source = (!source.is_empty()).then(|| source.to_owned());
        self.steps.push(Step { label: label.to_owned(), text, source, holds });
    }

    /// Notes what breaks the requirement.
    pub fn fault(&mut self, text: Text) {
        self.faults.push(text);
    }

    /// Notes what is worth knowing.
    pub fn advise(&mut self, text: Text) {
        self.advice.push(text);
    }

    /// Notes a cure in words.
    pub fn cure(&mut self, words: Text) {
        self.cures.push(Remedy { words, patch: Vec::new() });
    }

    /// Notes a cure that can be tried: values at pointers, as the author of the project would write them.
    pub fn cure_at(&mut self, words: Text, values: &[(String, Value)]) {
        let operation = |(pointer, value): &(String, Value)| json!({"op": "add", "path": pointer, "value": value});
        self.cures.push(Remedy { words, patch: values.iter().map(operation).collect() });
    }

    /// Notes what is missing.
    pub fn lack(&mut self, unresolved: Unresolved) {
        self.missing = Some(match self.missing.take() {
            Some(before) => before.and(unresolved),
            None => unresolved,
        });
    }

    /// The fact, or a note that it is missing.
    pub fn want<T>(&mut self, lookup: Lookup<T>) -> Option<T> {
        lookup.map_err(|unresolved| self.lack(unresolved)).ok()
    }

    /// Whether nothing is broken so far.
    pub fn sound(&self) -> bool {
        self.faults.is_empty()
    }

    /// The finding: a fault outweighs a missing fact, a missing fact outweighs advice.
    pub fn finding<T: Named>(self, subject: &Place<T>, wanted: &str, complies: Text) -> Finding {
        let mut steps = self.steps;
        let mut finding = if !self.faults.is_empty() {
            steps.extend(self.advice.into_iter().map(|text| Step { label: "also".to_owned(), text, source: None, holds: None }));
            steps.extend(self.missing.into_iter().flat_map(|unresolved| unresolved.missing).map(untold));
            subject.correction(Text::list(&self.faults)).done()
        } else if let Some(unresolved) = self.missing {
            subject.ask(wanted, || Err(unresolved))
        } else if !self.advice.is_empty() {
            subject.advice(Text::list(&self.advice)).done()
        } else {
            subject.complies(complies).done()
        };
        finding.worksheet.extend(steps);
        finding.remedies.extend(self.cures);
        finding
    }
}

/// Pieces of a sentence, one behind the other.
pub fn join(pieces: &[Text]) -> Text {
    pieces.iter().fold(Text::default(), |all, piece| all.then(piece))
}

fn untold(missing: Missing) -> Step {
    Step { label: "not said".to_owned(), text: Text::plain(missing.pointer), source: None, holds: None }
}
