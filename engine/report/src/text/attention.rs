//! What the project does not say at all, once for all the rules that wait for it; and what nobody looked at.

use super::finding::first_sentence;
use crate::count::plural;
use crate::ink::Ink;
use crate::page::{Lead, Page};
use crate::{Style, last_token};
use redtag_schema::contract::Outcome;
use redtag_schema::review::{Review, ReviewedFinding, Unread, UnreadFact, UnsaidList};

/// How many names of one kind are shown before the rest is counted.
const MOST: usize = 12;
/// Where the text of an entry begins.
const TEXT: usize = 15;

/// Whether a finding only waits for lists that the project does not give: those are asked for once, below.
pub fn folded<'r>(review: &'r Review, style: &Style) -> impl Fn(&ReviewedFinding) -> bool + 'r {
    let all = style.all;
    move |finding| {
        let unsaid = |pointer: &str| review.unsaid.iter().any(|list| list.pointer == pointer);
        let waits = finding.outcome == Outcome::Unresolved && !finding.missing.is_empty();
        !all && waits && finding.missing.iter().all(|fact| unsaid(&fact.pointer))
    }
}

/// The lists the project does not give, each once.
pub fn unsaid(page: &mut Page, review: &Review) {
    for list in &review.unsaid {
        page.blank();
        page.entry(0, Lead::new(&[(Ink::Open, "not said     "), (Ink::Strong, &list.pointer)]), &question(list), TEXT);
        let count = plural(list.rules.len(), "rule waits", "rules wait");
        let words = format!("{count} for it: {}", list.families.join(", "));
        page.entry(4, Lead::new(&[(Ink::Strong, &format!("{:<11}", "waiting"))]), &words, TEXT);
    }
}

fn question(list: &UnsaidList) -> String {
    let what = list.what.as_deref().map(|what| format!(": {}", first_sentence(what))).unwrap_or_default();
    let name = last_token(&list.pointer).unwrap_or_default();
    format!("  whether there are any{what} (line {}); write \"{name}\": [] if there are none", list.place.line)
}

/// What was not looked at: equipment, families, facts.
pub fn not_looked_at(page: &mut Page, review: &Review, style: &Style) {
    let silent = &review.not_looked_at;
    if silent.is_empty() {
        return;
    }
    page.blank();
    for one in &silent.equipment {
        let words = match &one.why {
            Some(why) => format!("{} (line {}): {why}", one.label, one.place.line),
            None => format!("{} (line {}): no rule spoke of it", one.label, one.place.line),
        };
        let ink = if one.why.is_some() { Ink::Faint } else { Ink::Open };
        page.entry(0, Lead::new(&[(ink, "not looked at  ")]), &words, TEXT);
    }
    for family in &silent.families {
        let why = reasons(&family.why);
        let words = format!("{} found nothing to look at{why}", family.family);
        page.entry(0, Lead::new(&[(Ink::Faint, "not looked at  ")]), &words, TEXT);
    }
    facts(page, &silent.facts, style);
}

/// The first few reasons; very many say no more than that there are many.
fn reasons(why: &[String]) -> String {
    const SHOWN: usize = 3;
    let more = match why.len().saturating_sub(SHOWN) {
        0 => String::new(),
        more => format!("; and {more} more reasons"),
    };
    if why.is_empty() { String::new() } else { format!(": {}{more}", why[..SHOWN.min(why.len())].join("; ")) }
}

fn facts(page: &mut Page, facts: &[UnreadFact], style: &Style) {
    let (descriptive, unread): (Vec<_>, Vec<_>) = facts.iter().partition(|fact| fact.why == Unread::Descriptive);
    let unread: Vec<&str> = unread.into_iter().map(|fact| fact.pointer.as_str()).collect();
    let mut told = |heading: &str, names: &[&str]| {
        let shown = if style.all { names.len() } else { MOST.min(names.len()) };
        let more = match names.len() - shown {
            0 => String::new(),
            more => format!(" and {more} more, which --all and --format json name"),
        };
        page.entry(
            0,
            Lead::new(&[(Ink::Faint, "not looked at  ")]),
            &format!("{heading}: {}{more}", names[..shown].join(", ")),
            TEXT,
        );
    };
    if !unread.is_empty() {
        told(&format!("{} that no rule in force reads", plural(unread.len(), "fact", "facts")), &unread);
    }
    let descriptive: Vec<&str> = descriptive.into_iter().map(|fact| fact.pointer.as_str()).collect();
    if style.all && !descriptive.is_empty() {
        told(&format!("{} for people only", plural(descriptive.len(), "fact", "facts")), &descriptive);
    }
}
