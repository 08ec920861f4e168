//! Two rulebooks compared, for the terminal.

use super::Style;
use super::count::{Tally, plural};
use super::ink::Ink;
use super::page::{Lead, Page};
use redtag_schema::comparison::{Book, Changed, Comparison, Difference, Kind, ProjectComparison, RuleTally, Said};
use redtag_schema::contract::Outcome;

/// The comparison as lines: the books, what differs between them, what changes in each project, and the sums by rule.
pub fn render(comparison: &Comparison, style: &Style) -> String {
    let mut page = Page::new(style);
    books(&mut page, "from  ", &comparison.from);
    books(&mut page, "to    ", &comparison.to);
    page.blank();
    let count = comparison.differences.len();
    let heading = format!("{} between the rulebooks", plural(count, "difference", "differences"));
    page.entry(0, Lead::new(&[(Ink::Strong, &heading)]), "", 2);
    for one in &comparison.differences {
        difference(&mut page, one);
    }
    for project in &comparison.projects {
        page.blank();
        of_project(&mut page, project);
    }
    if !comparison.projects.is_empty() {
        page.blank();
        if !comparison.rules.is_empty() {
            by_rule(&mut page, &comparison.rules);
            page.blank();
        }
        page.entry(0, Lead::default(), &comparison.notice, 0);
    }
    page.done()
}

fn books(page: &mut Page, word: &str, books: &[Book]) {
    for book in books {
        let packs: Vec<String> = book.packs.iter().map(|pack| format!("{} {}", pack.name, pack.version)).collect();
        let body = format!("{}; the law of {}", packs.join(", then "), book.date);
        page.entry(0, Lead::new(&[(Ink::Strong, word)]), &body, 6);
    }
}

fn difference(page: &mut Page, one: &Difference) {
    let value = |said: &Option<Said>| said.as_ref().map_or_else(|| "nothing".to_owned(), |said| said.value.clone());
    let author = one.to.as_ref().or(one.from.as_ref()).map(|said| format!("  [{}]", said.by)).unwrap_or_default();
    let lead = Lead::new(&[(Ink::Strong, &one.rule), (Ink::Hint, &format!("  {}", one.what))]);
    page.entry(2, lead, &format!("  {} -> {}{author}", value(&one.from), value(&one.to)), 6);
}

fn of_project(page: &mut Page, project: &ProjectComparison) {
    let name = project.project.as_deref().unwrap_or_default();
    page.entry(0, Lead::new(&[(Ink::Strong, &project.file)]), &format!("  {name}"), 2);
    page.entry(2, Lead::new(&[(Ink::Strong, "from  ")]), &Tally(project.from.clone()).words(), 8);
    page.entry(2, Lead::new(&[(Ink::Strong, "to    ")]), &Tally(project.to.clone()).words(), 8);
    for failure in &project.failures {
        page.entry(2, Lead::new(&[(Ink::Bad, "module failed  ")]), &failure.message, 6);
    }
    if project.findings.is_empty() {
        page.entry(2, Lead::default(), "no finding changes", 4);
    }
    let (quiet, told): (Vec<_>, Vec<_>) = project.findings.iter().partition(|one| asks_nothing(one));
    for one in told {
        changed(page, one);
    }
    if !quiet.is_empty() {
        let words = plural(quiet.len(), "finding that asks nothing reads", "findings that ask nothing read");
        page.entry(2, Lead::default(), &format!("{words} otherwise; --format json names them"), 4);
    }
}

/// Whether nobody has to do anything about a finding, under either book.
fn asks_nothing(one: &Changed) -> bool {
    let quiet = |outcome: Option<Outcome>| matches!(outcome, None | Some(Outcome::Complies | Outcome::NotApplicable));
    quiet(one.from) && quiet(one.to)
}

fn changed(page: &mut Page, one: &Changed) {
    let word = |outcome: Option<Outcome>| outcome.map_or("none", Outcome::word);
    let (ink, what) = match one.kind {
        Kind::Appears => (Ink::Bad, format!("appears: {}", word(one.to))),
        Kind::Vanishes => (Ink::Good, format!("vanishes: {}", word(one.from))),
        Kind::Outcome => (Ink::Bad, format!("{} -> {}", word(one.from), word(one.to))),
        Kind::Figures => (Ink::Plain, format!("{}, other figures", word(one.to))),
    };
    let label = &one.subject.label;
    page.entry(2, Lead::new(&[(ink, &what), (Ink::Strong, &format!("  {}", one.rule))]), &format!("  {label}"), 6);
    let said = one.to_message.as_ref().or(one.from_message.as_ref());
    if let Some(said) = said {
        page.entry(6, Lead::default(), said, 8);
    }
    for law in &one.because {
        page.entry(6, Lead::new(&[(Ink::Strong, "set by   ")]), law, 15);
    }
    for law in &one.no_more {
        page.entry(6, Lead::new(&[(Ink::Strong, "no more  ")]), law, 15);
    }
}

fn by_rule(page: &mut Page, rules: &[RuleTally]) {
    const COLUMNS: [(&str, Kind); 4] =
        [("appears", Kind::Appears), ("vanishes", Kind::Vanishes), ("outcome", Kind::Outcome), ("figures", Kind::Figures)];
    let widest = rules.iter().map(|rule| rule.rule.len()).max().unwrap_or_default().max("by rule".len());
    let mut heading = format!("{:<widest$}", "by rule");
    for (word, _) in COLUMNS {
        heading.push_str(&format!("  {word:>8}"));
    }
    heading.push_str("  projects  corrections");
    page.entry(0, Lead::default(), &heading, 2);
    for rule in rules {
        let mut line = format!("{:<widest$}", rule.rule);
        for (_, kind) in COLUMNS {
            line.push_str(&format!("  {:>8}", rule.changes.get(&kind).copied().unwrap_or_default()));
        }
        line.push_str(&format!("  {:>8}  {:>11}", rule.projects, format!("{:+}", rule.corrections)));
        page.entry(0, Lead::default(), &line, 2);
    }
}
