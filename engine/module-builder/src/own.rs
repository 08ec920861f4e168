//! What says that a folder is an earlier build of this program, unchanged since, so that a build never replaces anything else.

use crate::digest::digest;
use crate::error::BuildError;
use std::fs;
use std::io::{Error, Result};
use std::path::Path;

/// The mark of a built pack. Hidden files are no part of a pack, so it changes neither its digest nor its archive.
const MARK: &str = ".redtag-built";

/// Marks a finished folder as built by this program.
///
/// # Errors
/// When a file cannot be read or the mark cannot be written.
pub(crate) fn mark(folder: &Path) -> std::result::Result<(), BuildError> {
    let text = content(folder).map_err(BuildError::at(folder))?;
    let path = folder.join(MARK);
    fs::write(&path, text + "\n").map_err(BuildError::at(&path))
}

/// Whether a folder is one this program built, with nothing added, taken away or changed since.
///
/// # Errors
/// Why it is not, for the person whose files it holds.
pub(crate) fn is_untouched(folder: &Path) -> Result<()> {
    let refuse = |reason: &str| Err(Error::other(format!("{reason}; name an empty or new folder, or remove this one yourself")));
    if folder.symlink_metadata()?.is_symlink() {
        return refuse("this is a link, and a build replaces no links");
    }
    let Ok(marked) = fs::read_to_string(folder.join(MARK)) else {
        return refuse("the folder holds files that redtag did not build");
    };
    if marked.trim_end() == content(folder)? { Ok(()) } else { refuse("the folder has been changed since redtag built it") }
}

/// SHA-256 over the names and contents of everything in a folder but the mark: hidden files and links too.
fn content(folder: &Path) -> Result<String> {
    let mut lines = Vec::new();
    descend(folder, "", &mut lines)?;
    lines.sort();
    Ok(digest(lines.concat().as_bytes()))
}

fn descend(folder: &Path, prefix: &str, lines: &mut Vec<String>) -> Result<()> {
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let (path, kind) = (entry.path(), entry.file_type()?);
        let name = format!("{prefix}{}", entry.file_name().to_string_lossy().escape_debug());
        if kind.is_dir() {
            descend(&path, &format!("{name}/"), lines)?;
            lines.push(format!("folder  {name}\n"));
        } else if kind.is_file() && (prefix.is_empty() && name == MARK) {
            continue;
        } else if kind.is_file() {
            lines.push(format!("{}  {name}\n", digest(&fs::read(&path)?)));
        } else {
            lines.push(format!("other  {name}\n"));
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What somebody does to a folder.
    type Change = fn(&Path);

    #[test]
    fn whatever_is_done_to_a_build_shows() {
        let home = tempfile::tempdir().expect("a folder");
        let folder = home.path().join("pack");
        fs::create_dir_all(folder.join("modules")).expect("made");
        fs::write(folder.join("pack.json"), "{}").expect("written");
        assert!(is_untouched(&folder).is_err(), "nobody marked it");
        mark(&folder).expect("marked");
        is_untouched(&folder).expect("nothing was done to it");
        let changes: [(&str, Change); 4] = [
            ("a hidden file", |folder| fs::write(folder.join(".note"), "mine").expect("written")),
            ("a repository", |folder| fs::create_dir(folder.join(".git")).expect("made")),
            ("a file", |folder| fs::write(folder.join("modules/own.rs"), "mine").expect("written")),
            ("a change", |folder| fs::write(folder.join("pack.json"), "{\"name\": 1}").expect("written")),
        ];
        for (what, change) in changes {
            let _ = fs::remove_dir_all(folder.join(".git"));
            let _ = fs::remove_file(folder.join(".note"));
            let _ = fs::remove_file(folder.join("modules/own.rs"));
            is_untouched(&folder).expect("as it was");
            change(&folder);
            assert!(is_untouched(&folder).is_err(), "{what}");
        }
    }

    #[cfg(unix)]
    #[test]
    fn a_link_is_replaced_by_nobody() {
        let home = tempfile::tempdir().expect("a folder");
        let (real, link) = (home.path().join("real"), home.path().join("link"));
        fs::create_dir(&real).expect("made");
        mark(&real).expect("marked");
        std::os::unix::fs::symlink(&real, &link).expect("linked");
        assert!(is_untouched(&link).is_err());
    }
}
