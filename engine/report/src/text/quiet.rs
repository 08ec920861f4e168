//! Findings that ask nothing of anybody, as a compact list.

use crate::ink::Ink;
use crate::page::{Lead, Page};
use redtag_schema::contract::Outcome;
use redtag_schema::review::ReviewedFinding;
use std::collections::BTreeMap;

/// One line for each outcome and rule, with its subjects.
pub fn show(page: &mut Page, findings: &[&ReviewedFinding]) {
    for (outcome, word) in [(Outcome::Complies, "complies"), (Outcome::NotApplicable, "does not apply")] {
        let mut rules: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
        for finding in findings.iter().filter(|finding| finding.outcome == outcome) {
            rules.entry(&finding.rule).or_default().push(&finding.subject.label);
        }
        if !rules.is_empty() {
            page.blank();
        }
        for (rule, subjects) in rules {
            let lead = Lead::new(&[(super::outcome_ink(outcome), word), (Ink::Plain, "  "), (Ink::Strong, rule)]);
            page.entry(0, lead, &format!("  {}", subjects.join(", ")), word.len() + 2);
        }
    }
}
