//! What is new since an earlier review, and what brought it: the drawing or the law. Findings are matched by what they say of what,
//! never by line: a project that grew at its top has no new findings below.

use super::followed::{Followed, by_ids};
use super::settle;
use redtag_schema::contract::Outcome;
use redtag_schema::review::{Change, Gone, Review, ReviewedFinding};
use serde_json::Value;
use std::collections::BTreeMap;

/// An earlier state of a project, reviewed.
#[derive(Debug, Clone, Copy)]
pub struct Earlier<'a> {
    /// What was found then, by the law of then.
    pub findings: &'a [ReviewedFinding],
    /// What is found in the project as it was then by the law of now; `None` where the law is the same, or was never asked.
    pub by_todays_law: Option<&'a [ReviewedFinding]>,
    /// Whether what brought a finding can be told at all.
    pub told_apart: bool,
    /// The project as it was, where it is known.
    pub project: Option<&'a Value>,
    /// What its ids are called now.
    pub followed: &'a Followed,
}

/// What makes two findings of two reviews the same: rule, subject, outcome.
type Fingerprint = (String, String, Outcome);

/// Marks as known what the findings of an earlier review of the same project had, no worse than now. Of what is new it is said
/// what brought it. Where a rule says the same of a subject more often than before, the ones whose words have not changed are the
/// known ones.
pub fn mark_known(review: &mut Review, since: &str, project: Option<&Value>, earlier: &Earlier) {
    let subjects = Subjects { now: project, earlier };
    let before = subjects.match_with(&review.findings, earlier.findings);
    let by_law = earlier.by_todays_law.map(|findings| (findings, subjects.match_with(&review.findings, findings)));
    let mut gone_unresolved = subjects.corrections_gone(&before, earlier.findings);
    for (at, finding) in review.findings.iter_mut().enumerate() {
        let was = before.of[at].map(|index| &earlier.findings[index]);
        let under_law = by_law.as_ref().and_then(|(findings, matched)| matched.of[at].map(|index| &findings[index]));
        let as_bad = |was: &ReviewedFinding| !subjects.worse(finding, was);
        let as_drawn = by_law.is_none() || under_law.is_some_and(as_bad);
        let change = match (was, under_law) {
            (Some(was), _) if as_bad(was) => None,
            _ if by_law.is_some() && as_drawn => Some(Change::Law),
            (Some(was), _) | (None, Some(was)) => Some(Change::Worse { was: was.message.clone() }),
            (None, None) => Some(subjects.fact_removed(finding, &mut gone_unresolved).unwrap_or(Change::Drawing)),
        };
        finding.known = change.is_none();
        finding.brought_by = change.filter(|change| earlier.told_apart || *change != Change::Drawing);
    }
    let still = |index: usize| by_law.as_ref().is_none_or(|(findings, _)| subjects.is_among(&earlier.findings[index], findings));
    review.before.gone = before
        .gone(earlier.findings)
        .map(|index| {
            let was = &earlier.findings[index];
            let (rule, subject, message) = (was.rule.clone(), was.subject.clone(), was.message.clone());
            Gone { rule, subject, message, by_law: !still(index) }
        })
        .collect();
    review.before.ids.clone_from(earlier.followed.renamed());
    review.since = Some(since.to_owned());
    settle::sort(&mut review.findings);
}

/// Which earlier finding each of the findings is, and which of the earlier ones none of them is.
struct Matched {
    of: Vec<Option<usize>>,
    left: Vec<bool>,
}

impl Matched {
    /// Corrections that no finding is.
    fn gone<'a>(&'a self, earlier: &'a [ReviewedFinding]) -> impl Iterator<Item = usize> + 'a {
        (0..earlier.len()).filter(|&index| self.left[index] && earlier[index].outcome == Outcome::Correction)
    }
}

/// What the findings of two reviews are about.
struct Subjects<'a> {
    now: Option<&'a Value>,
    earlier: &'a Earlier<'a>,
}

