//! SARIF 2.1.0, as code scanning and editors read it. Findings that ask nothing of anybody are left out.
//!
//! Everything here is in the order of the reviews, so the same reviews give the same bytes.

mod model;
mod rules;

use super::material::Fingerprints;
use super::{Material, Totals as _, clean};
use model::*;
use percent_encoding::{AsciiSet, CONTROLS, utf8_percent_encode};
use redtag_schema::contract::{Level, Outcome as Answer};
use redtag_schema::review::{Failure, MissingFact, Place, Review, ReviewedFinding};
use std::collections::{BTreeMap, BTreeSet};

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

/// The reviews as one SARIF log with one run.
pub fn render(material: &Material) -> String {
    let log = Log { schema: SCHEMA, version: "2.1.0", runs: vec![run(material)] };
    // Writing plain data into memory cannot fail.
    let mut out = serde_json::to_string_pretty(&log).unwrap_or_else(|_| "{}".to_owned());
    out.push('\n');
    out
}

fn run(material: &Material) -> Run {
    let reviews = material.reviews;
    let rules = rules::all(material);
    let places: BTreeMap<String, usize> = rules.iter().enumerate().map(|(at, rule)| (rule.id.clone(), at)).collect();
    let (results, left_off) = results(material, &places);
    let notifications = notifications(material, left_off);
    let kinds: BTreeSet<Descriptor> = notifications.iter().map(|one| one.descriptor.clone()).collect();
    let cautions: BTreeSet<&String> = reviews.reviews.iter().flat_map(|review| &review.cautions).collect();
    Run {
        tool: Tool {
            driver: Driver {
                name: reviews.tool.name.clone(),
                semantic_version: reviews.tool.version.clone(),
                full_description: message(&reviews.notice),
                rules,
                notifications: kinds.into_iter().collect(),
            },
            extensions: extensions(material),
        },
        automation_details: AutomationDetails { id: category(material) },
        invocations: vec![Invocation {
            execution_successful: reviews.failed() == 0,
            tool_execution_notifications: notifications,
        }],
        original_uri_base_ids: BTreeMap::from([(ROOT, Base { description: message("The folder the review was run in.") })]),
        artifacts: reviews.reviews.iter().map(|review| artifact(material, review)).collect(),
        column_kind: "unicodeCodePoints",
        results,
        properties: RunProperties { notice: reviews.notice.clone(), cautions: cautions.into_iter().cloned().collect() },
    }
}

/// Names the run so that the next one of the same files can be compared with it: jurisdiction, stage, and the file or the
/// folder the files share. What stands before the last slash is the category.
fn category(material: &Material) -> String {
    let reviews = &material.reviews.reviews;
    let packs: BTreeSet<&str> = reviews.iter().filter_map(|review| review.packs.last()).map(|pack| pack.name.as_str()).collect();
    let stages: BTreeSet<&str> = reviews.iter().map(|review| review.stage.word()).collect();
    let mut parts = vec![material.reviews.tool.name.clone()];
    for names in [packs, stages] {
        parts.extend(names.first().filter(|_| names.len() == 1).map(|name| (*name).to_owned()));
    }
    let files: Vec<Vec<String>> =
        reviews.iter().map(|review| material.path(review).split('/').map(str::to_owned).collect()).collect();
    let shared = files.iter().skip(1).fold(files.first().cloned().unwrap_or_default(), |shared, file| {
        shared.into_iter().zip(file).take_while(|(left, right)| left == *right).map(|(left, _)| left).collect()
    });
    parts.extend(shared.into_iter().filter(|part| !part.is_empty()));
    parts.push(String::new());
    parts.join("/")
}

fn extensions(material: &Material) -> Vec<Extension> {
    let packs = material.reviews.reviews.iter().flat_map(|review| &review.packs);
    let extension = |pack: &redtag_schema::review::PackUsed| Extension {
        name: pack.name.clone(),
        full_name: pack.title.clone(),
        semantic_version: pack.version.clone(),
        properties: ExtensionProperties { digest: pack.digest.clone() },
    };
    packs.map(extension).collect::<BTreeSet<_>>().into_iter().collect()
}

/// The results, worst first where there are too many, and how many were left off.
fn results(material: &Material, rules: &BTreeMap<String, usize>) -> (Vec<Outcome>, usize) {
    let reviews = &material.reviews.reviews;
    let findings =
        || reviews.iter().enumerate().flat_map(|(at, review)| review.findings.iter().map(move |one| (at, review, one)));
    let mut wanted: Vec<_> = findings().filter(|(_, review, finding)| level(material, review, finding).is_some()).collect();
    let left_off = wanted.len().saturating_sub(MOST_RESULTS);
    if left_off > 0 {
        wanted.sort_by_key(|(_, _, finding)| finding.outcome);
        wanted.truncate(MOST_RESULTS);
    }
    // The standard wants these on every result of a run or on none.
    let suppressed = wanted.iter().any(|(_, _, finding)| finding.variance.is_some());
    let compared = wanted.iter().all(|(_, review, _)| review.since.is_some());
    let mut fingerprints = Fingerprints::default();
    let mut results = Vec::new();
    for (at, review, finding) in wanted {
        let mut result = result(material, (at, review), finding, fingerprints.of(&material.path(review), finding));
        result.rule_index = rules.get(&finding.rule).copied();
        result.suppressions = suppressed.then(|| finding.variance.iter().map(|variance| granted(variance)).collect());
        result.baseline_state = compared.then_some(if finding.known { "unchanged" } else { "new" });
        results.push(result);
    }
    (results, left_off)
}

