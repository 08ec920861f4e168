//! SARIF 2.1.0, as code scanning and editors read it. Findings that ask nothing of anybody are left out.
//!
//! Everything here is in the order of the reviews, so the same reviews give the same bytes.

mod model;
mod rules;

use super::frame::{Fingerprints, Frame, Weight};
use super::sink::{Sink, as_io};
use super::{RuleText, RuleTexts, clean, complaint};
use model::*;
use percent_encoding::{AsciiSet, CONTROLS, utf8_percent_encode};
use redtag_schema::contract::Stage;
use redtag_schema::contract::{Level, Outcome as Answer};
use redtag_schema::review::{
    Complaint, Failure, MissingFact, Place, Refused, Review, ReviewedFinding, Severity, SilentEquipment,
};
use std::collections::{BTreeMap, BTreeSet};
use std::io::{self, Write};

/// Where the OASIS committee publishes the schema of the format.
const SCHEMA: &str = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";

/// The name that stands for the folder all paths start from.
const ROOT: &str = "%SRCROOT%";

/// How many results code scanning takes in a run, and how many locations in a result.
const MOST_RESULTS: usize = 25_000;
const MOST_LOCATIONS: usize = 1_000;

/// What a path segment in a URI cannot hold as it is (RFC 3986, section 3.3).
const PATH: &AsciiSet = &CONTROLS
    .add(b' ')
    .add(b'"')
    .add(b'#')
    .add(b'%')
    .add(b'<')
    .add(b'>')
    .add(b'?')
    .add(b'[')
    .add(b'\\')
    .add(b']')
    .add(b'^')
    .add(b'`')
    .add(b'{')
    .add(b'|')
    .add(b'}')
    .add(b':');

/// One SARIF log with one run. No more results are kept than code scanning takes, and of the projects only what names them.
pub(crate) struct SarifSink<'w> {
    frame: Frame,
    out: &'w mut dyn Write,
    results: Vec<Kept>,
    left_off: usize,
    fingerprints: Fingerprints,
    titles: BTreeMap<String, (String, Option<RuleText>)>,
    artifacts: Vec<Artifact>,
    files: Vec<String>,
    jurisdictions: BTreeSet<String>,
    stages: BTreeSet<Stage>,
    extensions: BTreeSet<Extension>,
    cautions: BTreeSet<String>,
    notifications: Vec<Notification>,
    successful: bool,
    compared: bool,
}

/// A result and how much it weighs among others: the lightest are left off first.
struct Kept {
    rank: usize,
    result: Outcome,
}

impl<'w> SarifSink<'w> {
    pub(crate) fn new(frame: Frame, out: &'w mut dyn Write) -> Self {
        Self {
            frame,
            out,
            results: Vec::new(),
            left_off: 0,
            fingerprints: Fingerprints::default(),
            titles: BTreeMap::new(),
            artifacts: Vec::new(),
            files: Vec::new(),
            jurisdictions: BTreeSet::new(),
            stages: BTreeSet::new(),
            extensions: BTreeSet::new(),
            cautions: BTreeSet::new(),
            notifications: Vec::new(),
            successful: true,
            compared: true,
        }
    }

    /// Keeps a result; where there are far too many, the worst are kept, and among equals the first.
    fn keep(&mut self, rank: usize, result: Outcome) {
        self.results.push(Kept { rank, result });
        if self.results.len() >= 2 * MOST_RESULTS {
            self.cut();
        }
    }

    fn cut(&mut self) {
        if self.results.len() > MOST_RESULTS {
            self.results.sort_by_key(|kept| kept.rank);
            self.left_off += self.results.len() - MOST_RESULTS;
            self.results.truncate(MOST_RESULTS);
        }
    }

    /// A file of the run, by its number.
    fn file(&mut self, file: &str) -> File {
        let path = self.frame.path(file);
        let at = self.artifacts.len();
        self.artifacts.push(artifact(&path));
        self.files.push(path.clone());
        File { at, path }
    }
}

/// A project file of the run.
struct File {
    at: usize,
    path: String,
}