impl Subjects<'_> {
    fn now(&self, finding: &ReviewedFinding) -> String {
        let place = || self.now.map(|project| by_ids(project, &finding.subject.pointer, &|id| id));
        let id = finding.subject.id.clone();
        id.or_else(place).unwrap_or_else(|| finding.subject.pointer.clone())
    }

    fn then(&self, finding: &ReviewedFinding) -> String {
        let Earlier { project, followed, .. } = self.earlier;
        let id = finding.subject.id.as_deref().map(|id| followed.id(id).to_owned());
        let place = || project.map(|project| followed.place(project, &finding.subject.pointer));
        id.or_else(place).unwrap_or_else(|| finding.subject.pointer.clone())
    }

    fn match_with(&self, findings: &[ReviewedFinding], earlier: &[ReviewedFinding]) -> Matched {
        let mut there: BTreeMap<Fingerprint, Vec<(usize, String)>> = BTreeMap::new();
        for (index, finding) in earlier.iter().enumerate() {
            let key = (finding.rule.clone(), self.then(finding), finding.outcome);
            there.entry(key).or_default().push((index, self.earlier.followed.words(&finding.message)));
        }
        let mut matched = Matched { of: vec![None; findings.len()], left: vec![true; earlier.len()] };
        for same_words in [true, false] {
            for (at, finding) in findings.iter().enumerate().filter(|(at, _)| matched.of[*at].is_none()).collect::<Vec<_>>() {
                let key = (finding.rule.clone(), self.now(finding), finding.outcome);
                let Some(left) = there.get_mut(&key) else { continue };
                let Some(place) = left.iter().position(|(_, words)| !same_words || *words == finding.message) else { continue };
                let (index, _) = left.remove(place);
                matched.of[at] = Some(index);
                matched.left[index] = false;
            }
        }
        matched
    }

    /// Corrections that are there no more, by rule and subject, with their words.
    fn corrections_gone(&self, matched: &Matched, earlier: &[ReviewedFinding]) -> BTreeMap<(String, String), String> {
        let gone = matched.gone(earlier).map(|index| &earlier[index]);
        gone.map(|finding| ((finding.rule.clone(), self.then(finding)), finding.message.clone())).collect()
    }

    /// What cannot be told any more and was a correction: a fact was taken away. Each correction that is gone explains one.
    fn fact_removed(&self, finding: &ReviewedFinding, gone: &mut BTreeMap<(String, String), String>) -> Option<Change> {
        if finding.outcome != Outcome::Unresolved {
            return None;
        }
        let was = gone.remove(&(finding.rule.clone(), self.now(finding)))?;
        Some(Change::FactRemoved { was })
    }

    /// Whether a review of the same project has a finding, whatever its words.
    fn is_among(&self, finding: &ReviewedFinding, others: &[ReviewedFinding]) -> bool {
        let key = |one: &ReviewedFinding| (one.rule.clone(), one.subject.pointer.clone(), one.outcome);
        others.iter().any(|other| key(other) == key(finding))
    }

    /// Whether a correction is worse than it was: an amount further from its limit, a comparison that held and fails, or, where
    /// nothing was compared, other words.
    fn worse(&self, now: &ReviewedFinding, was: &ReviewedFinding) -> bool {
        if now.outcome != Outcome::Correction {
            return false;
        }
        let (after, before) = (failing(now), failing(was));
        if after.is_empty() && before.is_empty() {
            return self.earlier.followed.words(&was.message) != now.message;
        }
        after.iter().any(|(label, failed)| before.get(label).is_none_or(|before| failed.exceeds(before)))
    }
}

/// How often a comparison fails, and by how much at the worst, where that is a matter of amounts.
#[derive(Debug, Clone, Copy, Default)]
struct Failed {
    times: usize,
    excess: Option<f64>,
}

