//! How many findings of each outcome, in words.

use redtag_schema::contract::Outcome;
use redtag_schema::review::{Review, Reviews};
use std::collections::BTreeMap;

/// How many findings of each outcome.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Tally(pub BTreeMap<Outcome, usize>);

impl Tally {
    /// The number of one outcome.
    pub fn of(&self, outcome: Outcome) -> usize {
        self.0.get(&outcome).copied().unwrap_or_default()
    }

    /// `2 corrections, 1 unresolved, 3 advice; 14 comply, 9 do not apply`.
    pub fn words(&self) -> String {
        let corrections = plural(self.of(Outcome::Correction), "correction", "corrections");
        let unresolved = format!("{} unresolved", self.of(Outcome::Unresolved));
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
}

impl Totals for Review {
    fn tally(&self) -> Tally {
        Tally(self.counts.clone())
    }

    fn failed(&self) -> usize {
        self.failures.len()
    }
}

impl Totals for Reviews {
    fn tally(&self) -> Tally {
        let mut all = BTreeMap::new();
        for (outcome, count) in self.reviews.iter().flat_map(|review| &review.counts) {
            *all.entry(*outcome).or_default() += count;
        }
        Tally(all)
    }

    fn failed(&self) -> usize {
        self.reviews.iter().map(Totals::failed).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_read_as_english() {
        let some = Tally(BTreeMap::from([(Outcome::Correction, 1), (Outcome::Complies, 2), (Outcome::NotApplicable, 1)]));
        assert_eq!(some.words(), "1 correction, 0 unresolved, 0 advice; 2 comply, 1 does not apply");
    }
}
