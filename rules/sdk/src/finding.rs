//! Findings, step by step.

use crate::sheet::{remedy, remedy_at, step};
use redtag_schema::contract::{Finding, Mark, Missing, Outcome, Remedy, Step, Subject, Text};
use serde_json::Value;

/// Builds a finding. The rule's id is filled in by the module.
#[derive(Debug, Clone)]
pub struct FindingBuilder(Finding);

impl FindingBuilder {
    /// A finding about a subject.
    pub fn new(subject: Subject, outcome: Outcome, summary: Text) -> Self {
        Self(Finding {
            rule: String::new(),
            subject,
            outcome,
            summary,
            worksheet: Vec::new(),
            missing: Vec::new(),
            remedies: Vec::new(),
            marks: Vec::new(),
            sections: Vec::new(),
            related: Vec::new(),
        })
    }

    /// What it is so far.
    pub fn outcome(&self) -> Outcome {
        self.0.outcome
    }

    /// Adds a line of arithmetic.
    #[must_use]
    pub fn step(mut self, label: impl Into<String>, text: Text, source: &str) -> Self {
        self.0.worksheet.push(step(label, text, source, None));
        self
    }

    /// Adds a comparison.
    #[must_use]
    pub fn test(mut self, label: impl Into<String>, text: Text, source: &str, holds: bool) -> Self {
        self.0.worksheet.push(step(label, text, source, Some(holds)));
        self
    }

    /// Adds lines worked out elsewhere.
    #[must_use]
    pub fn steps(mut self, steps: impl IntoIterator<Item = Step>) -> Self {
        self.0.worksheet.extend(steps);
        self
    }

    /// Adds a cure in words.
    #[must_use]
    pub fn remedy(self, words: Text) -> Self {
        self.cure(remedy(words))
    }

    /// Adds a cure that can be tried: one value at one pointer, as the author of the project would write it.
    #[must_use]
    pub fn remedy_set(self, words: Text, pointer: impl Into<String>, value: Value) -> Self {
        self.cure(remedy_at(words, &[(pointer.into(), value)]))
    }

    /// Adds a ready-made cure.
    #[must_use]
    pub fn cure(mut self, remedy: Remedy) -> Self {
        self.0.remedies.push(remedy);
        self
    }

    /// Adds a place to fill in.
    #[must_use]
    pub fn missing(mut self, missing: impl IntoIterator<Item = Missing>) -> Self {
        self.0.missing.extend(missing);
        self
    }

    /// Adds a shape on the plan.
    #[must_use]
    pub fn mark(mut self, mark: Mark) -> Self {
        self.0.marks.push(mark);
        self
    }

    /// Narrows the rule's citations to a section.
    #[must_use]
    pub fn section(mut self, section: impl Into<String>) -> Self {
        self.0.sections.push(section.into());
        self
    }

    /// Points at another place that has to do with it.
    #[must_use]
    pub fn related(mut self, pointer: impl Into<String>) -> Self {
        self.0.related.push(pointer.into());
        self
    }

    /// The finding.
    pub fn done(self) -> Finding {
        self.0
    }
}

impl<T: crate::Named> crate::Place<'_, T> {
    /// The requirement is met.
    pub fn complies(&self, summary: Text) -> FindingBuilder {
        FindingBuilder::new(self.subject(), Outcome::Complies, summary)
    }

    /// The requirement is not met.
    pub fn correction(&self, summary: Text) -> FindingBuilder {
        FindingBuilder::new(self.subject(), Outcome::Correction, summary)
    }

    /// Worth knowing; not required.
    pub fn advice(&self, summary: Text) -> FindingBuilder {
        FindingBuilder::new(self.subject(), Outcome::Advice, summary)
    }

    /// The requirement does not concern this subject.
    pub fn not_applicable(&self, summary: Text) -> FindingBuilder {
        FindingBuilder::new(self.subject(), Outcome::NotApplicable, summary)
    }

    /// The project does not say enough.
    pub fn unresolved(&self, summary: Text, unresolved: crate::Unresolved) -> FindingBuilder {
        FindingBuilder::new(self.subject(), Outcome::Unresolved, summary).missing(unresolved.missing)
    }

    /// Runs a check about this subject; facts it misses make the finding `unresolved`.
    pub fn ask(&self, wanted: &str, check: impl FnOnce() -> crate::Lookup<FindingBuilder>) -> Finding {
        match check() {
            Ok(finding) => finding.done(),
            Err(unresolved) => {
                let count = unresolved.missing.len();
                let facts = if count == 1 { "one fact is".to_owned() } else { format!("{count} facts are") };
                let summary = Text::plain(format!("cannot tell {wanted}: {facts} missing"));
                self.unresolved(summary, unresolved).done()
            }
        }
    }
}

/// Asks the same of several subjects.
pub fn ask_each<'p, 'a: 'p, T: crate::Named + 'a>(
    places: impl IntoIterator<Item = &'p crate::Place<'a, T>>,
    wanted: &str,
    check: impl Fn(&'p crate::Place<'a, T>) -> crate::Lookup<FindingBuilder>,
) -> Vec<Finding> {
    places.into_iter().map(|place| place.ask(wanted, || check(place))).collect()
}
