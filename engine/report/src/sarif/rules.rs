//! The rules of a run, each explained once.

use super::message;
use super::model::{Configuration, Help, Rule, RuleProperties};
use crate::RuleText;
use pulldown_cmark::{Event, Parser, Tag, TagEnd};
use redtag_schema::contract::Level;
use std::collections::BTreeMap;

/// The longest description code scanning takes, in characters.
const LONGEST: usize = 1_024;
/// The longest name it takes.
const LONGEST_NAME: usize = 255;

/// The rules with a finding, sorted by id: their titles, and what they are about where that is known.
pub fn all(rules: &BTreeMap<String, (String, Option<RuleText>)>, notice: &str) -> Vec<Rule> {
    rules.iter().map(|(id, (title, text))| rule(id, title, text.as_ref(), notice)).collect()
}

fn rule(id: &str, title: &str, text: Option<&RuleText>, notice: &str) -> Rule {
    let title = if title.is_empty() { id } else { title };
    let required = text.is_none_or(|text| text.level == Level::Required);
    let purpose = text.map(|text| text.purpose.trim()).filter(|purpose| !purpose.is_empty()).unwrap_or(title);
    let printed = text.map(|text| text.printed.as_str()).filter(|printed| !printed.is_empty());
    let plain = plain(purpose);
    let first = plain.split("\n\n").next().unwrap_or(title);
    let see = printed.map(|printed| format!("Printed in: {printed}\n\n")).unwrap_or_default();
    Rule {
        id: id.to_owned(),
        name: clip(&name(id), LONGEST_NAME),
        short_description: message(&clip(title, LONGEST / 2)),
        full_description: message(&clip(first, LONGEST / 2)),
        help: Help { text: format!("{plain}\n\n{see}{notice}"), markdown: format!("{purpose}\n\n{see}*{notice}*\n") },
        default_configuration: Configuration { level: if required { "error" } else { "note" } },
        properties: RuleProperties {
            tags: text.map(|text| text.module.clone()).into_iter().collect(),
            precision: "high",
            severity: if required { "error" } else { "recommendation" },
        },
    }
}

/// `CombustionAirSupply` of `combustion-air/supply`.
fn name(id: &str) -> String {
    let words = id.split(|letter: char| !letter.is_alphanumeric());
    let capital = |word: &str| {
        let mut letters = word.chars();
        letters.next().map(|first| first.to_uppercase().chain(letters).collect::<String>()).unwrap_or_default()
    };
    words.map(capital).collect()
}

/// The text cut at the end of a word.
fn clip(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    let cut: String = text.chars().take(most - 4).collect();
    format!("{} ...", cut.rsplit_once(' ').map_or(cut.as_str(), |(whole, _)| whole))
}

/// The words of a Markdown text without its marks: paragraphs apart, list items on lines of their own.
fn plain(markdown: &str) -> String {
    let mut out = String::new();
    for event in Parser::new(markdown) {
        match event {
            Event::Text(text) | Event::Code(text) => out.push_str(&text),
            Event::SoftBreak => out.push(' '),
            Event::HardBreak => out.push('\n'),
            Event::Start(Tag::Item) if out.is_empty() || out.ends_with('\n') => out.push_str("- "),
            Event::Start(Tag::Item) => out.push_str("\n- "),
            Event::End(TagEnd::Paragraph | TagEnd::Heading(_) | TagEnd::List(_) | TagEnd::CodeBlock) => out.push_str("\n\n"),
            _ => {}
        }
    }
    out.trim().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn markdown_is_read_aloud() {
        let text = "What is **required**\nand why.\n\nHow it is `measured`:\n\n- once\n- twice\n\nEnd.";
        assert_eq!(plain(text), "What is required and why.\n\nHow it is measured:\n\n- once\n- twice\n\nEnd.");
    }

    #[test]
    fn descriptions_are_cut_at_a_word() {
        assert_eq!(clip("one two three", 100), "one two three");
        assert_eq!(clip("one two three", 12), "one two ...");
        assert!(clip(&"x ".repeat(2_000), LONGEST).chars().count() <= LONGEST);
    }

    #[test]
    fn names_are_words_in_capitals() {
        assert_eq!(name("combustion-air/supply"), "CombustionAirSupply");
    }
}
