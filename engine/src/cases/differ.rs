//! What a case expects against what was found: which belongs to which, and every difference in words.

use super::Expected;
use crate::diagnostic::Span;
use redtag_schema::contract::{Finding, Outcome, Step};
use redtag_schema::quantity::System;
use std::collections::BTreeSet;

/// Every difference, in words; empty when all that is expected was found and nothing else. Findings that are not applicable
/// need not be expected, nor the question for a list that the case's project leaves unsaid: a case says what it is about.
pub(super) fn differences(rule: &str, expected: &[(Expected, Span)], found: &[Finding]) -> Vec<String> {
    let fits: Vec<Vec<usize>> =
        expected.iter().map(|(one, _)| (0..found.len()).filter(|index| fits(rule, one, &found[*index])).collect()).collect();
    let taken = pair(&fits, found.len());
    let mut left: BTreeSet<usize> = (0..found.len()).filter(|index| taken[*index].is_none()).collect();
    let mut out = Vec::new();
    for (index, (one, span)) in expected.iter().enumerate() {
        if taken.contains(&Some(index)) {
            continue;
        }
        let near = left.iter().copied().find(|at| same_subject(rule, one, &found[*at]));
        if let Some(near) = near {
            left.remove(&near);
        }
        out.push(format!("line {}: {}", span.start().line, explain(rule, one, near.map(|near| &found[near]), found)));
    }
    for index in left {
        let finding = &found[index];
        if finding.outcome != Outcome::NotApplicable && !finding.asks_for_list() {
            out.push(format!("not expected: {}", in_words(finding)));
        }
    }
    out
}

/// Pairs what is expected with what was found, as many as can be (augmenting paths). Answers for each finding the expectation.
fn pair(fits: &[Vec<usize>], found: usize) -> Vec<Option<usize>> {
    fn place(one: usize, fits: &[Vec<usize>], taken: &mut [Option<usize>], tried: &mut [bool]) -> bool {
        for &finding in &fits[one] {
            if std::mem::replace(&mut tried[finding], true) {
                continue;
            }
            if taken[finding].is_none_or(|other| place(other, fits, taken, tried)) {
                taken[finding] = Some(one);
                return true;
            }
        }
        false
    }
    let mut taken = vec![None; found];
    for one in 0..fits.len() {
        place(one, fits, &mut taken, &mut vec![false; found]);
    }
    taken
}

fn same_subject(rule: &str, expected: &Expected, finding: &Finding) -> bool {
    let subject = &finding.subject;
    finding.rule == expected.rule.as_deref().unwrap_or(rule)
        && (subject.id.as_ref() == Some(&expected.subject) || subject.pointer == expected.subject)
}

fn fits(rule: &str, expected: &Expected, finding: &Finding) -> bool {
    same_subject(rule, expected, finding)
        && expected.outcome == finding.outcome
        && expected.says.as_ref().is_none_or(|words| says(finding).iter().any(|line| line.contains(words)))
        && expected.missing.as_ref().is_none_or(|wanted| {
            let missing: BTreeSet<&str> = finding.missing.iter().map(|missing| missing.pointer.as_str()).collect();
            missing == wanted.iter().map(String::as_str).collect()
        })
}

/// Everything a finding says, line by line.
fn says(finding: &Finding) -> Vec<String> {
    let step = |step: &Step| {
        let source = step.source.as_ref().map_or_else(String::new, |source| format!(" [{source}]"));
        format!("{}: {}{source}", step.label, step.text.print(System::UsCustomary))
    };
    std::iter::once(finding.summary.print(System::UsCustomary)).chain(finding.worksheet.iter().map(step)).collect()
}

fn explain(rule: &str, expected: &Expected, near: Option<&Finding>, found: &[Finding]) -> String {
    let whose = expected.rule.as_ref().map_or_else(String::new, |other| format!(" of {other}"));
    let wanted = format!("expected {}{whose} about {}", expected.outcome.word(), expected.subject);
    let Some(finding) = near else {
        let about: BTreeSet<&str> = found
            .iter()
            .filter(|finding| finding.rule == expected.rule.as_deref().unwrap_or(rule))
            .map(|finding| finding.subject.id.as_deref().unwrap_or(&finding.subject.pointer))
            .collect();
        return match about.is_empty() {
            true => format!("{wanted}; there is no finding at all"),
            false => format!("{wanted}; findings are about {}", about.into_iter().collect::<Vec<_>>().join(", ")),
        };
    };
    if finding.outcome != expected.outcome {
        return format!("{wanted}; found {}", in_words(finding));
    }
    if let Some(words) = expected.says.as_ref().filter(|words| !says(finding).iter().any(|line| line.contains(*words))) {
        return format!("{wanted} that says \"{words}\"; it says: {}", says(finding).join(" | "));
    }
    let missing: Vec<&str> = finding.missing.iter().map(|missing| missing.pointer.as_str()).collect();
    format!("{wanted} with missing {}; missing are {}", list(expected.missing.iter().flatten()), list(missing))
}

fn list(pointers: impl IntoIterator<Item = impl AsRef<str>>) -> String {
    let all: BTreeSet<String> = pointers.into_iter().map(|pointer| pointer.as_ref().to_owned()).collect();
    if all.is_empty() { "nothing".to_owned() } else { all.into_iter().collect::<Vec<_>>().join(", ") }
}

fn in_words(finding: &Finding) -> String {
    let subject = finding.subject.id.as_deref().unwrap_or(&finding.subject.pointer);
    let missing = finding.missing.iter().map(|missing| missing.pointer.as_str());
    let missing = if finding.missing.is_empty() { String::new() } else { format!(" (missing {})", list(missing)) };
    let summary = finding.summary.print(System::UsCustomary);
    format!("{} of {} about {subject}: {summary}{missing}", finding.outcome.word(), finding.rule)
}
