//! A code quality report as GitLab reads it: a list of findings, each with a fingerprint of its own.

use super::frame::{Fingerprints, Frame, Weight};
use super::sink::{JsonList, Sink};
use super::{RuleTexts, clean};
use redtag_schema::review::{Complaint, Failure, Place, Refused, Review, ReviewedFinding, Severity, SilentEquipment};
use serde::Serialize;
use std::io::{self, Write};

#[derive(Serialize)]
struct Entry {
    description: String,
    check_name: String,
    fingerprint: String,
    severity: &'static str,
    location: Location,
}

#[derive(Serialize)]
struct Location {
    path: String,
    lines: Lines,
}

#[derive(Serialize)]
struct Lines {
    begin: usize,
    end: usize,
}

/// The findings that ask something of somebody, the modules that failed, and the files that could not be reviewed.
pub(crate) struct GitlabSink<'w> {
    frame: Frame,
    out: &'w mut dyn Write,
    list: JsonList,
}

impl<'w> GitlabSink<'w> {
    pub(crate) fn begin(frame: Frame, out: &'w mut dyn Write) -> io::Result<Self> {
        write!(out, "[")?;
        Ok(Self { frame, out, list: JsonList::new(2) })
    }
}

impl Sink for GitlabSink<'_> {
    fn review(&mut self, review: &Review, _: &RuleTexts) -> io::Result<()> {
        let path = self.frame.path(&review.file);
        // The path is part of every fingerprint, so those of one file never meet those of another.
        let mut fingerprints = Fingerprints::default();
        for failure in &review.failures {
            self.list.item(self.out, &failed(failure, &path, &mut fingerprints))?;
        }
        for complaint in &review.complaints {
            self.list.item(self.out, &complained(complaint, &path, &mut fingerprints))?;
        }
        for finding in &review.findings {
            if let Some(entry) = entry(&self.frame, review, finding, &mut fingerprints) {
                self.list.item(self.out, &entry)?;
            }
        }
        for silent in review.not_looked_at.unexplained() {
            let severity = match self.frame.weight_of_silence(review) {
                Weight::Fails => "major",
                Weight::Open => "minor",
                Weight::Hint | Weight::Nothing => "info",
            };
            self.list.item(self.out, &unlooked(silent, &path, severity, &mut fingerprints))?;
        }
        Ok(())
    }

    fn refused(&mut self, refused: &Refused) -> io::Result<()> {
        let path = self.frame.path(&refused.file);
        let mut fingerprints = Fingerprints::default();
        for complaint in &refused.complaints {
            self.list.item(self.out, &complained(complaint, &path, &mut fingerprints))?;
        }
        Ok(())
    }

    fn end(&mut self) -> io::Result<()> {
        self.list.end(self.out)?;
        writeln!(self.out)?;
        self.out.flush()
    }
}

fn entry(frame: &Frame, review: &Review, finding: &ReviewedFinding, fingerprints: &mut Fingerprints) -> Option<Entry> {
    use redtag_schema::contract::Outcome;
    let severity = match (frame.weight(review, finding), finding.outcome) {
        (Weight::Nothing, _) => return None,
        (Weight::Fails, Outcome::Correction) => "critical",
        (Weight::Fails, _) => "major",
        (Weight::Open, _) => "minor",
        (Weight::Hint, _) => "info",
    };
    let path = frame.path(&review.file);
    let mut description = format!("{}: {}", finding.outcome.word(), frame.sentence(finding));
    for (word, text) in frame.details(finding).iter().filter(|(word, _)| matches!(*word, "variance" | "see")) {
        description.push_str(&format!(". {word} {text}"));
    }
    let fingerprint = fingerprints.of(&path, finding);
    Some(Entry { description, check_name: finding.rule.clone(), fingerprint, severity, location: location(path, finding.place) })
}

fn failed(failure: &Failure, path: &str, fingerprints: &mut Fingerprints) -> Entry {
    let rules = if failure.rules.is_empty() { String::new() } else { format!(" Not answered: {}.", failure.rules.join(", ")) };
    let first = Place { line: 1, column: 1, end_line: 1, end_column: 1 };
    Entry {
        description: clean(&format!("module failed: {} ({}){rules}", failure.message, failure.pack)).into_owned(),
        check_name: format!("module-failed/{}", failure.kind),
        fingerprint: fingerprints.name(&["module-failed", &failure.pack, &failure.module, path]),
        severity: "blocker",
        location: location(path.to_owned(), first),
    }
}

/// A complaint about a document, at the project it keeps from being reviewed.
fn complained(complaint: &Complaint, path: &str, fingerprints: &mut Fingerprints) -> Entry {
    let severity = match complaint.severity {
        Severity::Error => "blocker",
        Severity::Warning => "minor",
        Severity::Note => "info",
    };
    let pointer = complaint.pointer.as_deref().unwrap_or_default();
    let first = Place { line: 1, column: 1, end_line: 1, end_column: 1 };
    Entry {
        description: clean(&super::complaint::sentence(complaint)).into_owned(),
        check_name: format!("document/{}", complaint.code),
        fingerprint: fingerprints.name(&["document", &complaint.code, pointer, &complaint.message, path]),
        severity,
        location: location(path.to_owned(), complaint.place.unwrap_or(first)),
    }
}

fn unlooked(silent: &SilentEquipment, path: &str, severity: &'static str, fingerprints: &mut Fingerprints) -> Entry {
    Entry {
        description: clean(&format!("not looked at: no rule spoke of {}", silent.label)).into_owned(),
        check_name: "not-looked-at".to_owned(),
        fingerprint: fingerprints.name(&["not-looked-at", silent.id.as_deref().unwrap_or(&silent.pointer), path]),
        severity,
        location: location(path.to_owned(), silent.place),
    }
}

fn location(path: String, place: Place) -> Location {
    Location { path, lines: Lines { begin: place.line, end: place.end_line } }
}

#[cfg(test)]
mod tests {
    use crate::{Format, sample};

    #[test]
    fn the_report_reads_like_this() {
        insta::assert_snapshot!(sample::as_it_is(Format::Gitlab, false));
    }

    #[test]
    fn unresolved_weighs_more_when_asked_to_be_strict() {
        let weight = |strict| sample::as_it_is(Format::Gitlab, strict).matches("\"major\"").count();
        // The unresolved finding, and the piece of equipment of which no rule spoke.
        assert_eq!((weight(false), weight(true)), (0, 2));
    }
}
