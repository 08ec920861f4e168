//! What is in force, for the terminal.

use super::Style;
use super::ink::Ink;
use super::page::{Lead, Page};
use redtag_schema::contract::Stage;
use redtag_schema::contract::printed as citations;
use redtag_schema::rulebook::{Author, RuleEntry, Rulebook};

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
        page.entry(0, lead, &format!("  {}: {}; {}", rule.description.title, rule.standing(), rule.state.author), 14);
    }
    page.done()
}

fn in_force(page: &mut Page, rule: &RuleEntry) {
    let described = &rule.description;
    page.entry(0, Lead::new(&[(Ink::Strong, &described.id)]), &format!("  {}", described.title), 4);
    let head = format!("{} at {}{}", rule.level_word(), stages(&described.stages), says(rule, &rule.level.author));
    page.entry(4, Lead::default(), &format!("from {} {}; {head}", rule.shipped_by.pack, rule.shipped_by.version), 6);
    for parameter in &rule.parameters {
        let lead = Lead::new(&[(Ink::Hint, &parameter.name)]);
        page.entry(4, lead, &format!(" is {}{}", parameter.written, says(rule, &parameter.author)), 6);
    }
    for line in printed(rule) {
        page.entry(4, Lead::new(&[(Ink::Strong, "see ")]), &line, 8);
    }
    if let Some(author) = &rule.no_variance {
        page.entry(4, Lead::default(), &format!("no variance is granted{}", says(rule, author)), 6);
    }
}

/// Who says so, in brackets. The rule's own module is named once for the rule, so only its source is told here.
pub fn says(rule: &RuleEntry, author: &Author) -> String {
    let own = author.ordinance.is_none() && author.pack == rule.shipped_by.pack;
    match (own, &author.source) {
        (true, Some(source)) => format!("  [{source}]"),
        (true, None) => String::new(),
        (false, _) => format!("  [{author}]"),
    }
}

/// Where the rule is printed: its own citations together, then each that a pack adds.
pub fn printed(rule: &RuleEntry) -> Vec<String> {
    let (own, added): (Vec<_>, Vec<_>) = rule.citations.iter().partition(|one| says(rule, &one.author).is_empty());
    let mut lines = Vec::new();
    if !own.is_empty() {
        lines.push(citations(own.iter().map(|one| &one.value)));
    }
    lines.extend(added.iter().map(|one| format!("{}{}", citations([&one.value]), says(rule, &one.author))));
    lines
}

/// `permit, rough-in, final`.
pub fn stages(stages: &[Stage]) -> String {
    stages.iter().map(|stage| stage.word()).collect::<Vec<_>>().join(", ")
}
