//! What is in force, for the terminal.

use super::Style;
use super::citations::cited;
use super::ink::Ink;
use super::page::{Lead, Page};
use crate::pack::{RuleEntry, Rulebook, State};
use redtag_schema::contract::{Level, Stage};

/// The rulebook as lines: the packs, the rules in force with their parameters and who set them, then the rules that wait or
/// were taken out.
pub fn render(rulebook: &Rulebook, style: &Style) -> String {
    let mut page = Page::new(style);
    page.entry(0, Lead::new(&[(Ink::Strong, "rulebook")]), &format!("  the law of {}", rulebook.date), 2);
    for pack in &rulebook.packs {
        let name = format!("{} {}", pack.name, pack.version);
        page.entry(2, Lead::new(&[(Ink::Strong, &name)]), &format!("  {}", pack.title), 4);
    }
    for failure in &rulebook.failures {
        page.entry(0, Lead::new(&[(Ink::Bad, "module failed  ")]), &failure.message, 4);
    }
    let (asked, idle): (Vec<_>, Vec<_>) = rulebook.rules.iter().partition(|rule| rule.in_force());
    for rule in asked {
        page.blank();
        in_force(&mut page, rule);
    }
    if !idle.is_empty() {
        page.blank();
    }
    for rule in idle {
        let lead = Lead::new(&[(Ink::Faint, "not in force  "), (Ink::Strong, &rule.description.id)]);
        page.entry(0, lead, &format!("  {}: {}; {}", rule.description.title, standing(rule), rule.state.author), 14);
    }
    page.done()
}

fn in_force(page: &mut Page, rule: &RuleEntry) {
    let described = &rule.description;
    page.entry(0, Lead::new(&[(Ink::Strong, &described.id)]), &format!("  {}", described.title), 4);
    let stages = stages(&described.stages);
    page.entry(4, Lead::default(), &format!("{} at {stages}; {}", level(rule), rule.level.author), 6);
    for parameter in &rule.parameters {
        let lead = Lead::new(&[(Ink::Hint, &parameter.name)]);
        page.entry(4, lead, &format!(" is {}  [{}]", parameter.written, parameter.author), 6);
    }
    for citation in &rule.citations {
        page.entry(4, Lead::new(&[(Ink::Plain, "see ")]), &format!("{}  [{}]", cited(&citation.value), citation.author), 8);
    }
    if let Some(author) = &rule.no_variance {
        page.entry(4, Lead::default(), &format!("no variance is granted: {author}"), 6);
    }
}

/// What a breach comes to.
pub fn level(rule: &RuleEntry) -> &'static str {
    match rule.level.value {
        Level::Required => "required",
        Level::Advice => "advice",
    }
}

/// `permit, rough-in, final`.
pub fn stages(stages: &[Stage]) -> String {
    stages.iter().map(|stage| stage.word()).collect::<Vec<_>>().join(", ")
}

/// Whether the rule is asked, in words.
pub fn standing(rule: &RuleEntry) -> String {
    match &rule.state.value {
        State::InForce => "in force".to_owned(),
        State::Dormant => "waits for a pack to adopt it".to_owned(),
        State::Withdrawn => "withdrawn".to_owned(),
        State::Replaced { with } => format!("replaced by {with}"),
    }
}
