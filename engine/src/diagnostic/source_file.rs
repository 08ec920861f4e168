//! A text and where its lines begin: byte offsets in, lines and columns out.

use std::ops::Range;

/// A document's text under the name it is shown by, with an index of its lines.
///
/// The text is what follows a byte order mark, if the file had one; offsets are bytes into that text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SourceFile {
    name: String,
    text: String,
    line_starts: Vec<usize>,
    /// How many characters begin before each stretch of [`STRETCH`] bytes. A program may write a project of megabytes in one line:
    /// its columns are not counted from the beginning for every place.
    begun: Vec<usize>,
}

/// Bytes of a stretch of text.
const STRETCH: usize = 1024;

/// How many characters begin in these bytes.
fn beginnings(bytes: &[u8]) -> usize {
    bytes.iter().filter(|byte| *byte & 0xC0 != 0x80).count()
}

/// A place as people and SARIF count it: line and column from 1, columns in Unicode code points.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
pub struct Position {
    /// The line, from 1.
    pub line: usize,
    /// The code point in the line, from 1.
    pub column: usize,
}

/// A place as editors count it: line and column from 0, columns in UTF-16 units.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
pub struct Utf16Position {
    /// The line, from 0.
    pub line: usize,
    /// The UTF-16 unit in the line, from 0.
    pub character: usize,
}

impl SourceFile {
    /// Indexes a text. `\n` ends a line; a `\r` before it is part of the line's end, not of its text.
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Self {
        let text = text.into();
        let ends = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n').map(|(at, _)| at + 1);
        let line_starts = std::iter::once(0).chain(ends).collect();
        let stretches = text.as_bytes().chunks(STRETCH).scan(0, |before, stretch| {
            let here = *before;
            *before += beginnings(stretch);
            Some(here)
        });
        let begun = stretches.collect();
        Self { name: name.into(), text, line_starts, begun }
    }

    /// The name it is shown by: usually the path as the user gave it.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The whole text, without a byte order mark.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// How many lines there are; an empty text has one.
    pub fn line_count(&self) -> usize {
        self.line_starts.len()
    }

    /// The bytes of a line (from 1) without its end; an empty range at the end of the text for a line that is not there.
    pub fn line_range(&self, line: usize) -> Range<usize> {
        let Some(&start) = line.checked_sub(1).and_then(|index| self.line_starts.get(index)) else {
            return self.text.len()..self.text.len();
        };
        let end = self.line_starts.get(line).map_or(self.text.len(), |next| next - 1);
        let line = &self.text[start..end];
        start..start + line.strip_suffix('\r').unwrap_or(line).len()
    }

    /// The line (from 1) an offset lies in.
    pub fn line_of(&self, offset: usize) -> usize {
        self.line_starts.partition_point(|start| *start <= offset)
    }

    /// The place of a byte offset. An offset past the end counts as the end, one inside a character as that character.
    pub fn position(&self, offset: usize) -> Position {
        let offset = self.text.floor_char_boundary(offset);
        let line = self.line_of(offset);
        Position { line, column: self.characters_before(offset) - self.characters_before(self.line_starts[line - 1]) + 1 }
    }

    /// The same place counted as editors do.
    pub fn utf16_position(&self, offset: usize) -> Utf16Position {
        let (line, before) = self.before(offset);
        Utf16Position { line: line - 1, character: before.encode_utf16().count() }
    }

    /// The byte offset of a place; a place past a line's end counts as that end.
    pub fn offset(&self, position: Position) -> usize {
        let line = self.line_range(position.line);
        let skipped = position.column.saturating_sub(1);
        let inside = self.text[line.clone()].char_indices().nth(skipped).map(|(at, _)| at);
        inside.map_or(line.end, |at| line.start + at)
    }

    /// The byte offset of a place as editors count it.
    pub fn utf16_offset(&self, position: Utf16Position) -> usize {
        let line = self.line_range(position.line + 1);
        let mut units = 0;
        for (at, character) in self.text[line.clone()].char_indices() {
            if units >= position.character {
                return line.start + at;
            }
            units += character.len_utf16();
        }
        line.end
    }

    fn characters_before(&self, offset: usize) -> usize {
        let stretch = offset / STRETCH;
        let begun = self.begun.get(stretch).copied();
        // At the very end of a text that fills its last stretch there is no further one.
        let (begun, from) = begun.map_or_else(|| (0, 0), |begun| (begun, stretch * STRETCH));
        begun + beginnings(&self.text.as_bytes()[from..offset])
    }

    fn before(&self, offset: usize) -> (usize, &str) {
        let offset = self.text.floor_char_boundary(offset);
        let line = self.line_of(offset);
        (line, &self.text[self.line_starts[line - 1]..offset])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(line: usize, column: usize) -> Position {
        Position { line, column }
    }

    #[test]
    fn an_empty_text_has_one_line_and_one_place() {
        let file = SourceFile::new("x", "");
        assert_eq!((file.line_count(), file.position(0), file.position(9)), (1, at(1, 1), at(1, 1)));
        assert_eq!(file.line_range(1), 0..0);
        assert_eq!(file.line_range(0), 0..0);
        assert_eq!(file.line_range(7), 0..0);
    }

    #[test]
    fn carriage_returns_belong_to_the_line_end() {
        let file = SourceFile::new("x", "ab\r\nc\r\n");
        assert_eq!(file.line_count(), 3);
        assert_eq!(file.line_range(1), 0..2);
        assert_eq!(file.line_range(2), 4..5);
        assert_eq!(file.line_range(3), 7..7);
        assert_eq!(file.position(4), at(2, 1));
    }

    #[test]
    fn a_last_line_without_an_end_is_a_line() {
        let file = SourceFile::new("x", "ab\ncd");
        assert_eq!(file.line_range(2), 3..5);
        assert_eq!(file.position(5), at(2, 3));
    }

    #[test]
    fn columns_count_code_points_and_utf16_units() {
        // U+00BD takes two bytes and one unit, U+1F6BF four bytes and two units.
        let file = SourceFile::new("x", "\u{bd}\u{1f6bf}x");
        assert_eq!(file.position(6), at(1, 3));
        assert_eq!(file.utf16_position(6), Utf16Position { line: 0, character: 3 });
        assert_eq!(file.position(3), at(1, 2), "an offset inside a character counts as that character");
    }

    #[test]
    fn columns_of_a_long_line_are_those_counted_from_its_beginning() {
        for text in [format!("x\n{}", "a\u{bd}\u{1f6bf}".repeat(900)), "b".repeat(2 * STRETCH)] {
            let file = SourceFile::new("x", &*text);
            for offset in (0..=text.len()).filter(|offset| text.is_char_boundary(*offset)) {
                let (line, before) = file.before(offset);
                assert_eq!(file.position(offset), at(line, before.chars().count() + 1), "{offset}");
            }
        }
    }

    #[test]
    fn offsets_come_back() {
        let text = "{\r\n  \"a\u{1f6bf}\": \"\u{bd}\"\n}\n";
        let file = SourceFile::new("x", text);
        for (offset, character) in text.char_indices() {
            if character == '\n' {
                continue;
            }
            assert_eq!(file.offset(file.position(offset)), offset);
            assert_eq!(file.utf16_offset(file.utf16_position(offset)), offset);
        }
    }
}
