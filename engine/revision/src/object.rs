//! What git answers, taken apart.

use std::path::PathBuf;

/// One plain file of a commit.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Entry {
    /// Its path from the top of the work tree.
    pub path: PathBuf,
    /// The name of the object that holds its content.
    pub object: String,
    /// Bytes of its content.
    pub size: u64,
}

/// `MODE blob NAME SIZE<tab>PATH` of a plain file; of a link, a folder or another repository nothing.
pub(crate) fn entry(record: &[u8]) -> Option<Entry> {
    let tab = record.iter().position(|&byte| byte == b'\t')?;
    let mut head = std::str::from_utf8(record.get(..tab)?).ok()?.split_ascii_whitespace();
    let (mode, kind, object, size) = (head.next()?, head.next()?, head.next()?, head.next()?);
    (mode.starts_with("100") && kind == "blob").then_some(())?;
    // Of a file that is not in this clone no size is told: it is listed all the same, and missed when it is read.
    Some(Entry { path: path(record.get(tab + 1..)?)?, object: object.to_owned(), size: size.parse().unwrap_or(0) })
}

#[cfg(unix)]
fn path(bytes: &[u8]) -> Option<PathBuf> {
    use std::os::unix::ffi::OsStrExt as _;
    Some(PathBuf::from(std::ffi::OsStr::from_bytes(bytes)))
}

#[cfg(not(unix))]
fn path(bytes: &[u8]) -> Option<PathBuf> {
    std::str::from_utf8(bytes).ok().map(PathBuf::from)
}

/// `NAME blob SIZE<line end>`, then so many bytes and a line end: the content of the object of this name.
pub(crate) fn content(rest: &mut &[u8], object: &str) -> Option<Vec<u8>> {
    let end = rest.iter().position(|&byte| byte == b'\n')?;
    let head = std::str::from_utf8(rest.get(..end)?).ok()?;
    let size: usize = head.strip_prefix(object)?.strip_prefix(" blob ")?.parse().ok()?;
    let after = end.checked_add(1)?.checked_add(size)?;
    let content = rest.get(end + 1..after)?.to_owned();
    *rest = rest.get(after.checked_add(1)?..)?;
    Some(content)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_files_are_read_and_nothing_else() {
        let wanted = Entry { path: PathBuf::from("a b.json"), object: "abc".to_owned(), size: 12 };
        assert_eq!(entry(b"100644 blob abc      12\ta b.json"), Some(wanted));
        assert_eq!(entry(b"100644 blob abc     BAD\ta.json").map(|entry| entry.size), Some(0));
        assert_eq!(entry(b"120000 blob abc      12\tlink"), None);
        assert_eq!(entry(b"160000 commit abc       -\tother"), None);
        assert_eq!(entry(b"040000 tree abc       -\tpacks"), None);
        assert_eq!(entry(b"100644 blob abc"), None);
        assert_eq!(entry(b""), None);
    }

    #[test]
    fn contents_are_read_by_their_length() {
        let mut rest: &[u8] = b"abc blob 3\na\nb\ndef blob 0\n\n";
        assert_eq!(content(&mut rest, "abc"), Some(b"a\nb".to_vec()));
        assert_eq!(content(&mut rest, "def"), Some(Vec::new()));
        assert_eq!(content(&mut rest, "abc"), None);
        assert_eq!(content(&mut &b"abc missing\n"[..], "abc"), None);
        assert_eq!(content(&mut &b"abc blob 99999999999999999999\n"[..], "abc"), None);
        assert_eq!(content(&mut &b"abc blob 18446744073709551615\nx\n"[..], "abc"), None);
    }
}
