//! Complaints as data: the same words a person is told, with the line itself.

use super::{Diagnostic, SourceFile, Span};
use redtag_report::{Style, complaint};
use redtag_schema::review::{Complaint, Place, RelatedPlace, WrittenLine};

/// Whether the terminal shows colours. The words `error`, `warning` and `note` are there either way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paint {
    /// No escape codes at all.
    #[default]
    Plain,
    /// Colours by escape codes.
    Colour,
}

/// How much is shown on either side of a place in a line too long to show.
const AROUND: usize = 60;

impl Diagnostic {
    /// The complaint as data.
    pub fn complaint(&self) -> Complaint {
        let place = self.primary.as_ref();
        Complaint {
            code: self.code.word().to_owned(),
            severity: self.severity,
            message: self.message.clone(),
            file: place.map(|span| span.file.name().to_owned()),
            place: place.map(Span::place),
            pointer: self.pointer.clone(),
            written: place.map(Span::written),
            expected: self.expected.clone(),
            help: self.help.clone(),
            related: self.secondary.iter().map(|one| related(&one.span, &one.label)).collect(),
        }
    }

    /// The whole complaint over several lines, ending in a newline.
    pub fn render(&self, paint: Paint) -> String {
        complaint::render_one(&self.complaint(), &style(paint))
    }

    /// The complaint in one line: `file:line:column: error: message (/pointer)`.
    pub fn one_line(&self) -> String {
        // What one line does not show is not looked for either: the line in a large file takes its time.
        let bare = Complaint { written: None, related: Vec::new(), ..self.complaint() };
        complaint::one_line(&bare)
    }
}

/// Complaints as data.
pub fn complaints(diagnostics: &[Diagnostic]) -> Vec<Complaint> {
    diagnostics.iter().map(Diagnostic::complaint).collect()
}

/// Every complaint, one after the other with an empty line between, then how many there are.
pub fn render_all(diagnostics: &[Diagnostic], paint: Paint) -> String {
    complaint::render(&complaints(diagnostics), &style(paint))
}

fn style(paint: Paint) -> Style {
    Style { colour: paint == Paint::Colour, ..Style::default() }
}

fn related(span: &Span, label: &str) -> RelatedPlace {
    let (file, place, written) = (span.file.name().to_owned(), span.place(), span.written());
    RelatedPlace { file, place, label: label.to_owned(), written }
}

impl Span {
    /// Where it stands, as people count.
    pub fn place(&self) -> Place {
        let (start, end) = (self.start(), self.end());
        Place { line: start.line, column: start.column, end_line: end.line, end_column: end.column }
    }

    /// The line it begins in, or the part around its beginning of one too long to show; marked as far as it stands there. An
    /// object is named by its opening brace, not by the rest of its line.
    pub fn written(&self) -> WrittenLine {
        let file: &SourceFile = &self.file;
        let (text, start) = (file.text(), self.range.start);
        let line = file.line_range(file.line_of(start));
        let long = line.len() > 4 * AROUND;
        let from = if long { text.floor_char_boundary(start.saturating_sub(AROUND)).max(line.start) } else { line.start };
        let until = if long { text.ceil_char_boundary((start + AROUND).min(line.end)).max(from) } else { line.end };
        let end = if self.range.end > line.end { text.ceil_char_boundary((start + 1).min(line.end)) } else { self.range.end };
        let count = |range: std::ops::Range<usize>| text.get(range).unwrap_or_default().chars().count();
        let before = count(from..start.clamp(from, until));
        WrittenLine {
            text: text.get(from..until).unwrap_or_default().to_owned(),
            start: before,
            end: before + count(start.clamp(from, until)..end.clamp(start, until.max(start))),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::Arc;

    fn written(text: &str, range: std::ops::Range<usize>) -> (String, usize, usize) {
        let line = Span::new(&Arc::new(SourceFile::new("x", text)), range).written();
        (line.text, line.start, line.end)
    }

    #[test]
    fn a_place_is_marked_in_its_line() {
        assert_eq!(written("{\n  \"\u{bd}\": 1\n}", 9..10), ("  \"\u{bd}\": 1".to_owned(), 6, 7));
        assert_eq!(written("a {\n}\n", 2..5), ("a {".to_owned(), 2, 3), "an object is its opening brace");
        assert_eq!(written("", 0..0), (String::new(), 0, 0));
        assert_eq!(written("ab", 2..2), ("ab".to_owned(), 2, 2));
    }

    #[test]
    fn a_long_line_is_shown_around_the_place() {
        let text = format!("{}X{}", "a".repeat(5_000), "b".repeat(5_000));
        let (shown, start, end) = written(&text, 5_000..5_001);
        assert_eq!((shown.len(), start, end), (2 * AROUND, AROUND, AROUND + 1));
        assert_eq!(&shown[start..end], "X");
    }
}
