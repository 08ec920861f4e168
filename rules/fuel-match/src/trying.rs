//! Helpers of this family's tests.

use redtag_rule::Value;
use redtag_rule::prelude::*;
use redtag_rule::schema::quantity::System;

/// A furnace `f` with what it burns and how, and the rest of a project.
pub fn house(burning: Value, rest: Value) -> Value {
    let mut project = json!({"schema": 1, "equipment": [{"id": "f", "kind": "furnace", "fuel_burning": burning}]});
    for (name, value) in rest.as_object().into_iter().flatten() {
        project[name] = value.clone();
    }
    project
}

/// The only finding, which has this outcome.
#[track_caller]
pub fn only(found: &[Finding], outcome: Outcome) -> &Finding {
    assert_eq!(found.len(), 1, "{found:#?}");
    assert_eq!(found[0].outcome, outcome, "{:#?}", lines(&found[0]));
    &found[0]
}

/// Its summary or a line of its worksheet holds the words.
#[track_caller]
pub fn says(finding: &Finding, words: &str) {
    assert!(lines(finding).iter().any(|line| line.contains(words)), "{words:?} is not in {:#?}", lines(finding));
}

/// The pointers it misses.
pub fn missing(finding: &Finding) -> Vec<&str> {
    finding.missing.iter().map(|missing| missing.pointer.as_str()).collect()
}

fn lines(finding: &Finding) -> Vec<String> {
    let step = finding.worksheet.iter().map(|step| format!("{}: {}", step.label, step.text.print(System::UsCustomary)));
    std::iter::once(finding.summary.print(System::UsCustomary)).chain(step).collect()
}