impl Sink for SarifSink<'_> {
    fn review(&mut self, review: &Review, rules: &RuleTexts) -> io::Result<()> {
        let file = self.file(&review.file);
        self.jurisdictions.extend(review.packs.last().map(|pack| pack.name.clone()));
        self.stages.insert(review.stage);
        self.extensions.extend(review.packs.iter().map(extension));
        self.cautions.extend(review.cautions.iter().cloned());
        self.notifications.extend(notifications(&file, review));
        self.successful &= review.failures.is_empty();
        for finding in &review.findings {
            if !self.titles.contains_key(&finding.rule) {
                let text = rules.get(&finding.rule).cloned();
                self.titles.insert(finding.rule.clone(), (finding.title.clone(), text));
            }
            let Some(level) = level(&self.frame, review, finding) else { continue };
            self.compared &= review.since.is_some();
            let fingerprint = self.fingerprints.of(&file.path, finding);
            let mut result = result(&self.frame, &file, finding, level, fingerprint);
            result.baseline_state = Some(if finding.known { "unchanged" } else { "new" });
            result.suppressions = Some(finding.variance.iter().map(|variance| granted(variance)).collect());
            self.keep(rank(finding.outcome), result);
        }
        let level = if self.frame.weight_of_silence(review) == Weight::Fails { "warning" } else { "note" };
        for silent in review.not_looked_at.unexplained() {
            let fingerprint =
                self.fingerprints.name(&["not-looked-at", silent.id.as_deref().unwrap_or(&silent.pointer), &file.path]);
            self.keep(rank(Answer::Unresolved), unlooked(&file, silent, level, fingerprint));
        }
        self.complaints(&file, &review.complaints);
        Ok(())
    }

    fn refused(&mut self, refused: &Refused) -> io::Result<()> {
        let file = self.file(&refused.file);
        self.successful = false;
        self.complaints(&file, &refused.complaints);
        Ok(())
    }

    fn end(&mut self) -> io::Result<()> {
        self.cut();
        let log = Log { schema: SCHEMA, version: "2.1.0", runs: vec![self.run()] };
        serde_json::to_writer_pretty(&mut self.out, &log).map_err(as_io)?;
        writeln!(self.out)?;
        self.out.flush()
    }
}

/// The order in which results are left off, the last first. What keeps a file from being reviewed stays longest.
fn rank(outcome: Answer) -> usize {
    1 + Answer::ALL.iter().position(|other| *other == outcome).unwrap_or_default()
}

impl SarifSink<'_> {
    fn complaints(&mut self, file: &File, complaints: &[Complaint]) {
        for complaint in complaints {
            let pointer = complaint.pointer.as_deref().unwrap_or_default();
            let fingerprint = self.fingerprints.name(&[&complaint.code, pointer, &complaint.message, &file.path]);
            let result = complained(&self.frame, file, complaint, fingerprint);
            self.titles
                .entry(result.rule_id.clone())
                .or_insert_with(|| (format!("A document that cannot be used: {}", complaint.code), None));
            self.keep(0, result);
        }
    }

    fn run(&mut self) -> Run {
        let rules = rules::all(&self.titles, &self.frame.notice);
        let places: BTreeMap<String, usize> = rules.iter().enumerate().map(|(at, rule)| (rule.id.clone(), at)).collect();
        let id = self.category();
        let mut notifications = std::mem::take(&mut self.notifications);
        notifications.extend(left_off(self.left_off));
        let kinds: BTreeSet<Descriptor> = notifications.iter().map(|one| one.descriptor.clone()).collect();
        Run {
            tool: Tool {
                driver: Driver {
                    name: self.frame.tool.name.clone(),
                    semantic_version: self.frame.tool.version.clone(),
                    full_description: message(&self.frame.notice),
                    rules,
                    notifications: kinds.into_iter().collect(),
                },
                extensions: std::mem::take(&mut self.extensions).into_iter().collect(),
            },
            automation_details: AutomationDetails { id },
            invocations: vec![Invocation { execution_successful: self.successful, tool_execution_notifications: notifications }],
            original_uri_base_ids: BTreeMap::from([(ROOT, Base { description: message("The folder the review was run in.") })]),
            artifacts: std::mem::take(&mut self.artifacts),
            column_kind: "unicodeCodePoints",
            results: self.settled(&places),
            properties: RunProperties {
                notice: self.frame.notice.clone(),
                cautions: std::mem::take(&mut self.cautions).into_iter().collect(),
            },
        }
    }

    /// The results, with what the standard wants on every result of a run or on none.
    fn settled(&mut self, rules: &BTreeMap<String, usize>) -> Vec<Outcome> {
        let granted = |kept: &Kept| kept.result.suppressions.as_ref().is_some_and(|list| !list.is_empty());
        let suppressed = self.results.iter().any(granted);
        let compared = self.compared;
        let settle = |Kept { mut result, .. }: Kept| {
            result.rule_index = rules.get(&result.rule_id).copied();
            result.suppressions = result.suppressions.filter(|_| suppressed).or_else(|| suppressed.then(Vec::new));
            result.baseline_state = result.baseline_state.filter(|_| compared).or(compared.then_some("new"));
            result
        };
        std::mem::take(&mut self.results).into_iter().map(settle).collect()
    }

    /// Names the run so that the next one of the same files can be compared with it: jurisdiction, stage, and the file or the
    /// folder the files share. What stands before the last slash is the category.
    fn category(&self) -> String {
        let mut parts = vec![self.frame.tool.name.clone()];
        parts.extend(self.jurisdictions.first().filter(|_| self.jurisdictions.len() == 1).cloned());
        parts.extend(self.stages.first().filter(|_| self.stages.len() == 1).map(|stage| stage.word().to_owned()));
        let mut files = self.files.iter().map(|file| file.split('/').collect::<Vec<_>>());
        let first = files.next().unwrap_or_default();
        let shared = files.fold(first, |shared, file| {
            shared.into_iter().zip(file).take_while(|(left, right)| left == right).map(|(left, _)| left).collect()
        });
        parts.extend(shared.into_iter().filter(|part| !part.is_empty()).map(str::to_owned));
        parts.push(String::new());
        parts.join("/")
    }
}

