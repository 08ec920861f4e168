//! Reading past plain slips of the syntax: a comma too many or too few, a comment, single or typographic quotation marks.
//!
//! What is put in the place of a slip is as long as the slip, byte for byte, so that every place behind it stays true. Nothing
//! is taken from a repaired text but further complaints: it is never reviewed.

use super::syntax_error::offset;
use crate::diagnostic::SourceFile;

/// How many slips are read past.
const MOST: usize = 50;
/// How many bytes are read again, all repairs together.
const MOST_BYTES: usize = 64 << 20;

/// The text without the slip that stopped the reading; nothing when it is not a plain one, or when there were too many.
pub(super) fn past(text: &str, file: &SourceFile, error: &serde_json::Error, slips: usize) -> Option<String> {
    if slips > MOST || text.len().saturating_mul(slips) > MOST_BYTES {
        return None;
    }
    let stop = offset(file, error);
    let told = error.to_string();
    let told = told.split(" at line ").next().unwrap_or_default();
    let rest = text.get(stop..)?;
    let repaired = match told {
        _ if comment(rest).is_some() => blank(text, stop, comment(rest)?),
        "trailing comma" => {
            let comma = text.get(..stop)?.trim_ascii_end().strip_suffix(',')?.len();
            blank(text, comma, 1)
        }
        _ if told.starts_with("expected `,`") => insert(text, stop, ',')?,
        "expected `:`" => insert(text, stop, ':')?,
        "key must be a string" | "expected value" => value(text, stop)?,
        _ => return None,
    };
    (repaired != text && repaired.len() == text.len()).then_some(repaired)
}

/// How long the comment is that begins here, its line end left out.
fn comment(rest: &str) -> Option<usize> {
    if rest.starts_with("/*") {
        return Some(rest.find("*/").map_or(rest.len(), |end| end + 2));
    }
    let line = rest.starts_with("//") || rest.starts_with('#');
    line.then(|| rest.find('\n').unwrap_or(rest.len()))
}

/// The text with spaces in the place of some bytes; line ends stay.
fn blank(text: &str, at: usize, length: usize) -> String {
    let mut bytes = text.as_bytes().to_vec();
    bytes.iter_mut().skip(at).take(length).filter(|byte| **byte != b'\n').for_each(|byte| *byte = b' ');
    // Whole characters are blanked, so what is left is text.
    String::from_utf8(bytes).unwrap_or_default()
}

/// The text with a mark in the place of the space before something that begins here.
fn insert(text: &str, stop: usize, mark: char) -> Option<String> {
    let begins = text.get(stop..)?.starts_with(|first: char| first.is_ascii_alphanumeric() || "\"{[-'".contains(first));
    let before = stop.checked_sub(1)?;
    let room = text.as_bytes().get(before).is_some_and(|byte| matches!(byte, b' ' | b'\t' | b'\r'));
    (begins && room).then(|| format!("{}{mark}{}", &text[..before], &text[stop..]))
}

/// The text with a value or a name as JSON writes it.
fn value(text: &str, stop: usize) -> Option<String> {
    let rest = text.get(stop..)?;
    for (word, proper) in
        [("True", "true"), ("False", "false"), ("None", "null"), ("TRUE", "true"), ("FALSE", "false"), ("NULL", "null")]
    {
        if rest.starts_with(word) {
            return Some(replaced(text, stop, word.len(), proper));
        }
    }
    let open = rest.chars().next()?;
    let close = match open {
        '\'' => '\'',
        '\u{201C}' | '\u{201D}' => '\u{201D}',
        '+' => return Some(blank(text, stop, 1)),
        _ => return None,
    };
    let inside = &rest[open.len_utf8()..];
    let end = inside.find([close, '\n', '"', '\\'])?;
    inside[end..].starts_with(close).then(|| {
        let (before, after) = (" ".repeat(open.len_utf8() - 1), " ".repeat(close.len_utf8() - 1));
        let quoted = format!("{before}\"{}\"{after}", &inside[..end]);
        replaced(text, stop, open.len_utf8() + end + close.len_utf8(), &quoted)
    })
}

fn replaced(text: &str, at: usize, length: usize, by: &str) -> String {
    format!("{}{by}{}", &text[..at], &text[at + length..])
}

#[cfg(test)]
mod tests {
    use crate::diagnostic::SourceFile;
    use crate::document::syntax::parse;
    use std::sync::Arc;

    /// The slips of a text, a line each, and what is left of it.
    fn read(text: &str) -> (Vec<String>, Option<String>) {
        let parsed = parse(&Arc::new(SourceFile::new("x", text)), 100);
        (parsed.slips.iter().map(|slip| slip.one_line()).collect(), parsed.read.map(|(value, _)| value.to_string()))
    }

    #[test]
    fn all_plain_slips_are_told_at_once() {
        let text = "{ // the lot\n  \"a\": [1, 2,],\n  'b': 'c',\n  \"d\": True\n  \"e\" 5,\n  \"f\": \u{201c}g\u{201d},\n  \"h\": +1,\n}";
        let (slips, left) = read(text);
        let places: Vec<&str> = slips.iter().map(|slip| slip.split(": ").next().unwrap_or_default()).collect();
        assert_eq!(
            places,
            ["x:1:3", "x:2:13", "x:3:3", "x:3:8", "x:4:8", "x:5:3", "x:5:7", "x:6:8", "x:7:8", "x:7:10"],
            "{slips:#?}"
        );
        assert_eq!(left.as_deref(), Some(r#"{"a":[1,2],"b":"c","d":true,"e":5,"f":"g","h":1}"#));
    }

    #[test]
    fn what_is_no_plain_slip_ends_the_reading() {
        for text in ["{\"a\": yes}", "{\"a\": \"b\nc\"}", "{a: 1}", "{\"a\": 'b\"c'}", "{\"a\": [1,", "{\"a\": }", "{} {}"] {
            let (slips, left) = read(text);
            assert_eq!((slips.len(), left), (1, None), "{text}: {slips:?}");
        }
    }

    #[test]
    fn very_many_slips_end_it_too() {
        let text = format!("[{}]", "'a', ".repeat(500));
        let (slips, left) = read(&text);
        assert_eq!((slips.len(), left), (super::MOST + 1, None));
    }
}
