//! What a case expects against what was found, in words.

use crate::cases::Expected;
use redtag_rule::schema::contract::{Finding, Outcome};
use redtag_rule::schema::quantity::System;
use std::collections::BTreeSet;

/// Every difference, in words; empty when all that is expected was found and nothing else. Findings that are not applicable
/// need not be expected, nor the question for a list that the case's project leaves unsaid: a case says what it is about.
pub(crate) fn differences(rule: &str, expected: &[&Expected], found: &[Finding]) -> Vec<String> {
    let mut left: Vec<&Finding> = found.iter().collect();
    let mut unmet = Vec::new();
    // The expectations that say most are met first, so that a vague one does not take the finding of a precise one.
    let mut order: Vec<&&Expected> = expected.iter().collect();
    order.sort_by_key(|one| std::cmp::Reverse(usize::from(one.says.is_some()) + usize::from(one.missing.is_some())));
    for one in order {
        match left.iter().position(|finding| fits(rule, one, finding)) {
            Some(at) => drop(left.remove(at)),
            None => unmet.push(one),
        }
    }
    let wanted = |one: &&&Expected| {
        let says = one.says.as_ref().map_or_else(String::new, |words| format!(" that says \"{words}\""));
        let missing = one.missing.as_ref().map_or_else(String::new, |all| format!(" with missing {}", all.join(", ")));
        format!("expected {} about {}{says}{missing}", one.outcome.word(), one.subject)
    };
    let silent = |finding: &Finding| finding.outcome == Outcome::NotApplicable || finding.asks_for_list();
    let found = left.iter().filter(|finding| !silent(finding) || !unmet.is_empty());
    unmet.iter().map(wanted).chain(found.map(|finding| format!("found {}", in_words(finding)))).collect()
}

fn fits(rule: &str, expected: &Expected, finding: &Finding) -> bool {
    let about = finding.subject.id.as_ref() == Some(&expected.subject) || finding.subject.pointer == expected.subject;
    finding.rule == expected.rule.as_deref().unwrap_or(rule)
        && about
        && expected.outcome == finding.outcome
        && expected.says.as_ref().is_none_or(|words| says(finding).iter().any(|line| line.contains(words)))
        && expected.missing.as_ref().is_none_or(|wanted| {
            let missing: BTreeSet<&str> = finding.missing.iter().map(|missing| missing.pointer.as_str()).collect();
            missing == wanted.iter().map(String::as_str).collect()
        })
}

/// Everything a finding says, line by line, in US customary units.
fn says(finding: &Finding) -> Vec<String> {
    let lines = finding.worksheet.iter().map(|step| {
        let source = step.source.as_ref().map_or_else(String::new, |source| format!(" [{source}]"));
        format!("{}: {}{source}", step.label, step.text.print(System::UsCustomary))
    });
    std::iter::once(finding.summary.print(System::UsCustomary)).chain(lines).collect()
}

fn in_words(finding: &Finding) -> String {
    let subject = finding.subject.id.as_deref().unwrap_or(&finding.subject.pointer);
    let missing: Vec<&str> = finding.missing.iter().map(|missing| missing.pointer.as_str()).collect();
    let missing = if missing.is_empty() { String::new() } else { format!("; missing: {}", missing.join(", ")) };
    format!("{} of {} about {subject}: {}{missing}", finding.outcome.word(), finding.rule, says(finding).join(" | "))
}
