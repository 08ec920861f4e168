//! JUnit XML: a test suite for each project and module, a test case for each rule and subject.

use super::frame::{Frame, Weight};
use super::sink::Sink;
use super::{RuleTexts, clean, complaint};
use quick_junit::{NonSuccessKind, Property, Report, TestCase, TestCaseStatus, TestSuite};
use redtag_schema::contract::Outcome;
use redtag_schema::review::{Complaint, Failure, Refused, Review, ReviewedFinding, Severity, SilentEquipment};
use std::collections::BTreeMap;
use std::io::{self, Write};

/// The suites are written as they come. The sums over all of them, which the format leaves open, are left to the reader: they
/// would have to stand before the first.
pub(crate) struct JunitSink<'w> {
    frame: Frame,
    out: &'w mut dyn Write,
}

/// What stands around the suites of a report.
const OPEN: &str = "<testsuites name=\"redtag\">";
const CLOSE: &str = "</testsuites>";

impl<'w> JunitSink<'w> {
    pub(crate) fn begin(frame: Frame, out: &'w mut dyn Write) -> io::Result<Self> {
        writeln!(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{OPEN}")?;
        Ok(Self { frame, out })
    }

    /// Writes suites by way of a report of their own, whose frame is taken off.
    fn write(&mut self, suites: impl IntoIterator<Item = TestSuite>) -> io::Result<()> {
        let mut report = Report::new("redtag");
        report.add_test_suites(suites);
        let text = report.to_string().map_err(io::Error::other)?;
        let begin = text.find("<testsuites").and_then(|at| Some(at + text[at..].find('\n')? + 1));
        let (Some(begin), Some(end)) = (begin, text.rfind(CLOSE)) else { return Ok(()) };
        self.out.write_all(text.get(begin..end).unwrap_or_default().as_bytes())
    }
}

impl Sink for JunitSink<'_> {
    fn review(&mut self, review: &Review, rules: &RuleTexts) -> io::Result<()> {
        let suites = suites(&self.frame, review, rules);
        self.write(suites)
    }

    fn refused(&mut self, refused: &Refused) -> io::Result<()> {
        let mut suite = TestSuite::new(text(&format!("{}: document", self.frame.path(&refused.file))));
        suite.add_property(Property::new("notice", text(&self.frame.notice)));
        suite.add_test_cases(complained(&self.frame.path(&refused.file), &refused.complaints));
        self.write([suite])
    }

    fn end(&mut self) -> io::Result<()> {
        writeln!(self.out, "{CLOSE}")?;
        self.out.flush()
    }
}

/// The suites of one project, sorted by name.
fn suites(frame: &Frame, review: &Review, rules: &RuleTexts) -> Vec<TestSuite> {
    let mut suites: BTreeMap<String, TestSuite> = BTreeMap::new();
    let mut names: BTreeMap<(String, String), usize> = BTreeMap::new();
    for finding in &review.findings {
        let source = rules.get(&finding.rule).map(|rule| format!("{}/{}", rule.pack, rule.module));
        let suite = suite(&mut suites, frame, review, &source.unwrap_or_else(|| "unknown".to_owned()));
        let name = case_name(finding);
        let count = names.entry((finding.rule.clone(), name.clone())).or_default();
        *count += 1;
        let name = if *count == 1 { name } else { format!("{name} ({count})") };
        suite.add_test_case(case(frame, review, finding, &name));
    }
    for failure in &review.failures {
        let pack = failure.pack.split(' ').next().unwrap_or_default();
        let suite = suite(&mut suites, frame, review, &format!("{pack}/{}", failure.module));
        suite.add_test_cases(failed(failure));
    }
    if !review.complaints.is_empty() {
        suite(&mut suites, frame, review, "document").add_test_cases(complained(&frame.path(&review.file), &review.complaints));
    }
    for silent in review.not_looked_at.unexplained() {
        suite(&mut suites, frame, review, "not-looked-at").add_test_case(unlooked(frame, review, silent));
    }
    suites.into_values().collect()
}

