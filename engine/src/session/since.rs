//! A review held against what was there before: the old project by the law of then, and by the law of now, so that what the law
//! brought is told from what the drawing brought.

use super::base::{Base, OldProject, Was};
use super::{Asked, Prepared, Session};
use crate::review::{Earlier, Followed, mark_known};
use redtag_schema::review::{Before, PackUsed, Review, ReviewedFinding};
use std::path::Path;

impl Session {
    /// Marks what was known before, and says what brought the rest. What cannot be reviewed at the base was never reviewed: then
    /// everything is new.
    pub(super) fn compare_with_base(
        &self,
        review: &mut Review,
        now: &Prepared<'_>,
        beside: Option<&Path>,
        base: &Base,
        asked: &Asked,
    ) {
        let file = beside.unwrap_or_else(|| Path::new(&review.file)).to_owned();
        let nothing = Followed::default();
        match base.was(&file, now.document) {
            Was::Nothing => {
                let earlier = Earlier { findings: &[], by_todays_law: None, told_apart: true, project: None, followed: &nothing };
                mark_known(review, base.name(), None, &earlier);
            }
            Was::Review(was) => {
                let told_apart = same_law(was, review);
                review.before = Before { packs: other_packs(was, review), date: other_date(was, review), ..Before::default() };
                let earlier =
                    Earlier { findings: &was.findings, by_todays_law: None, told_apart, project: None, followed: &nothing };
                mark_known(review, base.name(), None, &earlier);
            }
            Was::Project(old) => self.compare_with_project(review, now, &old, base, asked),
        }
    }

    fn compare_with_project(&self, review: &mut Review, now: &Prepared<'_>, old: &OldProject, base: &Base, asked: &Asked) {
        let then = self.prepare_from(old.shelf, &old.document, Some(&old.path));
        let was = then.and_then(|then| self.review_prepared(&then, asked.stage));
        let told = |complaints: &Vec<crate::diagnostic::Diagnostic>| {
            let first = complaints.first().map(crate::diagnostic::Diagnostic::one_line).unwrap_or_default();
            tracing::warn!(base = base.name(), "{}: it could not be reviewed then: {first}", review.file);
        };
        let was = was.inspect_err(told).ok();
        let same_law = was.as_ref().is_some_and(|was| same_law(was, review));
        let by_law: Option<Vec<ReviewedFinding>> = match (same_law, old.same) {
            (true, _) => None,
            (false, true) => Some(review.findings.clone()),
            (false, false) => self.old_by_todays_law(now, old, asked),
        };
        review.before = Before { file: old.renamed.clone(), ..Before::default() };
        if let Some(was) = &was {
            review.before.packs = other_packs(was, review);
            review.before.date = other_date(was, review);
        }
        let followed = Followed::between(&old.document.canonical, &now.document.canonical);
        let findings = was.as_ref().map_or(&[][..], |was| &was.findings);
        let earlier = Earlier {
            findings,
            by_todays_law: by_law.as_deref(),
            told_apart: true,
            project: Some(&old.document.canonical),
            followed: &followed,
        };
        mark_known(review, base.name(), Some(&now.document.canonical), &earlier);
    }

    fn old_by_todays_law(&self, now: &Prepared<'_>, old: &OldProject, asked: &Asked) -> Option<Vec<ReviewedFinding>> {
        let prepared = Prepared { document: &old.document, law: now.law.clone(), date_from: now.date_from };
        let stage = asked.stage.or(now.document.project.stage);
        self.review_prepared(&prepared, stage).ok().map(|review| review.findings)
    }
}

fn same_law(was: &Review, now: &Review) -> bool {
    let digests = |review: &Review| review.packs.iter().map(|pack| pack.digest.clone()).collect::<Vec<_>>();
    digests(was) == digests(now) && was.date == now.date
}

/// The packs of then, where they were not those of now.
fn other_packs(was: &Review, now: &Review) -> Vec<PackUsed> {
    let digests = |review: &Review| review.packs.iter().map(|pack| pack.digest.clone()).collect::<Vec<_>>();
    if digests(was) == digests(now) { Vec::new() } else { was.packs.clone() }
}

fn other_date(was: &Review, now: &Review) -> Option<String> {
    (was.date != now.date).then(|| was.date.clone())
}
