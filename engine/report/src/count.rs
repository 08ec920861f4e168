//! How many findings of each outcome, in words.

use redtag_schema::contract::Outcome;
use redtag_schema::review::Review;
use std::collections::BTreeMap;

/// How many findings of each outcome.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Tally(pub BTreeMap<Outcome, usize>);

impl Tally {
    /// The number of one outcome.
    pub fn of(&self, outcome: Outcome) -> usize {
        self.0.get(&outcome).copied().unwrap_or_default()
    }

    /// Counts another tally in.
    pub fn add(&mut self, other: &Self) {
        for (outcome, count) in &other.0 {
            *self.0.entry(*outcome).or_default() += count;
        }
    }

    /// `2 corrections, 1 unresolved, 3 advice; 14 comply, 9 do not apply`.
    pub fn words(&self) -> String {
        self.phrase(String::new(), String::new())
    }

    /// `3 corrections (2 of them known since main), 1 unresolved (0 of them known), 3 advice; 14 comply, 9 do not apply`.
    pub fn words_since(&self, since: &str, known: &Self) -> String {
        let of = |outcome, since: &str| format!(" ({} of them known{since})", known.of(outcome));
        self.phrase(of(Outcome::Correction, &format!(" since {since}")), of(Outcome::Unresolved, ""))
    }

    fn phrase(&self, of_corrections: String, of_unresolved: String) -> String {
        let corrections = plural(self.of(Outcome::Correction), "correction", "corrections") + &of_corrections;
        let unresolved = format!("{} unresolved{of_unresolved}", self.of(Outcome::Unresolved));
        let advice = format!("{} advice", self.of(Outcome::Advice));
        let comply = plural(self.of(Outcome::Complies), "complies", "comply");
        let idle = plural(self.of(Outcome::NotApplicable), "does not apply", "do not apply");
        format!("{corrections}, {unresolved}, {advice}; {comply}, {idle}")
    }
}

/// `1 file` or `2 files`.
pub fn plural(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// What the reviews of a run come to.
pub trait Totals {
    /// How many findings of each outcome.
    fn tally(&self) -> Tally;
    /// How many modules failed.
    fn failed(&self) -> usize;
    /// What they were compared with, and how many findings of each outcome were there already.
    fn known(&self) -> Option<(&str, Tally)>;
    /// All of it in words.
    fn words(&self) -> String {
        let tally = self.tally();
        self.known().map_or_else(|| tally.words(), |(since, known)| tally.words_since(since, &known))
    }
}

fn known(review: &Review) -> Option<(&str, Tally)> {
    let mut tally = Tally::default();
    for finding in review.findings.iter().filter(|finding| finding.known) {
        *tally.0.entry(finding.outcome).or_default() += 1;
    }
    Some((review.since.as_deref()?, tally))
}

impl Totals for Review {
    fn tally(&self) -> Tally {
        Tally(self.counts.clone())
    }

    fn failed(&self) -> usize {
        self.failures.len()
    }

    fn known(&self) -> Option<(&str, Tally)> {
        known(self)
    }
}

/// The sum of a run, review by review: what a report says at its end without keeping what it has written.
#[derive(Debug, Clone, Default)]
pub struct Sum {
    tally: Tally,
    known: Option<(String, Tally)>,
    failed: usize,
    projects: usize,
}

impl Sum {
    /// Counts a review in.
    pub fn add(&mut self, review: &Review) {
        self.projects += 1;
        self.failed += review.failures.len();
        self.tally.add(&review.tally());
        if let Some((since, tally)) = Totals::known(review) {
            self.known.get_or_insert_with(|| (since.to_owned(), Tally::default())).1.add(&tally);
        }
    }

    /// How many projects were counted in.
    pub fn projects(&self) -> usize {
        self.projects
    }
}

impl Totals for Sum {
    fn tally(&self) -> Tally {
        self.tally.clone()
    }

    fn failed(&self) -> usize {
        self.failed
    }

    fn known(&self) -> Option<(&str, Tally)> {
        self.known.as_ref().map(|(since, tally)| (since.as_str(), tally.clone()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_read_as_english() {
        let some = Tally(BTreeMap::from([(Outcome::Correction, 1), (Outcome::Complies, 2), (Outcome::NotApplicable, 1)]));
        assert_eq!(some.words(), "1 correction, 0 unresolved, 0 advice; 2 comply, 1 does not apply");
        let words = some.words_since("main", &Tally(BTreeMap::from([(Outcome::Correction, 1)])));
        assert!(
            words.starts_with("1 correction (1 of them known since main), 0 unresolved (0 of them known), 0 advice;"),
            "{words}"
        );
    }
}
