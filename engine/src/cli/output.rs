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
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Err(Stop::NobodyReads),
        Err(error) => Err(anyhow::Error::new(error).context("standard output takes no more").into()),
        Ok(()) => Ok(()),
    }
}

/// Puts the bytes in the place of a file, or leaves everything as it was. What is no regular file, such as a pipe or
/// `/dev/null`, is written to as it is.
pub fn replace(path: &Path, bytes: &[u8]) -> anyhow::Result<()> {
    let wrong = || format!("{} cannot be written", path.display());
    if path.metadata().is_ok_and(|there| !there.is_file() && !there.is_dir()) {
        return std::fs::write(path, bytes).with_context(wrong);
    }
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut draft = tempfile::Builder::new();
    draft.prefix(".redtag-");
    // As readable as any other new file; the user's mask still applies.
    #[cfg(unix)]
    draft.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    let mut draft = draft.tempfile_in(folder).with_context(wrong)?;
    draft.write_all(bytes).with_context(wrong)?;
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
