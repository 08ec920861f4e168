//! Small helpers for messages.

use std::time::Duration;

/// Text of a module made safe for a terminal: control characters other than line breaks and tabs are written out.
pub(super) fn printable(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for character in text.chars() {
        if character.is_control() && character != '\n' && character != '\t' {
            safe.extend(character.escape_unicode());
        } else {
            safe.push(character);
        }
    }
    safe
}

/// At most so many characters of a text, and whether there was more.
pub(super) fn shortened(text: &str, characters: usize) -> String {
    match text.char_indices().nth(characters) {
        Some((end, _)) => format!("{}...", text.get(..end).unwrap_or(text)),
        None => text.to_owned(),
    }
}

/// A count with its thousands set apart: 2,000,000,000.
pub(super) fn grouped(count: u64) -> String {
    let digits = count.to_string();
    let mut text = String::with_capacity(digits.len() + digits.len() / 3);
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

/// Bytes as people read them.
pub(super) fn bytes(count: usize) -> String {
    match count {
        0..1_024 => format!("{count} bytes"),
        1_024..1_048_576 => format!("{} KiB", count.div_ceil(1 << 10)),
        _ => format!("{} MiB", count.div_ceil(1 << 20)),
    }
}

/// A time limit as people read it.
pub(super) fn seconds(limit: Duration) -> String {
    format!("{} s", limit.as_secs_f64())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn control_characters_cannot_reach_a_terminal() {
        assert_eq!(printable("red\u{1b}[31m\ttag\n"), "red\\u{1b}[31m\ttag\n");
    }

    #[test]
    fn figures_read_well() {
        assert_eq!(grouped(2_000_000_000), "2,000,000,000");
        assert_eq!(grouped(999), "999");
        assert_eq!(bytes(64 << 20), "64 MiB");
        assert_eq!(bytes((64 << 20) + 1), "65 MiB");
        assert_eq!(bytes(256 << 10), "256 KiB");
        assert_eq!(seconds(Duration::from_millis(1500)), "1.5 s");
        assert_eq!(shortened("abcdef", 3), "abc...");
        assert_eq!(shortened("abc", 3), "abc");
    }
}
