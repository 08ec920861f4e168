//! A code quality report as GitLab reads it: a list of findings, each with a fingerprint of its own.

use super::Material;
use super::material::{Fingerprints, Weight};
use redtag_schema::review::{Failure, Place, Review, ReviewedFinding};
use serde::Serialize;

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

/// The findings that ask something of somebody, and the modules that failed.
pub fn render(material: &Material) -> String {
    let mut fingerprints = Fingerprints::default();
    let mut entries: Vec<Entry> = Vec::new();
    for review in &material.reviews.reviews {
        let path = material.path(review);
        entries.extend(review.failures.iter().map(|failure| failed(failure, &path, &mut fingerprints)));
        entries.extend(review.findings.iter().filter_map(|one| entry(material, review, one, &mut fingerprints)));
    }
    // Writing plain data into memory cannot fail.
    let mut out = serde_json::to_string_pretty(&entries).unwrap_or_else(|_| "[]".to_owned());
    out.push('\n');
    out
}

fn entry(material: &Material, review: &Review, finding: &ReviewedFinding, fingerprints: &mut Fingerprints) -> Option<Entry> {
    use redtag_schema::contract::Outcome;
    let severity = match (material.weight(review, finding), finding.outcome) {
        (Weight::Nothing, _) => return None,
        (Weight::Fails, Outcome::Correction) => "critical",
        (Weight::Fails, _) => "major",
        (Weight::Open, _) => "minor",
        (Weight::Hint, _) => "info",
    };
    let path = material.path(review);
    let mut description = format!("{}: {}", finding.outcome.word(), material.sentence(finding));
    for (word, text) in material.details(finding).iter().filter(|(word, _)| matches!(*word, "variance" | "see")) {
        description.push_str(&format!(". {word} {text}"));
    }
    let fingerprint = fingerprints.of(&path, finding);
    Some(Entry { description, check_name: finding.rule.clone(), fingerprint, severity, location: location(path, finding.place) })
}

fn failed(failure: &Failure, path: &str, fingerprints: &mut Fingerprints) -> Entry {
    let rules = if failure.rules.is_empty() { String::new() } else { format!(" Not answered: {}.", failure.rules.join(", ")) };
    let first = Place { line: 1, column: 1, end_line: 1, end_column: 1 };
    Entry {
        description: super::clean(&format!("module failed: {} ({}){rules}", failure.message, failure.pack)).into_owned(),
        check_name: format!("module-failed/{}", failure.kind),
        fingerprint: fingerprints.name(&["module-failed", &failure.pack, &failure.module, path]),
        severity: "blocker",
        location: location(path.to_owned(), first),
    }
}

fn location(path: String, place: Place) -> Location {
    Location { path, lines: Lines { begin: place.line, end: place.end_line } }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::sample;

    #[test]
    fn the_report_reads_like_this() {
        insta::assert_snapshot!(sample::with_material(false, render));
    }

    #[test]
    fn unresolved_weighs_more_when_asked_to_be_strict() {
        let weight = |strict| sample::with_material(strict, render).matches("\"major\"").count();
        assert_eq!((weight(false), weight(true)), (0, 1));
    }
}
