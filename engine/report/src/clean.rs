//! Text that is safe to print: project files and rule modules are written by others.

use std::borrow::Cow;

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
    letter.is_control() || matches!(letter, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

#[cfg(test)]
mod tests {
    use super::clean;

    #[test]
    fn nothing_reaches_the_terminal_but_text() {
        assert_eq!(clean("boiler \"b-1\": 36 in²"), "boiler \"b-1\": 36 in²");
        assert_eq!(clean("two\nlines\tand \u{1b}[31mred"), "two lines and \u{fffd}[31mred");
        assert_eq!(clean("ab\u{202e}cd\u{9b}"), "ab\u{fffd}cd\u{fffd}");
    }
}
