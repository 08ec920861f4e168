//! From what modules answer to what a review says: levels, citations, places, order.

use super::Assignment;
use super::wanted::ProjectSchema;
use crate::document::tokens;
use redtag_schema::contract::{Citation, Finding, Missing, Outcome};
use redtag_schema::quantity::System;
use redtag_schema::review::{MissingFact, Place, ReviewedFinding};
use redtag_schema::rulebook::RuleEntry;
use std::cmp::Ordering;
use std::collections::BTreeMap;
use std::ops::Range;

/// The finding with everything the rulebook and the project's text know about it.
pub fn settle(finding: Finding, rule: &RuleEntry, assignment: &Assignment, schema: &ProjectSchema) -> ReviewedFinding {
    let missing = finding.missing.into_iter().map(|missing| fact(missing, assignment, schema)).collect();
    ReviewedFinding {
        title: rule.description.title.clone(),
        level: rule.level.value,
        outcome: rule.settle(finding.outcome),
        place: whole(assignment, &finding.subject.pointer),
        message: finding.summary.print(System::UsCustomary),
        citations: citations(rule, &finding.sections),
        because: rule.because(),
        rule: finding.rule,
        subject: finding.subject,
        summary: finding.summary,
        worksheet: finding.worksheet,
        missing,
        remedies: finding.remedies,
        marks: finding.marks,
        related: finding.related,
        variance: None,
        known: false,
        brought_by: None,
    }
}

/// Where a value stands from its first character to its last; the nearest one around it where it is not written.
pub fn whole(assignment: &Assignment, pointer: &str) -> Place {
    let spans = &assignment.document.spans;
    place(assignment, spans.value(pointer).unwrap_or_else(|| spans.nearest(pointer)))
}

fn place(assignment: &Assignment, range: Range<usize>) -> Place {
    let source = &assignment.document.source;
    let (start, end) = (source.position(range.start), source.position(range.end));
    Place { line: start.line, column: start.column, end_line: end.line, end_column: end.column }
}

/// A missing fact with what the project's schema says of it.
pub fn fact(missing: Missing, assignment: &Assignment, schema: &ProjectSchema) -> MissingFact {
    let wanted = schema.wanted(&missing.pointer, &assignment.document.canonical);
    MissingFact {
        place: place(assignment, assignment.document.spans.nearest(&missing.pointer)),
        what: missing.what.or(wanted.what),
        example: missing.example.or(wanted.example),
        pointer: missing.pointer,
    }
}

/// The rule's citations; only the sections the finding names, where they are among them.
fn citations(rule: &RuleEntry, sections: &[String]) -> Vec<Citation> {
    let all = rule.citations.iter().map(|cited| &cited.value);
    let some: Vec<Citation> = all.clone().filter(|citation| sections.contains(&citation.section)).cloned().collect();
    if some.is_empty() { all.cloned().collect() } else { some }
}

/// Worst first, new before known, then by rule, then by subject in the order of the document.
pub fn sort(findings: &mut [ReviewedFinding]) {
    let order = |left: &ReviewedFinding, right: &ReviewedFinding| {
        let rule = (left.outcome, left.known, &left.rule).cmp(&(right.outcome, right.known, &right.rule));
        rule.then_with(|| by_pointer(&left.subject.pointer, &right.subject.pointer))
            .then_with(|| left.message.cmp(&right.message))
    };
    findings.sort_by(order);
}

/// Numbers in pointers count as numbers: the third thing comes before the twelfth.
fn by_pointer(left: &str, right: &str) -> Ordering {
    let key = |pointer: &str| tokens(pointer).map(|token| (token.parse::<usize>().ok(), token)).collect::<Vec<_>>();
    key(left).cmp(&key(right))
}

/// How many findings of each outcome; every outcome is named.
pub fn count(findings: &[ReviewedFinding]) -> BTreeMap<Outcome, usize> {
    let mut counts: BTreeMap<Outcome, usize> = Outcome::ALL.into_iter().map(|outcome| (outcome, 0)).collect();
    for finding in findings {
        *counts.entry(finding.outcome).or_default() += 1;
    }
    counts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_in_pointers_are_numbers() {
        let mut pointers = ["/equipment/12", "/equipment/3/plate", "/equipment/3", "/building", ""];
        pointers.sort_by(|left, right| by_pointer(left, right));
        assert_eq!(pointers, ["", "/building", "/equipment/3", "/equipment/3/plate", "/equipment/12"]);
    }
}
