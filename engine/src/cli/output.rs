//! Where a command's data goes: standard output, or a file that is either the old one or the whole new one.

use super::ending::Stop;
use anyhow::Context;
use std::io::{ErrorKind, Read as _, Write};
use std::path::Path;

/// Writes to the file, or to standard output where none is named.
pub fn write(text: &str, file: Option<&Path>) -> Result<(), Stop> {
    match file {
        Some(path) => replace(path, text.as_bytes()).map_err(Stop::from),
        None => print(text),
    }
}

/// Writes to standard output.
pub fn print(text: &str) -> Result<(), Stop> {
    let mut out = std::io::stdout().lock();
    out.write_all(text.as_bytes()).and_then(|()| out.flush()).map_err(stopped)
}

/// Writes piece by piece: to standard output as the pieces come, or to the file, whole or not at all.
pub fn streamed(file: Option<&Path>, write: &mut dyn FnMut(&mut dyn Write) -> std::io::Result<()>) -> Result<(), Stop> {
    let Some(path) = file else {
        return write(&mut std::io::BufWriter::new(std::io::stdout().lock())).map_err(stopped);
    };
    put(path, write).map_err(Stop::from)
}

/// Why standard output takes no more.
pub fn stopped(error: std::io::Error) -> Stop {
    match error.kind() {
        ErrorKind::BrokenPipe => Stop::NobodyReads,
        _ => anyhow::Error::new(error).context("standard output takes no more").into(),
    }
}

/// Puts the bytes in the place of an earlier file of the same kind, or of none: a file that is something else is somebody's.
pub fn replace_own(path: &Path, bytes: &[u8], kind: &str, is_own: impl Fn(&[u8]) -> bool) -> anyhow::Result<()> {
    const HEAD: u64 = 4096;
    let there = path.symlink_metadata().ok();
    anyhow::ensure!(
        there.as_ref().is_none_or(|there| !there.is_symlink()),
        "{} is a link, which is not followed: name the file itself, or take the link away",
        shown(path)
    );
    if there.is_some_and(|there| there.is_file()) {
        let mut head = Vec::new();
        std::fs::File::open(path).and_then(|file| file.take(HEAD).read_to_end(&mut head)).with_context(|| shown(path))?;
        anyhow::ensure!(
            head.is_empty() || is_own(&head),
            "{} is there and is no {kind}: it is not replaced. Name another file, or take that one away",
            shown(path)
        );
    }
    replace(path, bytes)
}

/// A path as it may be printed: on one line, without anything a terminal would obey.
pub fn shown(path: &Path) -> String {
    redtag_report::clean(&path.display().to_string()).into_owned()
}

/// Puts the bytes in the place of a file, or leaves everything as it was. What is no regular file, such as a pipe or
/// `/dev/null`, is written to as it is.
pub fn replace(path: &Path, bytes: &[u8]) -> anyhow::Result<()> {
    put(path, &mut |out| out.write_all(bytes))
}

/// The same with whatever is written.
fn put(path: &Path, write: &mut dyn FnMut(&mut dyn Write) -> std::io::Result<()>) -> anyhow::Result<()> {
    let wrong = || format!("{} cannot be written", path.display());
    if path.metadata().is_ok_and(|there| !there.is_file() && !there.is_dir()) {
        let mut there = std::fs::OpenOptions::new().write(true).open(path).with_context(wrong)?;
        return write(&mut there).with_context(wrong);
    }
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut draft = tempfile::Builder::new();
    draft.prefix(".redtag-");
    // As readable as any other new file; the user's mask still applies.
    #[cfg(unix)]
    draft.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    let mut draft = std::io::BufWriter::new(draft.tempfile_in(folder).with_context(wrong)?);
    write(&mut draft).and_then(|()| draft.flush()).with_context(wrong)?;
    let draft = draft.into_inner().map_err(std::io::IntoInnerError::into_error).with_context(wrong)?;
    draft.as_file().sync_all().with_context(wrong)?;
    draft.persist(path).map_err(|error| error.error).with_context(wrong)?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::{replace, replace_own};

    #[test]
    fn what_is_somebodys_is_not_replaced_and_no_link_is_followed() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.zip");
        let own = |head: &[u8]| head.starts_with(b"PK");
        replace_own(&path, b"PK1", "archive", own).unwrap();
        replace_own(&path, b"PK2", "archive", own).unwrap();
        std::fs::write(&path, "plans").unwrap();
        let words = replace_own(&path, b"PK3", "archive", own).unwrap_err().to_string();
        assert!(words.contains("is no archive"), "{words}");
        assert_eq!(std::fs::read(&path).unwrap(), b"plans");
        #[cfg(unix)]
        {
            let link = folder.path().join("link.zip");
            std::os::unix::fs::symlink(&path, &link).unwrap();
            assert!(replace_own(&link, b"PK4", "archive", own).is_err());
            // A file that is replaced anyway takes the place of the link, not of what it leads to.
            replace(&link, b"new").unwrap();
            assert_eq!(std::fs::read(&path).unwrap(), b"plans");
            assert!(!link.symlink_metadata().unwrap().is_symlink());
        }
    }

    #[test]
    fn a_file_is_replaced_whole_and_no_draft_is_left() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("report.txt");
        replace(&path, b"first").unwrap();
        replace(&path, b"second").unwrap();
        assert_eq!(std::fs::read(&path).unwrap(), b"second");
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
        assert!(replace(&folder.path().join("nowhere/report.txt"), b"x").is_err());
        assert!(replace(folder.path(), b"x").is_err(), "a folder is not replaced");
    }
}
