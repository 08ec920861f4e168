//! What was otherwise in what the review was compared with.

use crate::count::plural;
use crate::page::{Lead, Page};
use redtag_schema::contract::Outcome;
use redtag_schema::review::{Change, Gone, PackUsed, Review, ReviewedFinding};

/// How many are named before the rest is counted.
const MOST: usize = 6;

/// A line for each thing that was otherwise: names, packs, day, and what is new or gone by the law and by the drawing.
pub fn show(page: &mut Page, review: &Review) {
    let Some(since) = &review.since else { return };
    let before = &review.before;
    let mut say = |words: String| page.entry(0, Lead::default(), &format!("since {since}  {words}"), 4);
    if let Some(file) = &before.file {
        say(format!("the file was called {file}"));
    }
    if !before.ids.is_empty() {
        let ids: Vec<String> = before.ids.iter().map(|(old, new)| format!("\"{old}\" is \"{new}\"")).collect();
        say(format!("renamed: {}", some(&ids)));
    }
    if !before.packs.is_empty() {
        say(format!("the rulebook was {}; it is {}", names(&before.packs), names(&review.packs)));
    }
    if let Some(date) = &before.date {
        say(format!("the law of {date} was asked about; it is that of {}", review.date));
    }
    if let Some(words) = new(&review.findings) {
        say(words);
    }
    for (by, by_law) in [("the law", true), ("the drawing", false)] {
        let gone: Vec<&Gone> = before.gone.iter().filter(|gone| gone.by_law == by_law).collect();
        if !gone.is_empty() {
            let rules: Vec<String> = gone.iter().map(|gone| format!("{} ({})", gone.rule, gone.subject.label)).collect();
            say(format!("gone by {by}: {}: {}", plural(gone.len(), "correction", "corrections"), some(&rules)));
        }
    }
    page.blank();
}

/// How many corrections are new, and by what.
fn new(findings: &[ReviewedFinding]) -> Option<String> {
    let count = |wanted: &dyn Fn(&ReviewedFinding) -> bool| findings.iter().filter(|one| wanted(one)).count();
    let corrections = |by: &dyn Fn(&Change) -> bool| {
        count(&|one| one.outcome == Outcome::Correction && one.brought_by.as_ref().is_some_and(by))
    };
    let parts = [
        (corrections(&|by| *by == Change::Drawing), "new by the drawing"),
        (corrections(&|by| *by == Change::Law), "new by the law"),
        (corrections(&|by| matches!(by, Change::Worse { .. })), "worse than they were"),
        (
            count(&|one| matches!(one.brought_by, Some(Change::FactRemoved { .. }))),
            "no longer told, because a fact was taken away",
        ),
    ];
    let told: Vec<String> =
        parts.iter().filter(|(count, _)| *count > 0).map(|(count, words)| format!("{count} {words}")).collect();
    (!told.is_empty()).then(|| format!("corrections: {}", told.join(", ")))
}

fn names(packs: &[PackUsed]) -> String {
    let one = |pack: &PackUsed| format!("{} {} ({})", pack.name, pack.version, pack.digest.get(..12).unwrap_or(&pack.digest));
    packs.iter().map(one).collect::<Vec<_>>().join(", then ")
}

fn some(all: &[String]) -> String {
    let more = all.len().saturating_sub(MOST);
    let rest = if more > 0 { format!(" and {more} more") } else { String::new() };
    format!("{}{rest}", all[..all.len().min(MOST)].join(", "))
}
