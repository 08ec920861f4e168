//! The author's text, character by character, with look-alikes folded and byte positions kept.

use std::ops::Range;

/// No honest amount is longer than this many bytes.
pub(super) const LONGEST: usize = 80;

/// The text and a place in it.
pub(super) struct Cursor {
    /// Byte position and folded character.
    chars: Vec<(usize, char)>,
    /// Length of the source in bytes.
    end: usize,
    at: usize,
}

impl Cursor {
    pub(super) fn new(source: &str) -> Self {
        Self { chars: source.char_indices().map(|(i, c)| (i, fold(c))).collect(), end: source.len(), at: 0 }
    }

    /// The character `ahead` places on.
    pub(super) fn peek(&self, ahead: usize) -> Option<char> {
        self.chars.get(self.at + ahead).map(|&(_, c)| c)
    }

    pub(super) fn done(&self) -> bool {
        self.at >= self.chars.len()
    }

    pub(super) fn advance(&mut self, count: usize) {
        self.at = (self.at + count).min(self.chars.len());
    }

    /// Takes the next character if it is `wanted`.
    pub(super) fn take(&mut self, wanted: char) -> bool {
        let found = self.peek(0) == Some(wanted);
        if found {
            self.advance(1);
        }
        found
    }

    /// Takes characters as long as they are `wanted`; says how many.
    pub(super) fn skip(&mut self, wanted: impl Fn(char) -> bool) -> usize {
        let start = self.at;
        while self.peek(0).is_some_and(&wanted) {
            self.advance(1);
        }
        self.at - start
    }

    pub(super) fn skip_spaces(&mut self) -> usize {
        self.skip(|c| c == ' ')
    }

    /// A place to come back to with [`Cursor::back_to`].
    pub(super) fn place(&self) -> usize {
        self.at
    }

    pub(super) fn back_to(&mut self, place: usize) {
        self.at = place;
    }

    /// The folded text from `place` up to here.
    pub(super) fn since(&self, place: usize) -> String {
        self.chars[place..self.at].iter().map(|&(_, c)| c).collect()
    }

    /// The bytes of the source from `place` up to here.
    pub(super) fn range(&self, place: usize) -> Range<usize> {
        self.byte(place)..self.byte(self.at)
    }

    /// The bytes of the source from `place` to its end.
    pub(super) fn rest(&self, place: usize) -> Range<usize> {
        self.byte(place)..self.end
    }

    fn byte(&self, place: usize) -> usize {
        self.chars.get(place).map_or(self.end, |&(byte, _)| byte)
    }
}

/// Spaces, primes, quotation marks, dashes and signs that look alike, as their plain form.
fn fold(c: char) -> char {
    match c {
        '\u{00A0}' | '\u{2000}'..='\u{200A}' | '\u{202F}' | '\u{205F}' | '\u{3000}' => ' ',
        '\u{2032}' | '\u{2019}' | '\u{2018}' | '\u{02B9}' | '\u{00B4}' | '`' => '\'',
        '\u{2033}' | '\u{201C}' | '\u{201D}' | '\u{02BA}' => '"',
        '\u{2010}'..='\u{2015}' | '\u{2212}' => '-',
        '\u{2044}' | '\u{2215}' => '/',
        '\u{00BA}' | '\u{02DA}' => '\u{00B0}',
        '\u{2236}' => ':',
        '\u{2126}' => '\u{03A9}',
        c => c,
    }
}

/// The value of a fraction that is one character, as numerator and denominator.
pub(super) fn vulgar_fraction(c: char) -> Option<(f64, f64)> {
    Some(match c {
        '½' => (1.0, 2.0),
        '⅓' => (1.0, 3.0),
        '⅔' => (2.0, 3.0),
        '¼' => (1.0, 4.0),
        '¾' => (3.0, 4.0),
        '⅕' => (1.0, 5.0),
        '⅖' => (2.0, 5.0),
        '⅗' => (3.0, 5.0),
        '⅘' => (4.0, 5.0),
        '⅙' => (1.0, 6.0),
        '⅚' => (5.0, 6.0),
        '⅛' => (1.0, 8.0),
        '⅜' => (3.0, 8.0),
        '⅝' => (5.0, 8.0),
        '⅞' => (7.0, 8.0),
        _ => return None,
    })
}

/// Whether a number can begin with this character.
pub(super) fn begins_number(c: char) -> bool {
    c.is_ascii_digit() || vulgar_fraction(c).is_some()
}
