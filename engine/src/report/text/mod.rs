//! The report for the terminal: worst first, one line for each finding, beneath it the arithmetic, the places to fill in and
//! the cures.

mod finding;
mod quiet;

use super::count::{Totals, plural};
use super::ink::Ink;
use super::page::{Lead, Page};
use super::{Speaker, Style};
use finding::outcome_ink;
use redtag_schema::contract::Outcome;
use redtag_schema::review::{DateSource, Failure, Review, Reviews};
use std::collections::BTreeSet;

/// The reviews as lines for a terminal or a file.
pub fn render(reviews: &Reviews, style: &Style) -> String {
    let mut page = Page::new(style);
    for review in &reviews.reviews {
        one(&mut page, review, style);
        page.blank();
    }
    if reviews.reviews.len() > 1 {
        let words = format!("{}: {}", plural(reviews.reviews.len(), "project", "projects"), reviews.words());
        page.entry(0, Lead::new(&[(Ink::Strong, "all together  ")]), &words, 14);
        page.blank();
    }
    closing(&mut page, reviews);
    page.done()
}

fn one(page: &mut Page, review: &Review, style: &Style) {
    header(page, review);
    for failure in &review.failures {
        page.blank();
        failed(page, failure);
    }
    let (loud, quiet): (Vec<_>, Vec<_>) = review.findings.iter().partition(|finding| style.all || asks(finding.outcome));
    for finding in loud {
        page.blank();
        finding::show(page, review, finding, style);
    }
    quiet::show(page, &quiet);
    page.blank();
    total(page, review);
}

/// Whether somebody has something to do about it.
fn asks(outcome: Outcome) -> bool {
    matches!(outcome, Outcome::Correction | Outcome::Unresolved | Outcome::Advice)
}

fn header(page: &mut Page, review: &Review) {
    let name = review.project.as_ref().map(|name| format!("  {name}")).unwrap_or_default();
    page.entry(0, Lead::new(&[(Ink::Strong, &review.file)]), &name, 2);
    let why = match review.date_from {
        DateSource::Asked => "as asked",
        DateSource::ApplicationDate => "the day the permit was applied for",
        DateSource::Today => "today; the project gives no application date",
    };
    page.entry(2, Lead::new(&[]), &format!("stage {}; the law of {} ({why})", review.stage.word(), review.date), 2);
    let packs: Vec<String> = review.packs.iter().map(|pack| format!("{} {}", pack.name, pack.version)).collect();
    page.entry(2, Lead::new(&[]), &format!("rulebook: {}", packs.join(", then ")), 2);
    for note in &review.notes {
        page.entry(2, Lead::new(&[]), &format!("note: {note}"), 4);
    }
}

fn failed(page: &mut Page, failure: &Failure) {
    let body = format!("{} ({}, {})", failure.message, failure.pack, failure.kind);
    page.entry(0, Lead::new(&[(Ink::Bad, "module failed  ")]), &body, 4);
    if !failure.rules.is_empty() {
        page.entry(4, Lead::new(&[(Ink::Strong, "not answered  ")]), &failure.rules.join(", "), 18);
    }
}

fn total(page: &mut Page, review: &Review) {
    let ink = match review.tally() {
        tally if tally.of(Outcome::Correction) > 0 => outcome_ink(Outcome::Correction),
        tally if tally.of(Outcome::Unresolved) > 0 => outcome_ink(Outcome::Unresolved),
        _ => Ink::Strong,
    };
    let mut words = review.words();
    if !review.failures.is_empty() {
        words = format!("incomplete, {}: {words}", plural(review.failed(), "module failed", "modules failed"));
    }
    page.entry(0, Lead::new(&[(ink, "total  ")]), &words, 7);
}

/// The cautions of all projects once, then what every report says.
fn closing(page: &mut Page, reviews: &Reviews) {
    let mut said = BTreeSet::new();
    for caution in reviews.reviews.iter().flat_map(|review| &review.cautions) {
        if said.insert(caution) {
            page.entry(0, Lead::new(&[(Ink::Strong, "caution  ")]), caution, 9);
        }
    }
    page.blank();
    page.entry(0, Lead::new(&[]), &reviews.notice, 0);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::sample;
    use redtag_schema::quantity::System;

    #[test]
    fn the_report_reads_like_this() {
        insta::assert_snapshot!(render(&sample::reviews(), &Style::default()));
    }

    #[test]
    fn all_of_it_in_metric_units_reads_like_this() {
        let style = Style { all: true, system: System::Si, width: 72, ..Style::default() };
        insta::assert_snapshot!(render(&sample::reviews(), &style));
    }

    #[test]
    fn no_line_is_wider_than_asked() {
        for width in [40, 60, 100] {
            let report = render(&sample::reviews(), &Style { width, all: true, ..Style::default() });
            let widest = report.lines().map(textwrap::core::display_width).max().unwrap_or(0);
            assert!(widest <= width, "{widest} > {width}:\n{report}");
        }
    }
}
