//! Why a text is not JSON, in words for somebody who edits it by hand.

use crate::diagnostic::{Code, Diagnostic, SourceFile};
use serde_json::error::Category;
use std::sync::Arc;

/// The complaint about a text that `serde_json` refuses.
pub(super) fn explain(file: &Arc<SourceFile>, error: &serde_json::Error) -> Diagnostic {
    if file.text().trim_ascii().is_empty() {
        return empty(file);
    }
    if error.classify() == Category::Eof {
        return ends_early(file);
    }
    let stop = offset(file, error);
    let last_before = file.text()[..stop].trim_ascii_end().len();
    let before = file.text().floor_char_boundary(last_before.saturating_sub(1));
    let told = error.to_string();
    let told = told.split(" at line ").next().unwrap_or_default();
    // The mistake behind a missing or needless comma is before the place where reading stops, often on another line.
    match told {
        "trailing comma" => complain(file, before, told),
        _ if told.starts_with("expected `,`") && file.line_of(before) < file.line_of(stop) => {
            complain(file, stop, told).related(file, before..last_before, "a comma is missing after this")
        }
        _ => complain(file, stop, told),
    }
}

/// The complaint about a text without anything in it.
pub(super) fn empty(file: &Arc<SourceFile>) -> Diagnostic {
    Diagnostic::error(Code::EmptyFile, "there is nothing in this file")
        .at(file, 0..0)
        .expected("a JSON document, which begins with `{`")
}

fn ends_early(file: &Arc<SourceFile>) -> Diagnostic {
    let end = file.text().trim_ascii_end().len();
    let complaint = Diagnostic::error(Code::InvalidJson, "the file ends in the middle").at(file, end..end);
    let Some((open, bracket)) = last_open(file.text()) else {
        return complaint.expected("a value").help("the file may have been cut off: get a whole copy of it");
    };
    let (what, closing) = match bracket {
        '{' => ("object", "`}`"),
        '[' => ("list", "`]`"),
        _ => ("text", "`\"`"),
    };
    complaint
        .related(file, open..open + 1, format!("this {what} is never closed"))
        .expected(closing)
        .help("the file may have been cut off, or a closing bracket or quotation mark is missing")
}

/// The innermost brace, bracket or quotation mark that is never closed.
fn last_open(text: &str) -> Option<(usize, char)> {
    let mut open = Vec::new();
    let mut characters = text.char_indices();
    while let Some((at, character)) = characters.next() {
        match (character, open.last()) {
            ('\\', Some((_, '"'))) => drop(characters.next()),
            ('"', Some((_, '"'))) => drop(open.pop()),
            (_, Some((_, '"'))) => {}
            ('{' | '[' | '"', _) => open.push((at, character)),
            ('}' | ']', _) => drop(open.pop()),
            _ => {}
        }
    }
    open.pop()
}

/// The byte `serde_json` stopped at. Its columns count bytes up to and with that one, and a line break counts as column
/// 0 of the line it opens.
pub(super) fn offset(file: &SourceFile, error: &serde_json::Error) -> usize {
    let line = file.line_range(error.line()).start;
    file.text().floor_char_boundary((line + error.column()).saturating_sub(1))
}

fn complain(file: &Arc<SourceFile>, at: usize, told: &str) -> Diagnostic {
    let text = &file.text()[at..];
    let found = text.chars().next();
    let comment = text.starts_with("//") || text.starts_with("/*") || text.starts_with('#');
    let (message, help) = match told {
        _ if comment => ("JSON has no comments", "remove the comment"),
        "recursion limit exceeded" => return too_deep(file, at),
        "trailing comma" => ("there is a comma after the last entry", "remove the comma"),
        "trailing characters" => {
            ("something follows after the end of the document", "one file holds one document: remove what follows")
        }
        "key must be a string" => key_without_quotes(found),
        "expected `:`" => ("a colon is missing after the name of the field", "write `\"name\": value`"),
        "expected `,` or `}`" => ("the object does not go on like this", "separate its fields by commas, or close it with `}`"),
        "expected `,` or `]`" => ("the list does not go on like this", "separate its items by commas, or close it with `]`"),
        "expected value" | "expected ident" => value_missing(text),
        "invalid number" => (
            "this is not a number JSON allows",
            "digits with an optional `-`, `.` and exponent; no leading `0` or `+`, digits on both sides of the point",
        ),
        "number out of range" => ("this number is too large", "amounts are written as text with a unit, such as \"36 in\""),
        "invalid escape" => ("this escape is not known in JSON", "write a backslash as `\\\\`"),
        _ if told.starts_with("control character") => (
            "a line break or another control character stands inside a text",
            "close the text with `\"` before the line ends, or write a line break as `\\n`",
        ),
        _ if told.contains("surrogate") || told.contains("hex escape") || told.contains("unicode") => {
            ("this \\u escape is not a character", "write the character itself")
        }
        _ => return Diagnostic::error(Code::InvalidJson, format!("this is not JSON: {told}")).at(file, at..at + width(found)),
    };
    Diagnostic::error(Code::InvalidJson, message).at(file, at..at + width(found)).help(help)
}

