//! Folders and files of this user alone, and no links.

use std::fs::{self, File};
use std::io;
use std::path::Path;
#[cfg(unix)]
use tempfile::NamedTempFile;

/// Makes a folder only this user may enter, or sees to it that one is.
#[cfg(unix)]
pub(super) fn make_private(folder: &Path) -> io::Result<()> {
    use std::os::unix::fs::{DirBuilderExt, MetadataExt, PermissionsExt};
    refuse_link(folder)?;
    fs::DirBuilder::new().recursive(true).mode(0o700).create(folder)?;
    refuse_link(folder)?;
    // Whoever owns a file made now is this user.
    let made_now = match NamedTempFile::new_in(folder) {
        // The image of a container: what is in there is read, and believed for its keyed hash, and nothing is added.
        Err(error) if error.kind() == io::ErrorKind::ReadOnlyFilesystem => return Ok(()),
        made => made?,
    };
    let this_user = made_now.as_file().metadata()?.uid();
    let about = fs::metadata(folder)?;
    if about.uid() != this_user {
        return Err(io::Error::new(io::ErrorKind::PermissionDenied, "the folder belongs to another user"));
    }
    if about.mode() & 0o777 == 0o700 { Ok(()) } else { fs::set_permissions(folder, fs::Permissions::from_mode(0o700)) }
}

/// Makes a folder.
#[cfg(not(unix))]
pub(super) fn make_private(folder: &Path) -> io::Result<()> {
    refuse_link(folder)?;
    // The per-user folders of other systems are private already.
    fs::create_dir_all(folder)
}

fn refuse_link(folder: &Path) -> io::Result<()> {
    match folder.symlink_metadata() {
        Ok(about) if about.is_symlink() => Err(io::Error::other("the folder is a link; name the folder itself")),
        _ => Ok(()),
    }
}

/// Opens a regular file that is no link, by whatever name it is reached; `None` where there is none.
pub(super) fn open_regular(path: &Path) -> Option<File> {
    let named = path.symlink_metadata().ok().filter(fs::Metadata::is_file)?;
    let file = File::open(path).ok()?;
    let opened = file.metadata().ok()?;
    same_file(&named, &opened).then_some(file)
}

/// Whether what was looked at is what was opened: it may have been changed for a link in between.
#[cfg(unix)]
fn same_file(named: &fs::Metadata, opened: &fs::Metadata) -> bool {
    use std::os::unix::fs::MetadataExt;
    (named.dev(), named.ino()) == (opened.dev(), opened.ino())
}

#[cfg(not(unix))]
fn same_file(_named: &fs::Metadata, opened: &fs::Metadata) -> bool {
    opened.is_file()
}

/// Sees to it that a file belongs to the owner of its folder and that nobody else may read it.
#[cfg(unix)]
pub(super) fn owned_alone(file: &File, path: &Path) -> io::Result<()> {
    use std::os::unix::fs::MetadataExt;
    let about = file.metadata()?;
    let owner = path.parent().map(fs::metadata).transpose()?.map_or(about.uid(), |folder| folder.uid());
    if about.uid() == owner && about.mode() & 0o077 == 0 {
        return Ok(());
    }
    Err(io::Error::new(io::ErrorKind::PermissionDenied, format!("{} is not this user's alone; remove it", path.display())))
}

#[cfg(not(unix))]
pub(super) fn owned_alone(_file: &File, _path: &Path) -> io::Result<()> {
    Ok(())
}
