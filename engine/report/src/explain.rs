//! One rule explained, for the terminal.

use super::Style;
use super::ink::Ink;
use super::page::{Lead, Page};
use super::rulebook::{printed, says, stages};
use redtag_schema::contract::{ParameterDescription, value_wanted, value_words};
use redtag_schema::rulebook::{Effect, ParameterEntry, RuleEntry};

/// Everything the rulebook knows of a rule, and the titles of its cases.
pub fn render(rule: &RuleEntry, cases: &[String], style: &Style) -> String {
    let mut page = Page::new(style);
    let described = &rule.description;
    page.entry(0, Lead::new(&[(Ink::Strong, &described.id)]), &format!("  {}", described.title), 4);
    page.entry(2, Lead::default(), &format!("{}: {}", rule.standing(), rule.state.author), 4);
    let asked = format!("{}, asked at {}: {}", rule.level_word(), stages(&described.stages), rule.level.author);
    page.entry(2, Lead::default(), &asked, 4);
    page.blank();
    prose(&mut page, &described.purpose);
    citations(&mut page, rule);
    parameters(&mut page, rule);
    history(&mut page, rule);
    list(&mut page, "reads", described.reads.iter().map(String::as_str));
    list(&mut page, "cases", cases.iter().map(String::as_str));
    page.done()
}

/// A page about something, in Markdown, under its name.
pub fn page(name: &str, markdown: &str, style: &Style) -> String {
    let mut page = Page::new(style);
    page.entry(0, Lead::new(&[(Ink::Strong, name)]), "", 4);
    page.blank();
    prose(&mut page, markdown);
    page.done()
}

/// Paragraphs of Markdown, wrapped; lists and headings keep their lines.
fn prose(page: &mut Page, markdown: &str) {
    let mut paragraph = String::new();
    for line in markdown.lines().map(str::trim).chain([""]) {
        let own = line.starts_with(['-', '#', '|']);
        if (line.is_empty() || own) && !paragraph.is_empty() {
            self::paragraph(page, &paragraph);
            paragraph.clear();
        }
        if line.is_empty() {
            page.blank();
        }
        paragraph.push_str(if paragraph.is_empty() { "" } else { " " });
        paragraph.push_str(line);
    }
    page.blank();
}

/// One paragraph, list item or heading; what is bold at its beginning stays so.
fn paragraph(page: &mut Page, text: &str) {
    let hang = if text.starts_with('-') { 4 } else { 2 };
    let heading = text.trim_start_matches('#');
    if heading.len() < text.len() {
        return page.entry(2, Lead::new(&[(Ink::Strong, heading.trim())]), "", 2);
    }
    let plain = |text: &str| text.replace("**", "").replace('`', "");
    match text.strip_prefix("**").and_then(|rest| rest.split_once("**")) {
        Some((bold, rest)) => page.entry(2, Lead::new(&[(Ink::Strong, bold)]), &plain(rest), hang),
        None => page.entry(2, Lead::default(), &plain(text), hang),
    }
}

fn heading(page: &mut Page, words: &str) {
    page.blank();
    page.entry(0, Lead::new(&[(Ink::Strong, words)]), "", 0);
}

fn list<'a>(page: &mut Page, words: &str, items: impl Iterator<Item = &'a str>) {
    let mut items = items.peekable();
    if items.peek().is_some() {
        heading(page, words);
    }
    items.for_each(|item| page.entry(2, Lead::default(), item, 4));
}

fn citations(page: &mut Page, rule: &RuleEntry) {
    let lines = printed(rule);
    list(page, "printed in", lines.iter().map(String::as_str));
    if let Some(author) = &rule.no_variance {
        page.entry(2, Lead::default(), &format!("no variance is granted{}", says(rule, author)), 4);
    }
}

fn parameters(page: &mut Page, rule: &RuleEntry) {
    if !rule.parameters.is_empty() {
        heading(page, "parameters");
    }
    for parameter in &rule.parameters {
        let described = rule.description.parameters.iter().find(|described| described.name == parameter.name);
        one_parameter(page, rule, parameter, described);
    }
}

fn one_parameter(page: &mut Page, rule: &RuleEntry, parameter: &ParameterEntry, described: Option<&ParameterDescription>) {
    let lead = Lead::new(&[(Ink::Hint, &parameter.name)]);
    page.entry(2, lead, &format!(" is {}{}", parameter.written, says(rule, &parameter.author)), 4);
    let Some(described) = described else { return };
    page.entry(4, Lead::default(), &described.purpose, 6);
    if let Some(figure) = &described.figure {
        page.entry(4, Lead::default(), &format!("it is figure {figure}: a pack sets it once for every rule that reads it"), 6);
    }
    let words = value_words(&described.default);
    let default = if words == parameter.written { String::new() } else { format!("; the model code has {words}") };
    page.entry(4, Lead::default(), &format!("a pack may set {}{default}", value_wanted(described)), 6);
}

fn history(page: &mut Page, rule: &RuleEntry) {
    if !rule.history.is_empty() {
        heading(page, "amendments");
    }
    for say in &rule.history {
        let effect = match &say.effect {
            Effect::InEffect => "in effect".to_owned(),
            Effect::Overridden { by } => format!("without effect: {by} says otherwise"),
            Effect::NotYet => "not law yet".to_owned(),
            Effect::Lapsed => "law no more".to_owned(),
        };
        let reason = say.author.reason.as_ref().map(|reason| format!(" ({reason})")).unwrap_or_default();
        page.entry(2, Lead::default(), &format!("{}: {}{reason}; {effect}", rule.in_words(say), say.author), 4);
    }
}
