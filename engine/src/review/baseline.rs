//! What is new since an earlier review. Findings are matched by what they say of what, never by line: a project that grew at its
//! top has no new findings below.

use super::settle;
use redtag_schema::contract::Outcome;
use redtag_schema::review::{Review, ReviewedFinding};
use std::collections::BTreeMap;

/// What makes two findings of two reviews the same: rule, subject, outcome.
type Fingerprint = (String, String, Outcome);

fn fingerprint(finding: &ReviewedFinding) -> Fingerprint {
    let subject = finding.subject.id.as_deref().unwrap_or(&finding.subject.pointer);
    (finding.rule.clone(), subject.to_owned(), finding.outcome)
}

/// Marks as known what the findings of an earlier review of the same project had. Where a rule says the same of a subject more
/// often than before, the ones whose words have not changed are the known ones.
pub fn mark_known(review: &mut Review, since: &str, earlier: &[ReviewedFinding]) {
    let mut words: BTreeMap<Fingerprint, Vec<&str>> = BTreeMap::new();
    for finding in earlier {
        words.entry(fingerprint(finding)).or_default().push(&finding.message);
    }
    let mut take = |finding: &ReviewedFinding, same_words: bool| -> bool {
        let Some(left) = words.get_mut(&fingerprint(finding)) else { return false };
        let at = left.iter().position(|words| !same_words || *words == finding.message);
        at.map(|at| left.swap_remove(at)).is_some()
    };
    for same_words in [true, false] {
        for finding in review.findings.iter_mut().filter(|finding| !finding.known) {
            finding.known = take(finding, same_words);
        }
    }
    review.since = Some(since.to_owned());
    settle::sort(&mut review.findings);
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn review(findings: &[(&str, &str, &str)]) -> Review {
        let findings: Vec<_> = findings
            .iter()
            .map(|(subject, outcome, message)| {
                json!({
                    "rule": "family/topic", "title": "t", "level": "required", "outcome": outcome, "message": message,
                    "subject": {"pointer": format!("/equipment/{message}"), "id": subject, "label": "x"},
                    "place": {"line": 1, "column": 1, "end_line": 1, "end_column": 2},
                    "summary": {"template": message}, "citations": [],
                })
            })
            .collect();
        let review = json!({
            "file": "house.json", "stage": "permit", "date": "2025-03-14", "date_from": "asked", "packs": [], "counts": {},
            "findings": findings,
        });
        serde_json::from_value(review).expect("this is a review")
    }

    fn known(now: &[(&str, &str, &str)], earlier: &[(&str, &str, &str)]) -> Vec<(String, bool)> {
        let mut now = review(now);
        mark_known(&mut now, "main", &review(earlier).findings);
        now.findings.into_iter().map(|finding| (finding.message, finding.known)).collect()
    }

    #[test]
    fn another_subject_or_outcome_is_new() {
        let earlier = [("a", "correction", "1"), ("b", "unresolved", "2")];
        let now = [("a", "correction", "7"), ("b", "correction", "8"), ("c", "correction", "9")];
        let words = |text: &str, known| (text.to_owned(), known);
        assert_eq!(known(&now, &earlier), [words("8", false), words("9", false), words("7", true)]);
    }

    #[test]
    fn once_more_than_before_is_new_once() {
        let earlier = [("a", "correction", "2")];
        let now = [("a", "correction", "1"), ("a", "correction", "2"), ("a", "correction", "3")];
        let found = known(&now, &earlier);
        assert_eq!(found.iter().filter(|(_, known)| *known).collect::<Vec<_>>(), [&("2".to_owned(), true)]);
    }

    #[test]
    fn nothing_earlier_leaves_all_new() {
        assert_eq!(known(&[("a", "correction", "1")], &[]), [("1".to_owned(), false)]);
    }
}
