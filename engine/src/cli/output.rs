//! Where a command's data goes: standard output, or a file that is either the old one or the whole new one.

use super::ending::Stop;
use anyhow::Context;
use std::io::{ErrorKind, Write};
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
    use super::replace;

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
