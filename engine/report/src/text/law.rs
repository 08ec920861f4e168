//! Whose law it is: the packs, who vouches for each, what each takes back.

use crate::count::plural;
use crate::page::{Lead, Page};
use redtag_schema::review::{Departure, DepartureKind, PackUsed};

/// How many rules are named before the rest is counted.
const MOST: usize = 6;
/// How much of a digest is shown; the whole stands in JSON.
const SHOWN: usize = 16;

/// The rulebook, a line, and a line for each pack that changes what stands below it.
pub fn show(page: &mut Page, packs: &[PackUsed]) {
    let named: Vec<String> = packs.iter().map(named).collect();
    page.entry(2, Lead::new(&[]), &format!("rulebook: {}", named.join(", then ")), 2);
    for pack in packs.iter().filter(|pack| !pack.departures.is_empty() || pack.sets > 0) {
        page.entry(4, Lead::new(&[]), &format!("{} {} {}", pack.name, pack.version, changes(pack)), 6);
    }
}

fn named(pack: &PackUsed) -> String {
    let origin = match pack.built_in {
        true => "built in".to_owned(),
        false => format!("digest {}", pack.digest.get(..SHOWN).unwrap_or(&pack.digest)),
    };
    let signed = pack.signed_by.as_ref().map(|by| format!(", signed by {by}")).unwrap_or_default();
    let key = pack.key.as_ref().map(|key| format!(", key {key}")).unwrap_or_default();
    format!("{} {} ({origin}{signed}{key})", pack.name, pack.version)
}

fn changes(pack: &PackUsed) -> String {
    let mut parts = Vec::new();
    for (kind, word) in [
        (DepartureKind::Withdrawn, "takes out of force"),
        (DepartureKind::Replaced, "replaces"),
        (DepartureKind::Relaxed, "makes advice of"),
    ] {
        let rules: Vec<&Departure> = pack.departures.iter().filter(|one| one.kind == kind).collect();
        if !rules.is_empty() {
            parts.push(format!("{word} {}", counted(&rules)));
        }
    }
    if pack.sets > 0 {
        parts.push(format!("sets {} of rules below it", plural(pack.sets, "value", "values")));
    }
    parts.join("; ")
}

fn counted(rules: &[&Departure]) -> String {
    let names: Vec<&str> = rules.iter().take(MOST).map(|one| one.rule.as_str()).collect();
    let more = rules.len().saturating_sub(MOST);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    format!("{} ({}{more})", plural(rules.len(), "rule", "rules"), names.join(", "))
}
