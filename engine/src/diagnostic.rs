//! What is wrong with a document, where, what was expected and what to do: one type for every complaint, and how it is shown.

mod code;
#[cfg(test)]
mod occurrences;
mod source_file;
mod written;

use std::ops::Range;
use std::sync::Arc;

pub use code::Code;
pub use redtag_schema::review::Severity;
pub use source_file::{Position, SourceFile, Utf16Position};
pub use written::{Paint, complaints, render_all};

/// A stretch of a text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Span {
    /// The text.
    pub file: Arc<SourceFile>,
    /// Bytes of the text.
    pub range: Range<usize>,
}

impl Span {
    /// A stretch of a file; the range is moved onto characters and into the text, so it can always be shown.
    pub fn new(file: &Arc<SourceFile>, range: Range<usize>) -> Self {
        let text = file.text();
        let start = text.floor_char_boundary(range.start);
        let end = text.ceil_char_boundary(range.end.clamp(start, text.len()));
        Self { file: Arc::clone(file), range: start..end.min(text.len()) }
    }

    /// Where it begins.
    pub fn start(&self) -> Position {
        self.file.position(self.range.start)
    }

    /// Just past where it ends.
    pub fn end(&self) -> Position {
        self.file.position(self.range.end)
    }
}

/// Another place that belongs to a complaint.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Related {
    /// Where.
    pub span: Span,
    /// What is there, in a few words.
    pub label: String,
}

/// One complaint about a document.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// What kind of complaint.
    pub code: Code,
    /// How much it weighs.
    pub severity: Severity,
    /// What is wrong, one sentence without a full stop.
    pub message: String,
    /// Where; `None` when there is no text to point into.
    pub primary: Option<Span>,
    /// The JSON pointer of the value it is about; `""` is the whole document.
    pub pointer: Option<String>,
    /// What would have been right.
    pub expected: Option<String>,
    /// What to do.
    pub help: Option<String>,
    /// Other places that belong to it.
    pub secondary: Vec<Related>,
}

impl Diagnostic {
    /// An error without a place.
    pub fn error(code: Code, message: impl Into<String>) -> Self {
        Self::new(code, Severity::Error, message.into())
    }

    /// A warning without a place.
    pub fn warning(code: Code, message: impl Into<String>) -> Self {
        Self::new(code, Severity::Warning, message.into())
    }

    /// A note without a place.
    pub fn note(code: Code, message: impl Into<String>) -> Self {
        Self::new(code, Severity::Note, message.into())
    }

    fn new(code: Code, severity: Severity, message: String) -> Self {
        #[cfg(test)]
        occurrences::note(code);
        Self { code, severity, message, primary: None, pointer: None, expected: None, help: None, secondary: Vec::new() }
    }

    /// The same complaint about a place.
    #[must_use]
    pub fn at(self, file: &Arc<SourceFile>, range: Range<usize>) -> Self {
        Self { primary: Some(Span::new(file, range)), ..self }
    }

    /// The same complaint about the value a JSON pointer leads to.
    #[must_use]
    pub fn pointer(self, pointer: impl Into<String>) -> Self {
        Self { pointer: Some(pointer.into()), ..self }
    }

    /// The same complaint, saying what would have been right.
    #[must_use]
    pub fn expected(self, expected: impl Into<String>) -> Self {
        Self { expected: Some(expected.into()), ..self }
    }

    /// The same complaint, saying what to do.
    #[must_use]
    pub fn help(self, help: impl Into<String>) -> Self {
        Self { help: Some(help.into()), ..self }
    }

    /// The same complaint, pointing at another place too.
    #[must_use]
    pub fn related(mut self, file: &Arc<SourceFile>, range: Range<usize>, label: impl Into<String>) -> Self {
        self.secondary.push(Related { span: Span::new(file, range), label: label.into() });
        self
    }

    /// Whether the document cannot be used because of it.
    pub fn is_error(&self) -> bool {
        self.severity == Severity::Error
    }

    /// Puts complaints in the order of their places: file, offset, then kind; those without a place first.
    pub fn sort(diagnostics: &mut [Self]) {
        diagnostics.sort_by(|left, right| left.order().cmp(&right.order()));
    }

    fn order(&self) -> impl Ord + '_ {
        let place = self.primary.as_ref().map(|span| (span.file.name(), span.range.start, span.range.end));
        (place, self.severity, self.code.word(), self.message.as_str())
    }
}

impl std::fmt::Display for Diagnostic {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.one_line())
    }
}

impl std::error::Error for Diagnostic {}

/// Words of the user's inside a sentence of ours: quoted, without control characters, cut when long.
pub fn quoted(words: &str) -> String {
    const LONGEST: usize = 60;
    let mut out = String::from("`");
    for (count, character) in words.chars().enumerate() {
        if count == LONGEST {
            out.push_str("...");
            break;
        }
        if is_unprintable(character) { out.extend(character.escape_unicode()) } else { out.push(character) }
    }
    out.push('`');
    out
}

/// Control characters, and the marks that turn the writing direction of what follows.
fn is_unprintable(character: char) -> bool {
    character.is_control()
        || matches!(character, '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_span_is_moved_into_the_text_and_onto_characters() {
        let file = Arc::new(SourceFile::new("x", "a\u{bd}c"));
        assert_eq!(Span::new(&file, 2..2).range, 1..3);
        assert_eq!(Span::new(&file, 9..99).range, 4..4);
        #[expect(clippy::reversed_empty_ranges, reason = "a range the wrong way round must not panic")]
        let reversed = Span::new(&file, 3..1);
        assert_eq!(reversed.range, 3..3);
    }

    #[test]
    fn the_users_words_cannot_command_the_terminal() {
        assert_eq!(quoted("a\u{1b}[31m\u{202e}"), "`a\\u{1b}[31m\\u{202e}`");
        assert_eq!(quoted(&"x".repeat(61)), format!("`{}...`", "x".repeat(60)));
    }

    #[test]
    fn complaints_are_sorted_by_place() {
        let file = Arc::new(SourceFile::new("x", "abc"));
        let mut list = vec![
            Diagnostic::error(Code::BadAmount, "late").at(&file, 2..3),
            Diagnostic::error(Code::BadAmount, "early").at(&file, 0..1),
            Diagnostic::error(Code::BadAmount, "nowhere"),
        ];
        Diagnostic::sort(&mut list);
        let words: Vec<_> = list.iter().map(|one| one.message.as_str()).collect();
        assert_eq!(words, ["nowhere", "early", "late"]);
    }
}
