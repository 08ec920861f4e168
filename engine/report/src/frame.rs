//! What every report of a run knows before its first review, and what the formats for programs share: levels, sentences, paths,
//! fingerprints.

use super::{Speaker, Style, clean};
use redtag_schema::contract::{Outcome, Stage, printed};
use redtag_schema::review::{Review, ReviewedFinding, Tool};
use sha2::{Digest as _, Sha256};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::{Component, Path, PathBuf};

/// What a report is written in view of.
#[derive(Debug, Clone)]
pub struct Frame {
    /// The program that writes it.
    pub tool: Tool,
    /// What every report says.
    pub notice: String,
    /// What the reader wants.
    pub style: Style,
    /// The stage from which on unresolved findings count like corrections, where they ever do.
    pub strict_from: Option<Stage>,
    /// The folder that paths are said from: that of the process.
    pub root: Option<PathBuf>,
}

/// What a finding asks of its reader.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// It fails the gate.
    Fails,
    /// It has to be answered, but fails nothing.
    Open,
    /// Worth knowing.
    Hint,
    /// Nothing.
    Nothing,
}

impl Frame {
    /// Whether unresolved findings of the review count like corrections.
    pub fn strict(&self, review: &Review) -> bool {
        self.strict_from.is_some_and(|from| review.stage >= from)
    }

    /// What the finding asks of its reader. What was known before and what a variance settled fail nothing.
    pub fn weight(&self, review: &Review, finding: &ReviewedFinding) -> Weight {
        let settled = finding.variance.is_some() || finding.known;
        match finding.outcome {
            Outcome::Correction if !settled => Weight::Fails,
            Outcome::Unresolved if self.strict(review) && !settled => Weight::Fails,
            Outcome::Unresolved if !settled => Weight::Open,
            Outcome::Correction | Outcome::Unresolved | Outcome::Advice => Weight::Hint,
            Outcome::Complies | Outcome::NotApplicable => Weight::Nothing,
        }
    }

    /// What a piece of equipment of which no rule spoke asks of the reader. Where a review only counts what is new, such a
    /// silence fails nothing.
    pub fn weight_of_silence(&self, review: &Review) -> Weight {
        match (review.since.is_some(), self.strict(review)) {
            (true, _) => Weight::Hint,
            (false, true) => Weight::Fails,
            (false, false) => Weight::Open,
        }
    }

    /// The finding in a sentence that names its subject, on one line, and safe to print.
    pub fn sentence(&self, finding: &ReviewedFinding) -> String {
        let said = Speaker::new(self.style.system).say(&finding.summary);
        let label = &finding.subject.label;
        let whole = if said.starts_with(label.as_str()) { said } else { format!("{label}: {said}") };
        clean(&whole).into_owned()
    }

    /// The arithmetic, a line each.
    pub fn worksheet(&self, finding: &ReviewedFinding) -> Vec<String> {
        let mut speaker = Speaker::new(self.style.system);
        let line = |step: &redtag_schema::contract::Step| {
            let verdict = match step.holds {
                Some(true) => "holds: ",
                Some(false) => "fails: ",
                None => "",
            };
            let source = step.source.as_ref().map(|source| format!(" ({source})")).unwrap_or_default();
            clean(&format!("{verdict}{}: {}{source}", step.label, speaker.say(&step.text))).into_owned()
        };
        finding.worksheet.iter().map(line).collect()
    }

    /// What is to be done, a line each: the places to fill in, the cures, the variance, the laws, the sections.
    pub fn details(&self, finding: &ReviewedFinding) -> Vec<(&'static str, String)> {
        let mut speaker = Speaker::new(self.style.system);
        let mut lines: Vec<(&str, String)> = Vec::new();
        for fact in &finding.missing {
            let what = fact.what.as_ref().map(|what| format!(": {what}")).unwrap_or_default();
            lines.push(("fill in", format!("{} (line {}){what}", fact.pointer, fact.place.line)));
        }
        for (number, remedy) in finding.remedies.iter().enumerate() {
            lines.push((if number == 0 { "cure" } else { "or" }, speaker.say(&remedy.words)));
        }
        lines.extend(finding.variance.iter().map(|variance| ("variance", variance.clone())));
        lines.extend(finding.because.iter().map(|law| ("set by", law.clone())));
        if !finding.citations.is_empty() {
            lines.push(("see", printed(&finding.citations)));
        }
        lines.into_iter().map(|(word, text)| (word, clean(&text).into_owned())).collect()
    }

