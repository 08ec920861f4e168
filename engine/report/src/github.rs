//! Annotations of a GitHub workflow: commands on standard output that the runner turns into remarks on the changed lines.
//!
//! A step may leave ten annotations of each weight, so the worst come first and the last lines say what was left off.

use super::count::{Sum, Totals as _};
use super::frame::{Frame, Weight};
use super::sink::Sink;
use super::{RuleTexts, clean, complaint};
use redtag_schema::contract::Outcome;
use redtag_schema::review::{Complaint, Failure, Place, Refused, Review, ReviewedFinding, Severity, SilentEquipment};
use std::collections::BTreeMap;
use std::io::{self, Write};

/// How many annotations of one weight a step may leave (GitHub's documentation of workflow commands).
const MOST: usize = 10;

/// The weights of annotations, worst first.
const WEIGHTS: [&str; 3] = ["error", "warning", "notice"];

/// The annotations, then how many there are of each weight, the totals and what every report says. Only those that can be
/// shown are kept.
pub(crate) struct GithubSink<'w> {
    frame: Frame,
    out: &'w mut dyn Write,
    shown: [Shown; 3],
    sum: Sum,
    refused: usize,
}

/// The annotations of one weight: as many as can be shown of each rank, the worst rank first, and how many there were.
#[derive(Default)]
struct Shown {
    ranks: BTreeMap<Rank, Vec<String>>,
    count: usize,
}

/// What comes first among annotations of one weight.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
enum Rank {
    /// A file that could not be reviewed.
    Refused,
    /// A module that failed.
    Failed,
    /// A finding, by outcome.
    Finding(Outcome),
    /// What no rule spoke of.
    NotLookedAt,
}

impl Shown {
    fn add(&mut self, rank: Rank, line: impl FnOnce() -> String) {
        self.count += 1;
        let lines = self.ranks.entry(rank).or_default();
        if lines.len() < MOST {
            lines.push(line());
        }
    }

    fn lines(&self) -> impl Iterator<Item = &String> {
        self.ranks.values().flatten().take(MOST)
    }
}

impl<'w> GithubSink<'w> {
    pub(crate) fn new(frame: Frame, out: &'w mut dyn Write) -> Self {
        Self { frame, out, shown: Default::default(), sum: Sum::default(), refused: 0 }
    }

    fn complaint(&mut self, path: &str, complaint: &Complaint) {
        let weight = match complaint.severity {
            Severity::Error => 0,
            Severity::Warning => 1,
            Severity::Note => 2,
        };
        self.shown[weight].add(Rank::Refused, || complained(path, complaint, WEIGHTS[weight]));
    }
}

impl Sink for GithubSink<'_> {
    fn review(&mut self, review: &Review, _: &RuleTexts) -> io::Result<()> {
        let (frame, path) = (&self.frame, self.frame.path(&review.file));
        for failure in &review.failures {
            self.shown[0].add(Rank::Failed, || failed(&path, failure));
        }
        for finding in &review.findings {
            if let Some(weight) = weight(frame.weight(review, finding)) {
                let line = || annotation(frame, &path, finding, WEIGHTS[weight]);
                self.shown[weight].add(Rank::Finding(finding.outcome), line);
            }
        }
        if let Some(weight) = weight(frame.weight_of_silence(review)) {
            for silent in review.not_looked_at.unexplained() {
                self.shown[weight].add(Rank::NotLookedAt, || unlooked(&path, silent, WEIGHTS[weight]));
            }
        }
        review.complaints.iter().for_each(|one| self.complaint(&path, one));
        self.sum.add(review);
        Ok(())
    }

    fn refused(&mut self, refused: &Refused) -> io::Result<()> {
        self.refused += 1;
        let path = self.frame.path(&refused.file);
        refused.complaints.iter().for_each(|one| self.complaint(&path, one));
        Ok(())
    }

    fn end(&mut self) -> io::Result<()> {
        for line in self.shown.iter().flat_map(Shown::lines) {
            writeln!(self.out, "{line}")?;
        }
        let closing = self.closing();
        self.out.write_all(closing.as_bytes())?;
        self.out.flush()
    }
}

fn weight(weight: Weight) -> Option<usize> {
    match weight {
        Weight::Fails => Some(0),
        Weight::Open => Some(1),
        Weight::Hint => Some(2),
        Weight::Nothing => None,
    }
}

fn annotation(frame: &Frame, path: &str, finding: &ReviewedFinding, weight: &str) -> String {
    let place = finding.place;
    let mut properties = format!("file={},line={},endLine={}", property(path), place.line, place.end_line);
    // Columns are heeded only within one line.
    if place.line == place.end_line {
        properties.push_str(&format!(",col={},endColumn={}", place.column, place.end_column));
    }
    let title = property(&format!("{} {}: {}", finding.outcome.word(), finding.rule, finding.title));
    let mut message = frame.sentence(finding);
    for (word, text) in frame.details(finding) {
        message.push_str(&format!("\n{word}: {text}"));
    }
    format!("::{weight} {properties},title={title}::{}", data(&message))
}

