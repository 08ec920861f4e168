//! JUnit XML: a test suite for each project and module, a test case for each rule and subject.

use super::material::Weight;
use super::{Material, clean};
use quick_junit::{NonSuccessKind, Property, Report, TestCase, TestCaseStatus, TestSuite};
use redtag_schema::contract::Outcome;
use redtag_schema::review::{Failure, Review, ReviewedFinding};
use std::collections::BTreeMap;

/// The reviews as JUnit XML.
pub fn render(material: &Material) -> String {
    let mut report = Report::new("redtag");
    for review in &material.reviews.reviews {
        report.add_test_suites(suites(material, review));
    }
    // Writing into memory cannot fail.
    let text = report.to_string().unwrap_or_default();
    if text.ends_with('\n') { text } else { text + "\n" }
}

/// The suites of one project, sorted by name.
fn suites(material: &Material, review: &Review) -> Vec<TestSuite> {
    let mut suites: BTreeMap<String, TestSuite> = BTreeMap::new();
    let mut names: BTreeMap<(String, String), usize> = BTreeMap::new();
    for finding in &review.findings {
        let source = material.rules.get(&finding.rule).map(|rule| format!("{}/{}", rule.pack, rule.module));
        let suite = suite(&mut suites, material, review, &source.unwrap_or_else(|| "unknown".to_owned()));
        let name = case_name(finding);
        let count = names.entry((finding.rule.clone(), name.clone())).or_default();
        *count += 1;
        let name = if *count == 1 { name } else { format!("{name} ({count})") };
        suite.add_test_case(case(material, review, finding, &name));
    }
    for failure in &review.failures {
        let pack = failure.pack.split(' ').next().unwrap_or_default();
        let suite = suite(&mut suites, material, review, &format!("{pack}/{}", failure.module));
        suite.add_test_cases(failed(failure));
    }
    suites.into_values().collect()
}

fn suite<'a>(
    suites: &'a mut BTreeMap<String, TestSuite>,
    material: &Material,
    review: &Review,
    source: &str,
) -> &'a mut TestSuite {
    let name = format!("{}: {source}", material.path(review));
    suites.entry(name.clone()).or_insert_with(|| {
        let mut suite = TestSuite::new(text(&name));
        let packs: Vec<String> = review.packs.iter().map(|pack| format!("{} {}", pack.name, pack.version)).collect();
        let facts = [
            ("project", review.project.clone().unwrap_or_default()),
            ("stage", review.stage.word().to_owned()),
            ("date", review.date.clone()),
            ("rulebook", packs.join(", then ")),
            ("notice", material.reviews.notice.clone()),
        ];
        suite.add_properties(facts.map(|(name, value)| Property::new(name, text(&value))));
        suite
    })
}

/// What the subject is called and which it is.
fn case_name(finding: &ReviewedFinding) -> String {
    let subject = &finding.subject;
    text(&format!("{} ({})", subject.label, subject.id.as_deref().unwrap_or(&subject.pointer)))
}

fn case(material: &Material, review: &Review, finding: &ReviewedFinding, name: &str) -> TestCase {
    let sentence = text(&material.sentence(finding));
    let mut said = None;
    let status = match (material.weight(review, finding), finding.outcome) {
        (Weight::Fails, _) => {
            let mut status = TestCaseStatus::non_success(NonSuccessKind::Failure);
            status.set_type(finding.outcome.word()).set_message(sentence).set_description(body(material, finding));
            status
        }
        (_, Outcome::NotApplicable | Outcome::Unresolved | Outcome::Correction) => skipped(finding, &sentence),
        (_, Outcome::Advice) if finding.variance.is_some() => skipped(finding, &sentence),
        (_, Outcome::Advice) => {
            said = Some(format!("advice: {sentence}\n{}", body(material, finding)));
            TestCaseStatus::success()
        }
        (_, Outcome::Complies) => TestCaseStatus::success(),
    };
    let mut case = TestCase::new(name, status);
    case.set_classname(text(&finding.rule));
    case.extra.insert("file".into(), text(&material.path(review)).into());
    case.extra.insert("line".into(), finding.place.line.to_string().into());
    if let Some(said) = said {
        case.set_system_out(said);
    }
    case
}

/// What neither passed nor failed, and why.
fn skipped(finding: &ReviewedFinding, sentence: &str) -> TestCaseStatus {
    let why = match (&finding.variance, finding.known) {
        (Some(variance), _) => format!("settled by {variance}"),
        (None, true) => format!("{}, known before", finding.outcome.word()),
        (None, false) => finding.outcome.word().to_owned(),
    };
    let mut status = TestCaseStatus::skipped();
    status.set_type(finding.outcome.word()).set_message(text(&format!("{why}: {sentence}")));
    status
}

fn body(material: &Material, finding: &ReviewedFinding) -> String {
    let details = material.details(finding).into_iter().map(|(word, said)| format!("{word}: {said}"));
    let lines: Vec<String> = material.worksheet(finding).into_iter().chain(details).map(|line| text(&line)).collect();
    lines.join("\n")
}

/// An error for each rule that was not answered; for the module where it did not get as far as naming rules.
fn failed(failure: &Failure) -> Vec<TestCase> {
    let one = |rule: &str| {
        let mut status = TestCaseStatus::non_success(NonSuccessKind::Error);
        status.set_type(text(&failure.kind)).set_message(text(&failure.message));
        let mut case = TestCase::new("not answered", status);
        case.set_classname(text(rule));
        case
    };
    if failure.rules.is_empty() { vec![one(&failure.module)] } else { failure.rules.iter().map(|rule| one(rule)).collect() }
}

/// One line without what XML 1.0 forbids, escaped or not: control characters and the two last code points of the first plane.
fn text(words: &str) -> String {
    clean(words).replace(['\u{fffe}', '\u{ffff}'], "\u{fffd}")
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
    fn unresolved_fails_when_asked_to_be_strict() {
        let failures = |strict| sample::with_material(strict, render).matches("<failure ").count();
        assert_eq!((failures(false), failures(true)), (1, 2));
    }

    #[test]
    fn xml_gets_no_character_it_forbids() {
        let out = sample::with_changed(true, render, |reviews| {
            for finding in &mut reviews.reviews[0].findings {
                finding.subject.label = "a\u{0}b\u{1b}[31mc\u{8}\u{fffe}\u{ffff}\"<&>']]>".to_owned();
                finding.because = vec!["\u{b}\u{c}\u{1f}".to_owned()];
            }
        });
        let forbidden = |letter: char| matches!(letter, '\u{fffe}' | '\u{ffff}') || (letter < ' ' && !"\t\n\r".contains(letter));
        assert!(!out.contains(forbidden), "{out}");
        assert!(out.contains("&lt;&amp;&gt;"), "{out}");
    }
}
