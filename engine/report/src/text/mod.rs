//! The report for the terminal: worst first, one line for each finding, beneath it the arithmetic, the places to fill in and
//! the cures.

mod attention;
mod finding;
mod law;
mod quiet;
mod since;

use super::count::{Sum, Totals, plural};
use super::ink::Ink;
use super::page::{Lead, Page};
use super::sink::Sink;
use super::{Frame, RuleTexts, Speaker, Style, complaint};
use finding::outcome_ink;
use redtag_schema::contract::Outcome;
use redtag_schema::review::{DateSource, Failure, Refused, Review};
use std::collections::BTreeSet;
use std::io::{self, Write};

/// The reviews as lines for a terminal or a file.
pub(crate) struct TextSink<'w> {
    frame: Frame,
    out: &'w mut dyn Write,
    sum: Sum,
    refused: usize,
    /// The dangers of all projects, each said once at the end.
    cautions: BTreeSet<String>,
    in_order: Vec<String>,
}

impl<'w> TextSink<'w> {
    pub(crate) fn new(frame: Frame, out: &'w mut dyn Write) -> Self {
        Self { frame, out, sum: Sum::default(), refused: 0, cautions: BTreeSet::new(), in_order: Vec::new() }
    }

    fn page(&self) -> Page {
        Page::new(&self.frame.style)
    }

    fn write(&mut self, page: Page) -> io::Result<()> {
        self.out.write_all(page.done().as_bytes())
    }
}

impl Sink for TextSink<'_> {
    fn review(&mut self, review: &Review, _: &RuleTexts) -> io::Result<()> {
        self.sum.add(review);
        for caution in &review.cautions {
            if self.cautions.insert(caution.clone()) {
                self.in_order.push(caution.clone());
            }
        }
        let mut page = self.page();
        one(&mut page, review, &self.frame.style);
        page.blank();
        self.write(page)
    }

    fn refused(&mut self, refused: &Refused) -> io::Result<()> {
        self.refused += 1;
        let mut page = self.page();
        complaint::refused(&mut page, refused);
        page.blank();
        self.write(page)
    }

    fn end(&mut self) -> io::Result<()> {
        let mut page = self.page();
        let reviewed = self.sum.projects();
        if reviewed + self.refused > 1 {
            let refused = match self.refused {
                0 => String::new(),
                count => format!("; {} refused", plural(count, "file", "files")),
            };
            let words = format!("{}: {}{refused}", plural(reviewed, "project", "projects"), self.sum.words());
            page.entry(0, Lead::new(&[(Ink::Strong, "all together  ")]), &words, 14);
            page.blank();
        }
        for caution in &self.in_order {
            page.entry(0, Lead::new(&[(Ink::Strong, "caution  ")]), caution, 9);
        }
        page.blank();
        page.entry(0, Lead::new(&[]), &self.frame.notice, 0);
        self.write(page)?;
        self.out.flush()
    }
}

fn one(page: &mut Page, review: &Review, style: &Style) {
    header(page, review);
    for failure in &review.failures {
        page.blank();
        failed(page, failure);
    }
    for complaint in &review.complaints {
        page.blank();
        complaint::one(page, complaint);
    }
    let (loud, quiet): (Vec<_>, Vec<_>) = review.findings.iter().partition(|finding| style.all || asks(finding.outcome));
    let waits_only = attention::folded(review, style);
    for finding in loud.into_iter().filter(|finding| !waits_only(finding)) {
        page.blank();
        finding::show(page, review, finding, style);
    }
    attention::unsaid(page, review);
    quiet::show(page, &quiet);
    attention::not_looked_at(page, review, style);
    page.blank();
    since::show(page, review);
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
    law::show(page, &review.packs);
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Format, sample};
    use redtag_schema::quantity::System;

    fn styled(style: Style) -> String {
        let reviews = redtag_schema::review::Reviews { refused: vec![sample::refused()], ..sample::reviews() };
        sample::framed(Format::Text, Frame { style, ..sample::frame(false) }, &reviews)
    }

    #[test]
    fn the_report_reads_like_this() {
        insta::assert_snapshot!(styled(Style::default()));
    }

    #[test]
    fn all_of_it_in_metric_units_reads_like_this() {
        let style = Style { all: true, system: System::Si, width: 72, ..Style::default() };
        insta::assert_snapshot!(styled(style));
    }

    #[test]
    fn no_line_is_wider_than_asked() {
        for width in [40, 60, 100] {
            let report = styled(Style { width, all: true, ..Style::default() });
            let widest = report.lines().map(textwrap::core::display_width).max().unwrap_or(0);
            assert!(widest <= width, "{widest} > {width}:\n{report}");
        }
    }
}
