//! Names and folders: what a pack may call its files, and writing that leaves nothing half done.

use crate::error::BuildError;
use std::fs;
use std::path::{Path, PathBuf};

/// Checks a name inside a pack: relative, forward slashes, below the pack's folder, and fit for every file system.
///
/// # Errors
/// What is wrong with it, to follow "the name".
pub(crate) fn check_name(name: &str) -> Result<(), &'static str> {
    if name.is_empty() {
        return Err("is empty");
    }
    if name.len() > 240 {
        return Err("is longer than 240 bytes");
    }
    if name.starts_with('/') {
        return Err("is absolute");
    }
    if name.contains('\\') {
        return Err("has a backslash; write folders with /");
    }
    if name.chars().any(|character| character.is_control() || "<>:\"|?*".contains(character)) {
        return Err("has a character that some systems do not take in file names");
    }
    for part in name.split('/') {
        match part {
            "" => return Err("has an empty part"),
            "." | ".." => return Err("leaves its folder (. or ..)"),
            _ if part.ends_with(['.', ' ']) => return Err("has a part that ends in a dot or space"),
            _ => {}
        }
    }
    Ok(())
}

/// Every regular file under a folder with its name from there, sorted by name. Hidden files are left out; a link is an error,
/// because what it points to may differ on the next machine.
pub(crate) fn walk(folder: &Path) -> Result<Vec<(String, PathBuf)>, BuildError> {
    let mut found = Vec::new();
    descend(folder, "", &mut found)?;
    found.sort();
    Ok(found)
}

fn descend(folder: &Path, prefix: &str, found: &mut Vec<(String, PathBuf)>) -> Result<(), BuildError> {
    for entry in fs::read_dir(folder).map_err(BuildError::at(folder))? {
        let entry = entry.map_err(BuildError::at(folder))?;
        let path = entry.path();
        let bad = |reason: &str| BuildError::at(&path)(std::io::Error::other(reason.to_owned()));
        let name = entry.file_name().into_string().map_err(|_| bad("the file's name is not UTF-8"))?;
        if name.starts_with('.') {
            continue;
        }
        let kind = entry.file_type().map_err(BuildError::at(&path))?;
        let name = format!("{prefix}{name}");
        if kind.is_dir() {
            descend(&path, &format!("{name}/"), found)?;
        } else if kind.is_file() {
            found.push((name, path));
        } else {
            return Err(bad("a pack holds plain files and folders only, no links"));
        }
    }
    Ok(())
}

/// Refuses a name that leads out of a folder through a link on the way or at its end.
pub(crate) fn no_link(folder: &Path, name: &str) -> Result<(), BuildError> {
    let mut path = folder.to_owned();
    for part in name.split('/') {
        path.push(part);
        if path.symlink_metadata().is_ok_and(|about| about.is_symlink()) {
            let reason = "a pack takes in no links: put the file itself there".to_owned();
            return Err(BuildError::at(&path)(std::io::Error::other(reason)));
        }
    }
    Ok(())
}

/// Copies one file, with the folders it needs.
pub(crate) fn copy(from: &Path, to: &Path) -> Result<(), BuildError> {
    let bytes = fs::read(from).map_err(BuildError::at(from))?;
    write(to, &bytes)
}

/// Writes one file, with the folders it needs.
pub(crate) fn write(to: &Path, bytes: &[u8]) -> Result<(), BuildError> {
    if let Some(folder) = to.parent() {
        fs::create_dir_all(folder).map_err(BuildError::at(folder))?;
    }
    fs::write(to, bytes).map_err(BuildError::at(to))
}

/// Puts a finished folder in the place of `to`. An older one is moved aside first and removed last, so a stop half-way leaves
/// one whole folder or the other under its name or beside it.
pub(crate) fn replace(finished: tempfile::TempDir, to: &Path) -> Result<(), BuildError> {
    let beside = to.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let aside = tempfile::Builder::new().prefix(".replaced-").tempdir_in(beside).map_err(BuildError::at(beside))?;
    if to.exists() {
        fs::rename(to, aside.path().join("old")).map_err(BuildError::at(to))?;
    }
    let moved = fs::rename(finished.path(), to).map_err(BuildError::at(to));
    if moved.is_err() {
        let _ = fs::rename(aside.path().join("old"), to);
        return moved;
    }
    // The folder lives on under its new name.
    let _ = finished.keep();
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_stay_inside_the_pack_on_every_system() {
        for good in ["pack.json", "modules/combustion-air.wasm", "cases/a b.md", "cases/caf\u{e9}.md"] {
            assert_eq!(check_name(good), Ok(()), "{good}");
        }
        for bad in
            ["", "/etc/passwd", "../x", "a/../b", "a//b", "a/", "./a", "a\\b", "C:/x", "a\0b", "a\nb", "x./y", "x /y", "nul?"]
        {
            assert!(check_name(bad).is_err(), "{bad:?}");
        }
        assert!(check_name(&"x".repeat(241)).is_err());
    }

    #[test]
    fn a_finished_folder_replaces_an_older_one_whole() {
        let home = tempfile::tempdir().expect("a temporary folder");
        let to = home.path().join("pack");
        for text in ["one", "two"] {
            let finished = tempfile::tempdir_in(home.path()).expect("a temporary folder");
            write(&finished.path().join("deep/file"), text.as_bytes()).expect("written");
            replace(finished, &to).expect("replaced");
            assert_eq!(fs::read_to_string(to.join("deep/file")).expect("read"), text);
        }
        let left: Vec<_> = fs::read_dir(home.path()).expect("read").flatten().map(|entry| entry.file_name()).collect();
        assert_eq!(left, ["pack"], "nothing else is left beside it");
    }
}
