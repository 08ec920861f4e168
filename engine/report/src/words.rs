//! Sentences in the reader's units, with the words the author of the project used where they differ.

use redtag_schema::contract::{Measure, Text};
use redtag_schema::quantity::System;
use std::collections::BTreeSet;

/// Says the sentences of one finding; an author's words are echoed once.
#[derive(Debug)]
pub struct Speaker {
    system: System,
    echoed: BTreeSet<String>,
}

impl Speaker {
    /// A speaker of one system of units.
    pub fn new(system: System) -> Self {
        Self { system, echoed: BTreeSet::new() }
    }

    /// The sentence in words.
    pub fn say(&mut self, text: &Text) -> String {
        text.print_with(|amount| self.amount(amount)).unwrap_or_else(|| text.template.clone())
    }

    fn amount(&mut self, amount: &Measure) -> String {
        let printed = amount.print(self.system);
        match &amount.written {
            Some(written) if essence(written) != essence(&printed) && self.echoed.insert(written.clone()) => {
                format!("{printed} (written \"{written}\")")
            }
            _ => printed,
        }
    }
}

/// What is left when spacing, separators and typography are put aside: `120,000 BTU/h` is `120000 Btu/h`.
fn essence(words: &str) -> String {
    let plain = |letter: char| match letter {
        '²' => '2',
        '³' => '3',
        '\u{2032}' | '\u{2019}' => '\'',
        '\u{2033}' | '\u{201d}' => '"',
        letter => letter.to_ascii_lowercase(),
    };
    words.chars().filter(|letter| !letter.is_whitespace() && !matches!(letter, ',' | '\u{ad}')).map(plain).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use redtag_schema::quantity::Kind;

    fn text(written: &str) -> Text {
        let amount = Measure { written: Some(written.to_owned()), ..Measure::parse(Kind::Length, "36 in").unwrap() };
        Text { template: "needs {0}".into(), amounts: vec![amount] }
    }

    #[test]
    fn the_authors_words_are_echoed_once_and_only_where_they_differ() {
        let mut speaker = Speaker::new(System::UsCustomary);
        let printed = text("36 in").try_print(System::UsCustomary).unwrap();
        assert_eq!(speaker.say(&text("914.4 mm")), format!("{printed} (written \"914.4 mm\")"));
        assert_eq!(speaker.say(&text("914.4 mm")), printed);
        let same = printed.trim_start_matches("needs ").replace(' ', "");
        assert_eq!(speaker.say(&text(&same)), printed);
    }

    #[test]
    fn a_broken_sentence_is_shown_as_it_is() {
        let broken = Text { template: "needs {3}".into(), amounts: vec![] };
        assert_eq!(Speaker::new(System::Si).say(&broken), "needs {3}");
    }
}