fn suite<'a>(suites: &'a mut BTreeMap<String, TestSuite>, frame: &Frame, review: &Review, source: &str) -> &'a mut TestSuite {
    let name = format!("{}: {source}", frame.path(&review.file));
    suites.entry(name.clone()).or_insert_with(|| {
        let mut suite = TestSuite::new(text(&name));
        let packs: Vec<String> = review.packs.iter().map(|pack| format!("{} {}", pack.name, pack.version)).collect();
        let facts = [
            ("project", review.project.clone().unwrap_or_default()),
            ("stage", review.stage.word().to_owned()),
            ("date", review.date.clone()),
            ("rulebook", packs.join(", then ")),
            ("notice", frame.notice.clone()),
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

fn case(frame: &Frame, review: &Review, finding: &ReviewedFinding, name: &str) -> TestCase {
    let sentence = text(&frame.sentence(finding));
    let mut said = None;
    let status = match (frame.weight(review, finding), finding.outcome) {
        (Weight::Fails, _) => {
            let mut status = TestCaseStatus::non_success(NonSuccessKind::Failure);
            status.set_type(finding.outcome.word()).set_message(sentence).set_description(body(frame, finding));
            status
        }
        (_, Outcome::NotApplicable | Outcome::Unresolved | Outcome::Correction) => skipped(finding, &sentence),
        (_, Outcome::Advice) if finding.variance.is_some() => skipped(finding, &sentence),
        (_, Outcome::Advice) => {
            said = Some(format!("advice: {sentence}\n{}", body(frame, finding)));
            TestCaseStatus::success()
        }
        (_, Outcome::Complies) => TestCaseStatus::success(),
    };
    let mut case = TestCase::new(name, status);
    case.set_classname(text(&finding.rule));
    case.extra.insert("file".into(), text(&frame.path(&review.file)).into());
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

fn body(frame: &Frame, finding: &ReviewedFinding) -> String {
    let details = frame.details(finding).into_iter().map(|(word, said)| format!("{word}: {said}"));
    let lines: Vec<String> = frame.worksheet(finding).into_iter().chain(details).map(|line| text(&line)).collect();
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

/// A case for each complaint about a document: an error fails it, the rest is only told.
fn complained(path: &str, complaints: &[Complaint]) -> Vec<TestCase> {
    let one = |(number, complaint): (usize, &Complaint)| {
        let said = text(&complaint::sentence(complaint));
        let status = match complaint.severity {
            Severity::Error => {
                let mut status = TestCaseStatus::non_success(NonSuccessKind::Error);
                status.set_type(complaint.code.clone()).set_message(said.clone());
                status
            }
            Severity::Warning | Severity::Note => TestCaseStatus::success(),
        };
        let pointer = complaint.pointer.as_deref().filter(|pointer| !pointer.is_empty()).unwrap_or("the document");
        let mut case = TestCase::new(text(&format!("{pointer} ({})", number + 1)), status);
        case.set_classname(text(&format!("document/{}", complaint.code)));
        case.extra.insert("file".into(), text(path).into());
        case.extra.insert("line".into(), complaint.place.map_or(1, |place| place.line).to_string().into());
        if complaint.severity != Severity::Error {
            case.set_system_out(said);
        }
        case
    };
    complaints.iter().enumerate().map(one).collect()
}

/// A piece of equipment of which no rule spoke: a failure where silence counts, else skipped, never passed.
fn unlooked(frame: &Frame, review: &Review, silent: &SilentEquipment) -> TestCase {
    let said = text(&format!("no rule spoke of {}", silent.label));
    let mut status = match frame.weight_of_silence(review) {
        Weight::Fails => TestCaseStatus::non_success(NonSuccessKind::Failure),
        _ => TestCaseStatus::skipped(),
    };
    status.set_type("not-looked-at").set_message(said);
    let mut case =
        TestCase::new(text(&format!("{} ({})", silent.label, silent.id.as_deref().unwrap_or(&silent.pointer))), status);
    case.set_classname("not-looked-at");
    case.extra.insert("file".into(), text(&frame.path(&review.file)).into());
    case.extra.insert("line".into(), silent.place.line.to_string().into());
    case
}

/// One line without what XML 1.0 forbids, escaped or not: control characters and the two last code points of the first plane.
fn text(words: &str) -> String {
    clean(words).replace(['\u{fffe}', '\u{ffff}'], "\u{fffd}")
}

#[cfg(test)]
mod tests {
    use crate::{Format, sample};

    #[test]
    fn the_report_reads_like_this() {
        insta::assert_snapshot!(sample::as_it_is(Format::Junit, false));
    }

    #[test]
    fn unresolved_fails_when_asked_to_be_strict() {
        let failures = |strict| sample::as_it_is(Format::Junit, strict).matches("<failure ").count();
        // Strict: the unresolved finding, and the piece of equipment of which no rule spoke.
        assert_eq!((failures(false), failures(true)), (1, 3));
    }

    #[test]
    fn xml_gets_no_character_it_forbids() {
        let out = sample::with_changed(Format::Junit, true, |reviews| {
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
