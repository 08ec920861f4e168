//! One finding with everything a reader needs to act on it.

use super::{Speaker, asks};
use crate::ink::Ink;
use crate::page::{Lead, Page};
use crate::{Style, last_token};
use redtag_schema::contract::{Outcome, Remedy, Step, printed};
use redtag_schema::review::{Change, MissingFact, Review, ReviewedFinding};
use textwrap::core::display_width;

/// Where the details of a finding begin.
const DETAIL: usize = 4;
/// Where their text begins.
const TEXT: usize = 14;

/// The ink of an outcome. The word is always there too.
pub fn outcome_ink(outcome: Outcome) -> Ink {
    match outcome {
        Outcome::Correction => Ink::Bad,
        Outcome::Unresolved => Ink::Open,
        Outcome::Advice => Ink::Hint,
        Outcome::Complies => Ink::Good,
        Outcome::NotApplicable => Ink::Faint,
    }
}

/// The finding's line, then its details.
pub fn show(page: &mut Page, review: &Review, finding: &ReviewedFinding, style: &Style) {
    let mut speaker = Speaker::new(style.system);
    headline(page, review, finding, &mut speaker);
    if finding.outcome != Outcome::Advice || style.all {
        worksheet(page, &finding.worksheet, &mut speaker);
    }
    fill_in(page, &finding.missing);
    if asks(finding.outcome) {
        cures(page, &finding.remedies, &mut speaker);
    }
    if let Some(since) = &review.since {
        compared(page, finding, since);
    }
    detail(page, "variance", finding.variance.as_deref().unwrap_or_default());
    detail(page, "set by", &finding.because.join("; "));
    detail(page, "see", &printed(&finding.citations));
}

fn compared(page: &mut Page, finding: &ReviewedFinding, since: &str) {
    match &finding.brought_by {
        _ if finding.known => detail(page, "known", &format!("since {since}")),
        Some(Change::Law) => detail(page, "new", &format!("by the law: the project as it was at {since} would have it too")),
        Some(Change::Worse { was }) => detail(page, "worse", &format!("at {since} it was: {was}")),
        Some(Change::FactRemoved { was }) => {
            detail(page, "taken", &format!("a fact was taken away; at {since} it was a correction: {was}"));
        }
        Some(Change::Drawing) | None => {}
    }
}

fn headline(page: &mut Page, review: &Review, finding: &ReviewedFinding, speaker: &mut Speaker) {
    let word = format!("{:<12}", finding.outcome.word());
    let word = if word.ends_with(' ') { word } else { format!("{word}  ") };
    let lead = Lead::new(&[(outcome_ink(finding.outcome), &word), (Ink::Strong, &finding.rule)]);
    let said = speaker.say(&finding.summary);
    let label = &finding.subject.label;
    let sentence = if said.starts_with(label.as_str()) { said } else { format!("{label}: {said}") };
    let place = finding.place;
    page.entry(0, lead, &format!("  {sentence} ({}:{}:{})", review.file, place.line, place.column), 12);
}

fn worksheet(page: &mut Page, steps: &[Step], speaker: &mut Speaker) {
    // A label longer than its column pushes its own line only.
    let most = page.share(4);
    let column = steps.iter().map(|step| display_width(&step.label)).filter(|&width| width <= most).max().unwrap_or(0);
    let judged = steps.iter().any(|step| step.holds.is_some());
    for step in steps {
        let (ink, verdict) = match step.holds {
            Some(true) => (Ink::Good, "holds  "),
            Some(false) => (Ink::Bad, "fails  "),
            None if judged => (Ink::Plain, "       "),
            None => (Ink::Plain, ""),
        };
        let padding = " ".repeat(column.saturating_sub(display_width(&step.label)) + 2);
        let lead = Lead::new(&[(ink, verdict), (Ink::Plain, &step.label), (Ink::Plain, &padding)]);
        let source = step.source.as_ref().map(|source| format!("  [{source}]")).unwrap_or_default();
        let hang = DETAIL + verdict.len() + column + 2;
        page.entry(DETAIL, lead, &format!("{}{source}", speaker.say(&step.text)), hang);
    }
}

fn fill_in(page: &mut Page, missing: &[MissingFact]) {
    for fact in missing {
        let what = fact.what.as_ref().map(|what| format!(": {}", first_sentence(what))).unwrap_or_default();
        let example = fact.example.as_ref().map(|example| format!("; write {}{example}", key(&fact.pointer))).unwrap_or_default();
        let body = format!("{} (line {}){what}{example}", fact.pointer, fact.place.line);
        page.entry(DETAIL, Lead::new(&[(Ink::Strong, &format!("{:<10}", "fill in"))]), &body, TEXT);
    }
}

/// `"input": ` of `/equipment/2/fuel_burning/input`; nothing for an item of a list.
fn key(pointer: &str) -> String {
    let last = last_token(pointer).filter(|name| name.parse::<usize>().is_err() && name != "-");
    last.map(|name| format!("\"{name}\": ")).unwrap_or_default()
}

/// The first sentence of a description, without its full stop.
pub(super) fn first_sentence(text: &str) -> &str {
    let end = text.find(". ").or_else(|| text.find(".\n")).unwrap_or(text.len());
    text[..end].trim_end_matches('.')
}

fn cures(page: &mut Page, remedies: &[Remedy], speaker: &mut Speaker) {
    for (number, remedy) in remedies.iter().enumerate() {
        detail(page, if number == 0 { "cure" } else { "or" }, &speaker.say(&remedy.words));
    }
}

fn detail(page: &mut Page, word: &str, text: &str) {
    if !text.is_empty() {
        page.entry(DETAIL, Lead::new(&[(Ink::Strong, &format!("{word:<10}"))]), text, TEXT);
    }
}

#[cfg(test)]
mod tests {
    use super::first_sentence;

    #[test]
    fn descriptions_are_cut_at_their_first_sentence() {
        assert_eq!(first_sentence("Input on the plate. Not the output."), "Input on the plate");
        assert_eq!(first_sentence("0.35 ACH or so."), "0.35 ACH or so");
    }
}