/// The level; nothing for what asks nothing. A variance settles an error, which stays one, suppressed.
fn level(material: &Material, review: &Review, finding: &ReviewedFinding) -> Option<&'static str> {
    match finding.outcome {
        _ if finding.variance.is_some() => Some(if finding.level == Level::Required { "error" } else { "note" }),
        Answer::Correction => Some("error"),
        Answer::Unresolved => Some(if material.strict(review) { "warning" } else { "note" }),
        Answer::Advice => Some("note"),
        Answer::Complies | Answer::NotApplicable => None,
    }
}

fn granted(variance: &str) -> Suppression {
    Suppression { kind: "external", status: "accepted", justification: clean(variance).into_owned() }
}

fn result(material: &Material, (at, review): (usize, &Review), finding: &ReviewedFinding, fingerprint: String) -> Outcome {
    let subject = &finding.subject;
    let mut location = location(material, (at, review), Some(finding.place));
    location.logical_locations.push(LogicalLocation {
        name: subject.id.as_deref().unwrap_or(&subject.label).to_owned(),
        fully_qualified_name: subject.pointer.clone(),
        kind: "object",
    });
    let related = finding.missing.iter().take(MOST_LOCATIONS).enumerate();
    Outcome {
        rule_id: finding.rule.clone(),
        rule_index: None,
        level: level(material, review, finding).unwrap_or("none"),
        message: message(&words(material, finding)),
        locations: vec![location],
        related_locations: related.map(|(number, fact)| fill_in(material, (at, review), number, fact)).collect(),
        partial_fingerprints: PartialFingerprints { line_hash: fingerprint.clone(), rule_subject: fingerprint },
        baseline_state: None,
        suppressions: None,
        properties: OutcomeProperties { outcome: finding.outcome.word(), worksheet: material.worksheet(finding) },
    }
}

/// A sentence that stands for the finding, then what to do, a line each.
fn words(material: &Material, finding: &ReviewedFinding) -> String {
    let mut words = format!("{}: {}.", finding.outcome.word(), material.sentence(finding).trim_end_matches('.'));
    for (word, text) in material.details(finding) {
        words.push_str(&format!("\n{word}: {text}"));
    }
    words
}

fn fill_in(material: &Material, review: (usize, &Review), number: usize, fact: &MissingFact) -> Location {
    let mut place = location(material, review, Some(fact.place));
    place.id = Some(number + 1);
    let what = fact.what.as_ref().map(|what| format!(": {what}")).unwrap_or_default();
    place.message = Some(message(&clean(&format!("fill in {}{what}", fact.pointer))));
    place
}

fn location(material: &Material, (at, review): (usize, &Review), place: Option<Place>) -> Location {
    let region = place.map(|place| Region {
        start_line: place.line,
        start_column: place.column,
        end_line: place.end_line,
        end_column: place.end_column,
    });
    let mut artifact = artifact(material, review).location;
    artifact.index = Some(at);
    let physical_location = PhysicalLocation { artifact_location: artifact, region };
    Location { id: None, physical_location, logical_locations: Vec::new(), message: None }
}

fn artifact(material: &Material, review: &Review) -> Artifact {
    let path = material.path(review);
    let encoded = utf8_percent_encode(&path, PATH).to_string();
    let location = if path.starts_with('/') {
        ArtifactLocation { uri: format!("file://{encoded}"), uri_base_id: None, index: None }
    } else {
        ArtifactLocation { uri: encoded, uri_base_id: Some(ROOT), index: None }
    };
    Artifact { location, mime_type: "application/json" }
}

fn notifications(material: &Material, left_off: usize) -> Vec<Notification> {
    let mut all = Vec::new();
    for (at, review) in material.reviews.reviews.iter().enumerate() {
        let here = || vec![location(material, (at, review), None)];
        let notification = |id: &str, level, text: &str| Notification {
            descriptor: Descriptor { id: id.to_owned() },
            level,
            message: message(&clean(text)),
            locations: here(),
        };
        all.extend(review.failures.iter().map(|failure| notification(&failure.kind, "error", &failed(failure))));
        all.extend(review.notes.iter().map(|note| notification("note", "note", note)));
    }
    if left_off > 0 {
        let text = format!("{left_off} of the lightest findings were left off: code scanning takes {MOST_RESULTS} in a run");
        all.push(Notification {
            descriptor: Descriptor { id: "left-off".to_owned() },
            level: "warning",
            message: message(&text),
            locations: Vec::new(),
        });
    }
    all
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
