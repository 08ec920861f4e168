//! From bytes to text: how much is read, which encoding, whether there is a byte order mark.

use crate::diagnostic::{Code, Diagnostic, SourceFile, quoted};
use std::fs::File;
use std::io::Read;
use std::path::Path;
use std::sync::Arc;

/// How much of a document is taken in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limits {
    /// The largest document that is read, in bytes.
    pub bytes: u64,
    /// The most complaints that are reported; that some were left out is said.
    pub complaints: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Self { bytes: 16 * 1024 * 1024, complaints: 1000 }
    }
}

/// A text that is UTF-8, and what is worth knowing about how it was stored.
#[derive(Debug)]
pub(super) struct Text {
    pub(super) file: Arc<SourceFile>,
    pub(super) notes: Vec<Diagnostic>,
}

const BYTE_ORDER_MARK: &[u8] = &[0xEF, 0xBB, 0xBF];

/// Reads a file, never more of it than the limit and one byte: a file may grow, and a device has no size.
///
/// # Errors
/// It cannot be read, or is too large.
pub fn read_bytes(path: &Path, limits: &Limits) -> Result<Vec<u8>, Diagnostic> {
    let name = path.display().to_string();
    // Before it is opened: opening a pipe waits until somebody writes into it, which may be never.
    let metadata = path.metadata().map_err(|error| unreadable(&name, &error))?;
    if metadata.is_dir() {
        let message = format!("{} is a folder, not a file", quoted(&name));
        return Err(Diagnostic::error(Code::UnreadableFile, message).help("name the JSON file inside it"));
    }
    let file = open_regular(path).map_err(|error| unreadable(&name, &error))?;
    if metadata.len() > limits.bytes {
        return Err(too_large(&name, Some(metadata.len()), limits));
    }
    let mut bytes = Vec::new();
    file.take(limits.bytes.saturating_add(1)).read_to_end(&mut bytes).map_err(|error| unreadable(&name, &error))?;
    Ok(bytes)
}

/// Opens a regular file: a pipe or a device may never end, nor even begin.
///
/// # Errors
/// It cannot be opened, or is no regular file.
pub fn open_regular(path: &Path) -> std::io::Result<File> {
    if !path.metadata()?.is_file() {
        return Err(std::io::Error::other(
            "it is no regular file; what a program writes is read with --stream, a line a project",
        ));
    }
    File::open(path)
}

/// Decodes a document's bytes.
pub(super) fn decode(name: &str, bytes: &[u8], limits: &Limits) -> Result<Text, Diagnostic> {
    if bytes.len() as u64 > limits.bytes {
        return Err(too_large(name, None, limits));
    }
    if let [0xFF, 0xFE, ..] | [0xFE, 0xFF, ..] = bytes {
        let message = format!("{} is stored as UTF-16", quoted(name));
        return Err(Diagnostic::error(Code::NotUtf8, message).help("save it again with the encoding UTF-8"));
    }
    let stripped = bytes.strip_prefix(BYTE_ORDER_MARK);
    let text = std::str::from_utf8(stripped.unwrap_or(bytes))
        .map_err(|error| not_utf8(name, stripped.unwrap_or(bytes), error.valid_up_to()))?;
    let file = Arc::new(SourceFile::new(name, text));
    let notes = stripped.map(|_| byte_order_mark(&file)).into_iter().collect();
    Ok(Text { file, notes })
}

fn unreadable(name: &str, error: &std::io::Error) -> Diagnostic {
    let name = quoted(name);
    let diagnostic = Diagnostic::error(Code::UnreadableFile, format!("cannot read {name}: {error}"));
    match error.kind() {
        std::io::ErrorKind::NotFound => diagnostic.help("check the name, and the folder you are in"),
        std::io::ErrorKind::PermissionDenied => diagnostic.help("ask for the right to read it"),
        _ => diagnostic,
    }
}

fn too_large(name: &str, length: Option<u64>, limits: &Limits) -> Diagnostic {
    let size = length.map_or_else(|| "more than it may be".to_owned(), mebibytes);
    let message = format!("{} is too large: it is {size}", quoted(name));
    Diagnostic::error(Code::TooLarge, message)
        .expected(format!("at most {}", mebibytes(limits.bytes)))
        .help("check that it is the right file: a description of a building seldom takes more than one MiB")
}

fn mebibytes(bytes: u64) -> String {
    const MEBIBYTE: u64 = 1024 * 1024;
    if bytes < MEBIBYTE {
        return format!("{bytes} bytes");
    }
    let tenths = bytes / (MEBIBYTE / 10);
    if tenths.is_multiple_of(10) { format!("{} MiB", tenths / 10) } else { format!("{}.{} MiB", tenths / 10, tenths % 10) }
}

fn not_utf8(name: &str, bytes: &[u8], at: usize) -> Diagnostic {
    // Replacement characters stand after the valid part only, so the offset of the first bad byte stays right.
    let file = Arc::new(SourceFile::new(name, String::from_utf8_lossy(bytes)));
    let byte = bytes.get(at).copied().unwrap_or_default();
    Diagnostic::error(Code::NotUtf8, format!("the byte 0x{byte:02X} is not part of a UTF-8 text"))
        .at(&file, at..at + char::REPLACEMENT_CHARACTER.len_utf8())
        .help("save the file again with the encoding UTF-8")
}

fn byte_order_mark(file: &Arc<SourceFile>) -> Diagnostic {
    Diagnostic::note(Code::ByteOrderMark, "the file begins with a byte order mark, which is skipped")
        .at(file, 0..0)
        .help("other programs refuse it: save the file as UTF-8 without a byte order mark")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_said_in_words() {
        let size = |bytes| mebibytes(bytes);
        assert_eq!(size(900), "900 bytes");
        assert_eq!(size(16 * 1024 * 1024), "16 MiB");
        assert_eq!(size(50_000_000), "47.6 MiB");
    }

    #[test]
    fn the_first_bad_byte_has_its_place() {
        let bytes = b"{\n  \"a\": \"\xBD in\"\n}";
        let error = decode("x", bytes, &Limits::default()).unwrap_err();
        assert_eq!(error.one_line(), "x:2:9: error: the byte 0xBD is not part of a UTF-8 text");
    }

    #[test]
    fn a_byte_order_mark_does_not_count_as_a_column() {
        let text = decode("x", b"\xEF\xBB\xBF{}", &Limits::default()).unwrap();
        assert_eq!(text.file.text(), "{}");
        assert_eq!(text.notes.len(), 1);
        assert!(!text.notes[0].is_error());
    }
}
