//! Lines of a report, wrapped, cleaned and coloured.

use super::ink::Ink;
use crate::clean::no_command;
use crate::{Style, clean};
use std::borrow::Cow;
use textwrap::{Options, WordSeparator, WordSplitter, core::display_width};

/// The narrowest text worth wrapping to.
const NARROWEST: usize = 40;
/// A body with less room than this beside its lead begins below it.
const ROOM: usize = 18;

/// A growing report.
pub struct Page {
    out: String,
    width: usize,
    colour: bool,
}

/// The coloured beginning of an entry.
#[derive(Debug, Default)]
pub struct Lead(Vec<(Ink, String)>);

impl Lead {
    /// Pieces of text, each with its ink.
    pub fn new(pieces: &[(Ink, &str)]) -> Self {
        Self(pieces.iter().map(|&(ink, text)| (ink, clean(text).into_owned())).collect())
    }

    /// How many columns it takes.
    pub fn width(&self) -> usize {
        self.0.iter().map(|(_, text)| display_width(text)).sum()
    }

    fn print(&self, colour: bool) -> String {
        let piece = |(ink, text): &(Ink, String)| if colour { ink.paint(text) } else { text.clone() };
        self.0.iter().map(piece).collect()
    }
}

impl Page {
    /// An empty page.
    pub fn new(style: &Style) -> Self {
        Self { out: String::new(), width: style.width.max(NARROWEST), colour: style.colour }
    }

    /// An empty line; never two in a row.
    pub fn blank(&mut self) {
        if !self.out.is_empty() && !self.out.ends_with("\n\n") {
            self.out.push('\n');
        }
    }

    /// A lead at `indent`, then the body wrapped, its further lines at `hang`.
    pub fn entry(&mut self, indent: usize, lead: Lead, body: &str, hang: usize) {
        let body = clean(body);
        self.out.push_str(&" ".repeat(indent));
        self.out.push_str(&lead.print(self.colour));
        let mut start = " ".repeat(indent + lead.width());
        if start.len() > hang && start.len() + ROOM > self.width {
            self.end_line();
            start = " ".repeat(hang);
            self.out.push_str(&start);
        }
        let further = " ".repeat(hang);
        let options = Options::new(self.width)
            .initial_indent(&start)
            .subsequent_indent(&further)
            .word_separator(WordSeparator::AsciiSpace)
            .word_splitter(WordSplitter::NoHyphenation)
            .break_words(false);
        let lines = textwrap::wrap(&body, options);
        let first = lines.first().map(|line| line.get(start.len()..).unwrap_or_default()).unwrap_or_default();
        self.out.push_str(if self.out.ends_with(' ') { first.trim_start() } else { first });
        self.end_line();
        for line in lines.iter().skip(1) {
            self.out.push_str(line);
            self.end_line();
        }
    }

    /// A lead on a line of its own, never wrapped.
    pub fn verbatim(&mut self, indent: usize, lead: &Lead) {
        self.out.push_str(&" ".repeat(indent));
        self.out.push_str(&lead.print(self.colour));
        self.end_line();
    }

    /// How many columns there are.
    pub fn width(&self) -> usize {
        self.width
    }

    /// How many columns a column of labels may take.
    pub fn share(&self, part: usize) -> usize {
        self.width / part
    }

    fn end_line(&mut self) {
        self.out.truncate(self.out.trim_end_matches(' ').len());
        let start = self.out.rfind('\n').map_or(0, |end| end + 1);
        if let Cow::Owned(harmless) = no_command(&self.out[start..]) {
            self.out.replace_range(start.., &harmless);
        }
        self.out.push('\n');
    }

    /// The report.
    pub fn done(self) -> String {
        self.out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn page(width: usize, colour: bool) -> Page {
        Page::new(&Style { width, colour, ..Style::default() })
    }

    #[test]
    fn entries_wrap_under_their_hang() {
        let mut page = page(40, false);
        page.entry(2, Lead::new(&[(Ink::Bad, "correction  ")]), "the louver gives less free area than it takes", 14);
        assert_eq!(page.done(), "  correction  the louver gives less free\n              area than it takes\n");
    }

    #[test]
    fn colour_changes_no_line() {
        let said = |colour| {
            let mut page = page(40, colour);
            page.entry(0, Lead::new(&[(Ink::Bad, "correction  ")]), "the louver gives less free area than it takes", 12);
            page.done()
        };
        assert!(said(true).contains('\u{1b}'));
        assert_eq!(anstream::adapter::strip_str(&said(true)).to_string(), said(false));
    }

    #[test]
    fn an_unbreakable_word_stands_whole() {
        let mut page = page(40, false);
        let pointer = format!("/equipment/{}", "x".repeat(60));
        page.entry(4, Lead::new(&[]), &pointer, 4);
        assert!(page.done().contains(&pointer));
    }
}
