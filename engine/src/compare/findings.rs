//! Which findings of a project are not the same under two rulebooks.

use super::Side;
use redtag_schema::comparison::{Changed, Kind, ProjectComparison, RuleTally};
use redtag_schema::contract::Outcome;
use redtag_schema::review::{Review, ReviewedFinding};
use redtag_schema::rulebook::{RuleEntry, Rulebook};
use std::collections::{BTreeMap, BTreeSet};

/// A finding's rule, the pointer of its subject, and which of several such it is.
type Key<'a> = (&'a str, &'a str, usize);

/// A project under both books, where both sides have a review.
pub(super) fn project(from: &Side, to: &Side) -> Option<ProjectComparison> {
    let (before, after) = (from.review.as_ref()?, to.review.as_ref()?);
    let mut failures = before.failures.clone();
    failures.extend(after.failures.iter().filter(|failure| !before.failures.contains(failure)).cloned());
    let silent: BTreeSet<&str> = failures.iter().flat_map(|failure| &failure.rules).map(String::as_str).collect();
    let (old, new) = (keyed(before), keyed(after));
    let keys: BTreeSet<&Key> = old.keys().chain(new.keys()).collect();
    let changed = keys.into_iter().filter(|key| !silent.contains(key.0)).filter_map(|key| {
        let change = changed(old.get(key).copied(), new.get(key).copied())?;
        Some(explained(change, &from.book, &to.book))
    });
    Some(ProjectComparison {
        file: after.file.clone(),
        project: after.project.clone(),
        from: before.counts.clone(),
        to: after.counts.clone(),
        findings: changed.collect(),
        failures,
    })
}

fn keyed(review: &Review) -> BTreeMap<Key<'_>, &ReviewedFinding> {
    let mut out = BTreeMap::new();
    for finding in &review.findings {
        let (rule, subject) = (finding.rule.as_str(), finding.subject.pointer.as_str());
        let before = out.range((rule, subject, 0)..=(rule, subject, usize::MAX)).count();
        out.insert((rule, subject, before), finding);
    }
    out
}

fn changed(from: Option<&ReviewedFinding>, to: Option<&ReviewedFinding>) -> Option<Changed> {
    let kind = match (from, to) {
        (None, _) => Kind::Appears,
        (_, None) => Kind::Vanishes,
        (Some(from), Some(to)) if from.outcome != to.outcome => Kind::Outcome,
        (Some(from), Some(to)) if from.message != to.message || from.missing != to.missing => Kind::Figures,
        _ => return None,
    };
    let one = to.or(from)?;
    Some(Changed {
        kind,
        rule: one.rule.clone(),
        subject: one.subject.clone(),
        from: from.map(|finding| finding.outcome),
        to: to.map(|finding| finding.outcome),
        from_message: from.map(|finding| finding.message.clone()),
        to_message: to.map(|finding| finding.message.clone()),
        because: Vec::new(),
        no_more: Vec::new(),
    })
}

/// Adds the law behind a change: what one book has in effect about the rule and the other has not.
fn explained(change: Changed, from: &Rulebook, to: &Rulebook) -> Changed {
    let law = |book: &Rulebook| book.rule(&change.rule).map(RuleEntry::because).unwrap_or_default();
    let (old, new) = (law(from), law(to));
    let only = |these: &[String], those: &[String]| these.iter().filter(|line| !those.contains(line)).cloned().collect();
    Changed { because: only(&new, &old), no_more: only(&old, &new), ..change }
}

/// What changes by rule, over all projects.
pub(super) fn by_rule(projects: &[ProjectComparison]) -> Vec<RuleTally> {
    let mut rules: BTreeMap<&str, RuleTally> = BTreeMap::new();
    for project in projects {
        let mut here = BTreeSet::new();
        for one in &project.findings {
            let fresh = || RuleTally { rule: one.rule.clone(), changes: BTreeMap::new(), projects: 0, corrections: 0 };
            let tally = rules.entry(&one.rule).or_insert_with(fresh);
            *tally.changes.entry(one.kind).or_default() += 1;
            let is = |outcome: Option<Outcome>| i64::from(outcome == Some(Outcome::Correction));
            tally.corrections += is(one.to) - is(one.from);
            if here.insert(&one.rule) {
                tally.projects += 1;
            }
        }
    }
    rules.into_values().collect()
}