/// The comparisons that fail, by their labels.
fn failing(finding: &ReviewedFinding) -> BTreeMap<&str, Failed> {
    let mut all: BTreeMap<&str, Failed> = BTreeMap::new();
    for step in finding.worksheet.iter().filter(|step| step.holds == Some(false)) {
        let failed = all.entry(&step.label).or_default();
        failed.times += 1;
        failed.excess = [failed.excess, step.excess()].into_iter().flatten().reduce(f64::max);
    }
    all
}

impl Failed {
    /// Whether it fails more often than before, or by more. Amounts go through text and back: a millionth is nothing.
    fn exceeds(&self, before: &Self) -> bool {
        const NOTHING: f64 = 1e-6;
        let further = match (before.excess, self.excess) {
            (Some(before), Some(now)) => now > before + NOTHING * before.abs().max(1.0),
            // By how much is not said of both.
            _ => false,
        };
        self.times > before.times || further
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    /// A comparison that fails: an amount against the least it may be.
    fn fails(label: &str, amount: f64) -> Value {
        let amounts = json!([{"kind": "length", "si": amount}, {"kind": "length", "si": 1.0}]);
        json!({"label": label, "text": {"template": "{0} of {1}", "amounts": amounts}, "holds": false, "bound": "least"})
    }

    fn finding(subject: &str, outcome: &str, message: &str, steps: &[Value]) -> ReviewedFinding {
        let finding = json!({
            "rule": "family/topic", "title": "t", "level": "required", "outcome": outcome, "message": message,
            "subject": {"pointer": format!("/equipment/{subject}"), "id": subject, "label": "x"},
            "place": {"line": 1, "column": 1, "end_line": 1, "end_column": 2},
            "summary": {"template": message}, "citations": [], "worksheet": steps,
        });
        serde_json::from_value(finding).expect("this is a finding")
    }

    fn correction(subject: &str, message: &str) -> ReviewedFinding {
        finding(subject, "correction", message, &[])
    }

    fn review(findings: &[ReviewedFinding]) -> Review {
        let review = json!({
            "file": "house.json", "stage": "permit", "date": "2025-03-14", "date_from": "asked", "packs": [], "counts": {},
            "findings": findings,
        });
        serde_json::from_value(review).expect("this is a review")
    }

    fn compared(now: &[ReviewedFinding], then: &[ReviewedFinding], by_todays_law: Option<&[ReviewedFinding]>) -> Review {
        let mut now = review(now);
        let followed = Followed::between(&json!([{"id": "old", "kind": "k"}]), &json!([{"id": "renamed", "kind": "k"}]));
        let earlier = Earlier { findings: then, by_todays_law, told_apart: true, project: None, followed: &followed };
        mark_known(&mut now, "main", None, &earlier);
        now
    }

    /// What brought the one finding there is; `None`: it is known.
    fn brought(now: ReviewedFinding, then: &[ReviewedFinding], law: Option<&[ReviewedFinding]>) -> Option<Change> {
        compared(&[now], then, law).findings.remove(0).brought_by
    }

    #[test]
    fn another_subject_or_outcome_is_new() {
        let then = [correction("a", "1"), finding("b", "unresolved", "2", &[])];
        let now = [correction("a", "1"), correction("b", "8"), correction("c", "9")];
        let found = compared(&now, &then, None).findings;
        let told: Vec<_> = found.iter().map(|one| (one.message.as_str(), one.known, one.brought_by.clone())).collect();
        assert_eq!(told, [("8", false, Some(Change::Drawing)), ("9", false, Some(Change::Drawing)), ("1", true, None)]);
    }

    #[test]
    fn once_more_than_before_is_new_once() {
        let then = [correction("a", "2")];
        let found = compared(&[correction("a", "1"), correction("a", "2"), correction("a", "3")], &then, None).findings;
        assert_eq!(found.iter().filter(|one| one.known).map(|one| one.message.as_str()).collect::<Vec<_>>(), ["2"]);
    }

    #[test]
    fn an_amount_further_from_its_limit_is_worse_and_one_that_came_nearer_is_known() {
        let with = |message: &str, steps: &[Value]| finding("a", "correction", message, steps);
        let then = [with("0.5 m", &[fails("depth", 0.5)])];
        let worse = Some(Change::Worse { was: "0.5 m".to_owned() });
        assert_eq!(brought(with("0.4 m", &[fails("depth", 0.4)]), &then, None), worse);
        assert_eq!(brought(with("0.6 m", &[fails("depth", 0.6)]), &then, None), None);
        assert_eq!(brought(with("0.5 m", &[fails("depth", 0.5 - 1e-9)]), &then, None), None);
        // Another fault beside the first, or the same once more.
        assert_eq!(brought(with("and", &[fails("depth", 0.5), fails("width", 0.9)]), &then, None), worse);
        assert_eq!(brought(with("twice", &[fails("depth", 0.5), fails("depth", 0.9)]), &then, None), worse);
        // Where nothing was compared, other words are worse: it cannot be told that they are not.
        let then = [correction("a", "one of them")];
        assert_eq!(brought(correction("a", "two of them"), &then, None), Some(Change::Worse { was: "one of them".to_owned() }));
    }

    #[test]
    fn what_the_project_as_it_was_would_have_too_comes_from_the_law() {
        let law = [correction("a", "2"), correction("b", "3")];
        let then = [correction("a", "2")];
        assert_eq!(brought(correction("b", "3"), &then, Some(&law)), Some(Change::Law));
        assert_eq!(brought(correction("a", "2"), &then, Some(&law)), None);
        assert_eq!(brought(correction("c", "4"), &then, Some(&law)), Some(Change::Drawing));
        // The law made the limit stricter, and the drawing the amount worse still.
        let with = |amount: f64| finding("a", "correction", "m", &[fails("depth", amount)]);
        let (then, law) = ([with(0.9)], [with(0.8)]);
        assert_eq!(brought(with(0.8), &then, Some(&law)), Some(Change::Law));
        assert!(matches!(brought(with(0.7), &then, Some(&law)), Some(Change::Worse { .. })));
    }

    #[test]
    fn a_correction_that_cannot_be_told_any_more_is_a_fact_taken_away() {
        let then = [correction("a", "too low"), finding("b", "unresolved", "?", &[])];
        let taken = brought(finding("a", "unresolved", "?", &[]), &then, None);
        assert_eq!(taken, Some(Change::FactRemoved { was: "too low".to_owned() }));
        assert_eq!(brought(finding("b", "unresolved", "?", &[]), &then, None), None);
        assert_eq!(brought(finding("c", "unresolved", "?", &[]), &then, None), Some(Change::Drawing));
        // Where the correction stands still, the question is one of its own.
        let both = compared(&[correction("a", "too low"), finding("a", "unresolved", "?", &[])], &then, None);
        assert!(both.findings.iter().any(|one| one.brought_by == Some(Change::Drawing)));
    }

    #[test]
    fn a_renamed_subject_is_the_one_it_was_and_what_is_gone_is_told() {
        assert_eq!(
            brought(correction("renamed", "boiler \"renamed\" is low"), &[correction("old", "boiler \"old\" is low")], None),
            None
        );
        let then = [correction("a", "1"), correction("b", "2")];
        let law = [correction("a", "1")];
        let gone = compared(&[], &then, Some(&law)).before.gone;
        assert_eq!(gone.iter().map(|one| (one.message.as_str(), one.by_law)).collect::<Vec<_>>(), [("1", false), ("2", true)]);
    }

    #[test]
    fn nothing_earlier_leaves_all_new() {
        assert_eq!(brought(correction("a", "1"), &[], None), Some(Change::Drawing));
    }
}