fn extension(pack: &redtag_schema::review::PackUsed) -> Extension {
    Extension {
        name: pack.name.clone(),
        full_name: pack.title.clone(),
        semantic_version: pack.version.clone(),
        properties: ExtensionProperties { digest: pack.digest.clone() },
    }
}

/// The level; nothing for what asks nothing. A variance settles an error, which stays one, suppressed.
fn level(frame: &Frame, review: &Review, finding: &ReviewedFinding) -> Option<&'static str> {
    match finding.outcome {
        _ if finding.variance.is_some() => Some(if finding.level == Level::Required { "error" } else { "note" }),
        Answer::Correction => Some("error"),
        Answer::Unresolved => Some(if frame.strict(review) { "warning" } else { "note" }),
        Answer::Advice => Some("note"),
        Answer::Complies | Answer::NotApplicable => None,
    }
}

fn granted(variance: &str) -> Suppression {
    Suppression { kind: "external", status: "accepted", justification: clean(variance).into_owned() }
}

fn result(frame: &Frame, file: &File, finding: &ReviewedFinding, level: &'static str, fingerprint: String) -> Outcome {
    let subject = &finding.subject;
    let mut location = location(file, Some(finding.place));
    location.logical_locations.push(object(subject.id.as_deref().unwrap_or(&subject.label), &subject.pointer));
    let related = finding.missing.iter().take(MOST_LOCATIONS).enumerate();
    Outcome {
        rule_id: finding.rule.clone(),
        rule_index: None,
        level,
        message: message(&words(frame, finding)),
        locations: vec![location],
        related_locations: related.map(|(number, fact)| fill_in(file, number, fact)).collect(),
        partial_fingerprints: PartialFingerprints { line_hash: fingerprint.clone(), rule_subject: fingerprint },
        baseline_state: None,
        suppressions: None,
        properties: OutcomeProperties { outcome: finding.outcome.word(), worksheet: frame.worksheet(finding) },
    }
}

fn object(name: &str, pointer: &str) -> LogicalLocation {
    LogicalLocation { name: name.to_owned(), fully_qualified_name: pointer.to_owned(), kind: "object" }
}

/// A complaint about a document. Where it stands in another document, such as a pack, the words say so and the project that
/// could not be reviewed is the place.
fn complained(frame: &Frame, file: &File, complaint: &Complaint, fingerprint: String) -> Outcome {
    let here = complaint.file.as_ref().is_none_or(|other| frame.path(other) == file.path);
    let mut words = complaint::sentence(complaint);
    if let (false, Some(other), Some(place)) = (here, &complaint.file, complaint.place) {
        words.push_str(&format!(" ({}:{}:{})", frame.path(other), place.line, place.column));
    }
    let mut location = location(file, complaint.place.filter(|_| here));
    location.logical_locations.extend(complaint.pointer.as_deref().map(|pointer| object(pointer, pointer)));
    Outcome {
        rule_id: format!("document/{}", complaint.code),
        rule_index: None,
        level: complaint.severity.word(),
        message: message(&clean(&words)),
        locations: vec![location],
        related_locations: Vec::new(),
        partial_fingerprints: PartialFingerprints { line_hash: fingerprint.clone(), rule_subject: fingerprint },
        baseline_state: None,
        suppressions: None,
        properties: OutcomeProperties {
            outcome: if complaint.severity == Severity::Error { "refused" } else { "remark" },
            worksheet: Vec::new(),
        },
    }
}

