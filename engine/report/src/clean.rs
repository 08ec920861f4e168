//! Text that is safe to print: project files and rule modules are written by others.

use std::borrow::Cow;
use std::io::{self, Write};

/// The text on one line, without anything a terminal would obey or that would hide what stands there.
pub fn clean(text: &str) -> Cow<'_, str> {
    if text.chars().all(|letter| !unsafe_to_print(letter)) {
        return Cow::Borrowed(text);
    }
    let safe = |letter: char| match letter {
        '\n' | '\r' | '\t' => ' ',
        letter if unsafe_to_print(letter) => '\u{fffd}',
        letter => letter,
    };
    Cow::Owned(text.chars().map(safe).collect())
}

/// Control characters, and the marks that turn the direction of text around.
fn unsafe_to_print(letter: char) -> bool {
    letter.is_control() || turns_or_breaks(letter)
}

/// The marks that turn the direction of text around, and those that some programs break lines at.
fn turns_or_breaks(letter: char) -> bool {
    matches!(letter, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
}

/// JSON in which nothing stands raw that a terminal or an editor obeys: such letters are written `\u202e`. They can only stand in
/// its texts, where that means the same.
pub fn escaped(json: &str) -> Cow<'_, str> {
    let raw = |letter: char| matches!(letter, '\u{7f}'..='\u{9f}') || turns_or_breaks(letter);
    if !json.contains(raw) {
        return Cow::Borrowed(json);
    }
    let mut out = String::with_capacity(json.len() + 64);
    for letter in json.chars() {
        if raw(letter) { out.push_str(&format!("\\u{:04x}", u32::from(letter))) } else { out.push(letter) }
    }
    Cow::Owned(out)
}

/// A writer of JSON that writes it [`escaped`]. It takes whole letters, as everything that writes text does.
pub struct Escaped<'w>(&'w mut dyn Write);

impl<'w> Escaped<'w> {
    /// Writes on to this.
    pub fn new(out: &'w mut dyn Write) -> Self {
        Self(out)
    }

    /// What is written on to, as it is.
    pub fn inner(&mut self) -> &mut dyn Write {
        self.0
    }
}

impl Write for Escaped<'_> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        match std::str::from_utf8(bytes) {
            Ok(text) => self.0.write_all(escaped(text).as_bytes())?,
            Err(_) => self.0.write_all(bytes)?,
        }
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        self.0.flush()
    }
}

/// A line of a report that a runner of pipelines would take for a command of its own (they begin with `::` or `##`) is none any
/// more: the wrapping of somebody's words must not bring one about.
pub(crate) fn no_command(line: &str) -> Cow<'_, str> {
    let words = line.trim_start();
    let margin = &line[..line.len() - words.len()];
    match words.get(..2) {
        Some("::") => Cow::Owned(format!("{margin}: {}", &words[1..])),
        Some("##") => Cow::Owned(format!("{margin}# {}", &words[1..])),
        _ => Cow::Borrowed(line),
    }
}

#[cfg(test)]
mod tests {
    use super::{Escaped, clean, no_command};
    use std::io::Write as _;

    #[test]
    fn json_holds_nothing_that_turns_text_around_and_means_the_same() {
        let words = "a\u{202e}b\u{9b}c\u{2028}\u{7f}d\u{feff}\u{61c} \u{e9}\u{1f525}";
        let mut out = Vec::new();
        Escaped::new(&mut out).write_all(serde_json::to_string(words).unwrap().as_bytes()).unwrap();
        let text = String::from_utf8(out).unwrap();
        assert_eq!(text, "\"a\\u202eb\\u009bc\\u2028\\u007fd\\ufeff\\u061c \u{e9}\u{1f525}\"");
        assert_eq!(serde_json::from_str::<String>(&text).unwrap(), words);
    }

    #[test]
    fn no_line_is_a_command_of_a_pipeline() {
        assert_eq!(no_command("    ::error file=x::y"), "    : :error file=x::y");
        assert_eq!(no_command("##[error]z"), "# #[error]z");
        assert_eq!(no_command("  a::b ##c"), "  a::b ##c");
    }

    #[test]
    fn nothing_reaches_the_terminal_but_text() {
        assert_eq!(clean("boiler \"b-1\": 36 in²"), "boiler \"b-1\": 36 in²");
        assert_eq!(clean("two\nlines\tand \u{1b}[31mred"), "two lines and \u{fffd}[31mred");
        assert_eq!(clean("ab\u{202e}cd\u{9b}"), "ab\u{fffd}cd\u{fffd}");
    }
}