fn failed(path: &str, failure: &Failure) -> String {
    let title = property(&format!("module failed: {} ({})", failure.module, failure.kind));
    let rules = if failure.rules.is_empty() { String::new() } else { format!("\nnot answered: {}", failure.rules.join(", ")) };
    let message = format!("{} ({}){rules}", clean(&failure.message), failure.pack);
    format!("::error file={},line=1,title={title}::{}", property(path), data(&message))
}

fn complained(path: &str, complaint: &Complaint, weight: &str) -> String {
    let title = property(&format!("cannot be reviewed: {}", complaint.code));
    let message = data(&clean(&complaint::sentence(complaint)));
    format!("::{weight} {},title={title}::{message}", place(path, complaint.place))
}

fn unlooked(path: &str, silent: &SilentEquipment, weight: &str) -> String {
    let message = data(&clean(&format!("no rule spoke of {}", silent.label)));
    format!("::{weight} {},title=not looked at::{message}", place(path, Some(silent.place)))
}

/// `file=a.json,line=3`; the first line where no place is known.
fn place(path: &str, place: Option<Place>) -> String {
    let (line, end) = place.map_or((1, 1), |place| (place.line, place.end_line));
    format!("file={},line={line},endLine={end}", property(path))
}

impl GithubSink<'_> {
    fn closing(&self) -> String {
        let count = |(weight, shown): (&str, &Shown)| {
            let count = shown.count;
            let hidden = count.saturating_sub(MOST);
            let hidden = if hidden == 0 { String::new() } else { format!(" ({hidden} not shown here)") };
            format!("{count} {weight}{}{hidden}", if count == 1 { "" } else { "s" })
        };
        let counts: Vec<String> = WEIGHTS.into_iter().zip(&self.shown).map(count).collect();
        let refused = if self.refused == 0 { String::new() } else { format!("; {} refused", self.refused) };
        format!("{}\ntotal: {}{refused}\n{}\n", counts.join(", "), self.sum.words(), clean(&self.frame.notice))
    }
}

/// Text behind the second pair of colons.
fn data(text: &str) -> String {
    text.replace('%', "%25").replace('\r', "%0D").replace('\n', "%0A")
}

/// Text between the pairs of colons.
fn property(text: &str) -> String {
    data(&clean(text)).replace(':', "%3A").replace(',', "%2C")
}

#[cfg(test)]
mod tests {
    use crate::{Format, sample};

    #[test]
    fn the_annotations_read_like_this() {
        insta::assert_snapshot!(sample::as_it_is(Format::Github, false));
    }

    #[test]
    fn nothing_in_a_project_makes_a_command_of_its_own() {
        let hostile = "x\n::error::y, 100 %: z\r\n::stop-commands::q";
        let out = sample::with_changed(Format::Github, false, |reviews| {
            reviews.reviews[0].findings[0].title = hostile.to_owned();
            reviews.reviews[0].findings[0].subject.label = hostile.to_owned();
            reviews.reviews[0].file = "a,b: c%.json".to_owned();
        });
        let commands: Vec<&str> = out.lines().filter(|line| line.starts_with("::")).collect();
        assert_eq!(commands.len(), 5, "{out}");
        assert!(!out.contains("\n::stop") && commands[1].starts_with("::error file=a%2Cb%3A c%25.json,line=41"), "{out}");
        let (properties, message) = commands[1][2..].split_once("::").unwrap_or_default();
        assert!(properties.ends_with("y%2C 100 %25%3A z  %3A%3Astop-commands%3A%3Aq"), "{properties}");
        assert!(message.contains("y, 100 %25: z"), "{message}");
    }

    #[test]
    fn ten_of_each_weight_and_the_worst_first() {
        let out = sample::with_changed(Format::Github, false, |reviews| {
            let finding = reviews.reviews[0].findings[0].clone();
            reviews.reviews[0].findings.splice(0..0, std::iter::repeat_n(finding, 29));
        });
        assert_eq!(out.lines().filter(|line| line.starts_with("::error")).count(), 10);
        assert!(out.starts_with("::error file=houses/boatyard.json,line=1,title=module failed"), "{out}");
        assert!(out.contains("31 errors (21 not shown here), 2 warnings, 1 notice"), "{out}");
    }

    #[test]
    fn what_was_known_before_fails_nothing() {
        let out = sample::with_changed(Format::Github, true, |reviews| {
            reviews.reviews[0].since = Some("main".to_owned());
            reviews.reviews[0].findings.iter_mut().for_each(|finding| finding.known = true);
            reviews.reviews[0].failures.clear();
        });
        assert!(!out.contains("::error") && !out.contains("::warning") && out.contains("::notice"), "{out}");
    }
}
