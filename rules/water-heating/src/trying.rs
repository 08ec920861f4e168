//! Helpers of this family's tests.

use redtag_rule::prelude::*;
use redtag_rule::schema::quantity::System;

/// The only finding that applies, which has this outcome and says these words.
#[track_caller]
pub fn only(found: &[Finding], outcome: Outcome, words: &str) {
    let applies: Vec<_> = found.iter().filter(|finding| finding.outcome != Outcome::NotApplicable).collect();
    assert_eq!(applies.len(), 1, "{found:#?}");
    let lines = applies[0].worksheet.iter().map(|step| format!("{}: {}", step.label, step.text.print(System::UsCustomary)));
    let said: Vec<String> = std::iter::once(applies[0].summary.print(System::UsCustomary)).chain(lines).collect();
    assert_eq!(applies[0].outcome, outcome, "{said:#?}");
    assert!(said.iter().any(|line| line.contains(words)), "{words:?} is not in {said:#?}");
}
