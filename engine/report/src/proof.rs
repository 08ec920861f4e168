//! What a pack's cases come to, for the terminal.

use super::Style;
use super::count::plural;
use super::ink::Ink;
use super::page::{Lead, Page};
use redtag_schema::proof::{CaseResult, Gap, Proof, Unnoticed};
use std::collections::BTreeMap;

/// The cases that do not hold in full, the others counted; what is missing; the totals.
pub fn render(proof: &Proof, style: &Style) -> String {
    let mut page = Page::new(style);
    for failure in &proof.failures {
        page.entry(0, Lead::new(&[(Ink::Bad, "module failed  ")]), &failure.message, 4);
    }
    proof.results.iter().filter(|result| !result.holds()).for_each(|result| differs(&mut page, result));
    page.blank();
    by_rule(&mut page, &proof.results, style);
    page.blank();
    proof.gaps.iter().for_each(|gap| lacks(&mut page, gap));
    proof.unnoticed.iter().flatten().for_each(|one| unnoticed(&mut page, one));
    page.blank();
    total(&mut page, proof);
    page.done()
}

fn differs(page: &mut Page, result: &CaseResult) {
    let lead = Lead::new(&[(Ink::Bad, "differs  "), (Ink::Strong, &result.rule)]);
    page.entry(0, lead, &format!("  {}: {} ({}:{})", result.kind, result.title, result.file, result.line), 9);
    result.differences.iter().for_each(|difference| page.entry(4, Lead::default(), difference, 6));
}

fn by_rule(page: &mut Page, results: &[CaseResult], style: &Style) {
    let mut rules: BTreeMap<&str, Vec<&CaseResult>> = BTreeMap::new();
    for result in results {
        rules.entry(&result.rule).or_default().push(result);
    }
    for (rule, results) in rules {
        let holding = results.iter().filter(|result| result.holds()).count();
        let ink = if holding == results.len() { Ink::Good } else { Ink::Bad };
        let lead =
            Lead::new(&[(Ink::Strong, rule), (ink, &format!("  {holding} of {} hold", plural(results.len(), "case", "cases")))]);
        page.entry(0, lead, "", 4);
        if style.all {
            results.iter().for_each(|result| page.entry(4, Lead::default(), &format!("{}: {}", result.kind, result.title), 6));
        }
    }
}

fn lacks(page: &mut Page, gap: &Gap) {
    let kinds: Vec<&str> = gap.kinds.iter().map(|kind| kind.word()).collect();
    let lead = Lead::new(&[(Ink::Open, "lacks    "), (Ink::Strong, &gap.rule)]);
    page.entry(0, lead, &format!("  no case of {}", kinds.join(", ").to_lowercase()), 9);
}

fn unnoticed(page: &mut Page, one: &Unnoticed) {
    let tried =
        if one.tried.is_empty() { "no other value can be tried".to_owned() } else { format!("nor {}", one.tried.join(", nor ")) };
    let lead = Lead::new(&[(Ink::Open, "unnoticed  "), (Ink::Strong, &one.rule)]);
    page.entry(0, lead, &format!("  {}: no case tells {} apart; {tried}", one.parameter, one.value), 11);
}

fn total(page: &mut Page, proof: &Proof) {
    let results = &proof.results;
    let holding = results.iter().filter(|result| result.holds()).count();
    let ink = if holding == results.len() { Ink::Good } else { Ink::Bad };
    let unnoticed = proof.unnoticed.as_ref().map(|list| format!("; {} unnoticed", plural(list.len(), "parameter", "parameters")));
    let words = format!("{holding} of {} hold{}", plural(results.len(), "case", "cases"), unnoticed.unwrap_or_default());
    page.entry(0, Lead::new(&[(Ink::Strong, &format!("{} {}  ", proof.pack, proof.version)), (ink, &words)]), "", 4);
}