    /// The project file's path from the root, with slashes on every system.
    pub fn path(&self, file: &str) -> String {
        let path = Path::new(file);
        let below = self.root.as_ref().and_then(|root| path.strip_prefix(root).ok()).unwrap_or(path);
        let mut parts: Vec<String> = Vec::new();
        for part in below.components() {
            match part {
                Component::CurDir => {}
                Component::ParentDir if parts.last().is_some_and(|last| last != "..") => drop(parts.pop()),
                Component::RootDir => parts.push(String::new()),
                part => parts.push(part.as_os_str().to_string_lossy().into_owned()),
            }
        }
        parts.join("/")
    }
}

/// Names findings for programs that compare one run with the next: by rule, subject and file, not by line or wording.
#[derive(Debug, Default)]
pub struct Fingerprints {
    seen: BTreeMap<String, usize>,
}

impl Fingerprints {
    /// The fingerprint: 32 hexadecimal digits, a colon, and which of the findings of one rule about one subject it is, from 1.
    pub fn of(&mut self, path: &str, finding: &ReviewedFinding) -> String {
        let subject = finding.subject.id.as_deref().unwrap_or(&finding.subject.pointer);
        self.name(&[&finding.rule, subject, path])
    }

    /// The fingerprint of anything else.
    pub fn name(&mut self, parts: &[&str]) -> String {
        let digest = Sha256::digest(parts.join("\0"));
        let hash = digest.iter().take(16).fold(String::new(), |mut hash, byte| {
            let _ = write!(hash, "{byte:02x}");
            hash
        });
        let count = self.seen.entry(hash.clone()).or_default();
        *count += 1;
        format!("{hash}:{count}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    fn path_of(file: &str, root: Option<&str>) -> String {
        Frame { root: root.map(PathBuf::from), ..sample::frame(false) }.path(file)
    }

    #[test]
    fn paths_are_said_from_the_root() {
        assert_eq!(path_of("./houses/a.json", None), "houses/a.json");
        assert_eq!(path_of("houses/../b.json", None), "b.json");
        assert_eq!(path_of("../b.json", None), "../b.json");
        assert_eq!(path_of("/srv/repository/houses/a.json", Some("/srv/repository")), "houses/a.json");
        assert_eq!(path_of("/elsewhere/a.json", Some("/srv/repository")), "/elsewhere/a.json");
    }

    #[test]
    fn a_fingerprint_hangs_on_rule_subject_and_file_only() {
        let reviews = sample::reviews();
        let mut finding = reviews.reviews[0].findings[0].clone();
        let name = |finding: &ReviewedFinding, path: &str| Fingerprints::default().of(path, finding);
        let before = name(&finding, "a.json");
        finding.place.line += 100;
        finding.summary.template.push_str(" now");
        finding.subject.pointer = "/spaces/7".to_owned();
        assert_eq!(name(&finding, "a.json"), before, "the subject has an id: moving it changes nothing");
        assert_ne!(name(&finding, "b.json"), before);
        finding.subject.id = None;
        assert_ne!(name(&finding, "a.json"), before);
    }

    #[test]
    fn no_two_findings_share_a_fingerprint() {
        let reviews = sample::reviews();
        let finding = &reviews.reviews[0].findings[0];
        let mut names = Fingerprints::default();
        let (first, second) = (names.of("a.json", finding), names.of("a.json", finding));
        assert!(first.ends_with(":1") && second.ends_with(":2"), "{first} {second}");
    }
}