/// A piece of equipment of which no rule spoke.
fn unlooked(file: &File, silent: &SilentEquipment, level: &'static str, fingerprint: String) -> Outcome {
    let mut location = location(file, Some(silent.place));
    location.logical_locations.push(object(silent.id.as_deref().unwrap_or(&silent.label), &silent.pointer));
    Outcome {
        rule_id: "not-looked-at".to_owned(),
        rule_index: None,
        level,
        message: message(&clean(&format!("not looked at: no rule spoke of {}", silent.label))),
        locations: vec![location],
        related_locations: Vec::new(),
        partial_fingerprints: PartialFingerprints { line_hash: fingerprint.clone(), rule_subject: fingerprint },
        baseline_state: None,
        suppressions: None,
        properties: OutcomeProperties { outcome: "not-looked-at", worksheet: Vec::new() },
    }
}

/// A sentence that stands for the finding, then what to do, a line each.
fn words(frame: &Frame, finding: &ReviewedFinding) -> String {
    let mut words = format!("{}: {}.", finding.outcome.word(), frame.sentence(finding).trim_end_matches('.'));
    for (word, text) in frame.details(finding) {
        words.push_str(&format!("\n{word}: {text}"));
    }
    words
}

fn fill_in(file: &File, number: usize, fact: &MissingFact) -> Location {
    let mut place = location(file, Some(fact.place));
    place.id = Some(number + 1);
    let what = fact.what.as_ref().map(|what| format!(": {what}")).unwrap_or_default();
    place.message = Some(message(&clean(&format!("fill in {}{what}", fact.pointer))));
    place
}

fn location(file: &File, place: Option<Place>) -> Location {
    let region = place.map(|place| Region {
        start_line: place.line,
        start_column: place.column,
        end_line: place.end_line,
        end_column: place.end_column,
    });
    let mut artifact = artifact(&file.path).location;
    artifact.index = Some(file.at);
    let physical_location = PhysicalLocation { artifact_location: artifact, region };
    Location { id: None, physical_location, logical_locations: Vec::new(), message: None }
}

fn artifact(path: &str) -> Artifact {
    let encoded = utf8_percent_encode(path, PATH).to_string();
    let location = if path.starts_with('/') {
        ArtifactLocation { uri: format!("file://{encoded}"), uri_base_id: None, index: None }
    } else {
        ArtifactLocation { uri: encoded, uri_base_id: Some(ROOT), index: None }
    };
    Artifact { location, mime_type: "application/json" }
}

/// What is told about a run and is no result: modules that failed, remarks, what nobody looked at.
fn notifications(file: &File, review: &Review) -> Vec<Notification> {
    let notification = |id: &str, level, text: &str| Notification {
        descriptor: Descriptor { id: id.to_owned() },
        level,
        message: message(&clean(text)),
        locations: vec![location(file, None)],
    };
    let mut all: Vec<Notification> = Vec::new();
    all.extend(review.failures.iter().map(|failure| notification(&failure.kind, "error", &failed(failure))));
    all.extend(review.notes.iter().map(|note| notification("note", "note", note)));
    for family in &review.not_looked_at.families {
        let why = if family.why.is_empty() { String::new() } else { format!(": {}", family.why.join("; ")) };
        all.push(notification("not-looked-at", "note", &format!("{} found nothing to look at{why}", family.family)));
    }
    if !review.not_looked_at.facts.is_empty() {
        let facts: Vec<&str> = review.not_looked_at.facts.iter().map(|fact| fact.pointer.as_str()).collect();
        all.push(notification("not-looked-at", "note", &format!("facts that decided nothing: {}", facts.join(", "))));
    }
    all
}

fn left_off(count: usize) -> Option<Notification> {
    let text = format!("{count} of the lightest findings were left off: code scanning takes {MOST_RESULTS} in a run");
    (count > 0).then(|| Notification {
        descriptor: Descriptor { id: "left-off".to_owned() },
        level: "warning",
        message: message(&text),
        locations: Vec::new(),
    })
}

fn failed(failure: &Failure) -> String {
    let rules = if failure.rules.is_empty() { String::new() } else { format!(" Not answered: {}.", failure.rules.join(", ")) };
    format!("{} ({}){rules}", failure.message, failure.pack)
}

/// Braces stand for places in SARIF messages, and brackets for links, unless they are escaped (sections 3.11.5 and 3.11.6).
fn message(text: &str) -> Message {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '{' | '}' => out.extend([letter, letter]),
            '[' | ']' | '\\' => out.extend(['\\', letter]),
            letter => out.push(letter),
        }
    }
    Message { text: out }
}

#[cfg(test)]
mod tests;