fn width(found: Option<char>) -> usize {
    found.filter(|found| *found != '\n' && *found != '\r').map_or(0, char::len_utf8)
}

fn too_deep(file: &Arc<SourceFile>, at: usize) -> Diagnostic {
    Diagnostic::error(Code::TooDeep, "objects and lists lie too deep inside one another")
        .at(file, at..at + 1)
        .expected("at most 127 levels")
        .help("check that this is the right file: no document here needs more than twenty levels")
}

fn key_without_quotes(found: Option<char>) -> (&'static str, &'static str) {
    match found {
        Some('\'') => ("a name stands in single quotation marks", "use double quotation marks: `\"name\"`"),
        _ => ("the name of a field must stand in double quotation marks", "write `\"name\": value`"),
    }
}

fn value_missing(text: &str) -> (&'static str, &'static str) {
    match text.chars().next() {
        Some('\'') => ("a text stands in single quotation marks", "use double quotation marks"),
        Some('\u{201C}' | '\u{201D}' | '\u{2018}' | '\u{2019}') => {
            ("these quotation marks are typographic", "use the plain double quotation mark")
        }
        Some('+' | '.') => ("this is not a number JSON allows", "begin the number with a digit or `-`"),
        Some('}' | ']' | ',' | ':') => ("a value is missing here", "write a value, or remove the field"),
        _ => ("this is not a value", "put text in double quotation marks; `true`, `false` and `null` are written small"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn complaint(text: &str) -> String {
        let file = Arc::new(SourceFile::new("x", text));
        let error = serde_json::from_str::<serde_json::Value>(text).unwrap_err();
        explain(&file, &error).one_line()
    }

    #[test]
    fn each_slip_has_its_own_words_and_place() {
        let slips = [
            ("{\"a\": 1,}", "x:1:8: error: there is a comma after the last entry"),
            ("{\"a\": 1\n \"b\": 2}", "x:2:2: error: the object does not go on like this"),
            ("{a: 1}", "x:1:2: error: the name of a field must stand in double quotation marks"),
            ("{'a': 1}", "x:1:2: error: a name stands in single quotation marks"),
            ("{\"a\": 'b'}", "x:1:7: error: a text stands in single quotation marks"),
            ("{} // later", "x:1:4: error: JSON has no comments"),
            ("{} {}", "x:1:4: error: something follows after the end of the document"),
            ("{\"a\": 1 // later\n}", "x:1:9: error: JSON has no comments"),
            ("// first\n{}", "x:1:1: error: JSON has no comments"),
            ("{\"a\" 1}", "x:1:6: error: a colon is missing after the name of the field"),
            ("[1 2]", "x:1:4: error: the list does not go on like this"),
            ("{\"a\": }", "x:1:7: error: a value is missing here"),
            ("{\"a\": yes}", "x:1:7: error: this is not a value"),
            ("{\"a\": \u{201c}b\u{201d}}", "x:1:7: error: these quotation marks are typographic"),
            ("{\"a\": 1e999}", "x:1:11: error: this number is too large"),
            ("{\"a\": \"b\nc\"}", "x:1:9: error: a line break or another control character stands inside a text"),
            ("{\"a\": \"\\x\"}", "x:1:9: error: this escape is not known in JSON"),
            ("{\"a\": [1,", "x:1:10: error: the file ends in the middle"),
        ];
        for (text, wanted) in slips {
            assert_eq!(complaint(text), wanted, "{text}");
        }
    }

    #[test]
    fn what_is_never_closed_is_found() {
        assert_eq!(last_open("{\"a\": [1, {}"), Some((6, '[')));
        assert_eq!(last_open("{\"a\\\"b"), Some((1, '"')));
        assert_eq!(last_open("{}"), None);
    }
}
