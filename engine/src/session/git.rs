//! Files as they were at a revision of the git repository that holds them.

use anyhow::Context as _;
use redtag_revision::{Limits, Revision};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// The bytes of each file at the revision. A file that was not there then has none.
///
/// # Errors
/// When git is not there, a folder is in no repository, or the repository does not know the revision.
pub fn texts(revision: &str, files: &[PathBuf]) -> anyhow::Result<BTreeMap<PathBuf, Vec<u8>>> {
    let mut folders: BTreeMap<&Path, Vec<&PathBuf>> = BTreeMap::new();
    for file in files {
        let folder = file.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
        folders.entry(folder).or_default().push(file);
    }
    let mut texts = BTreeMap::new();
    // A folder that is not there has no files to be reviewed, and each of them is complained about where it is read.
    for (folder, files) in folders.into_iter().filter(|(folder, _)| folder.is_dir()) {
        let why = || format!("what {} was at {revision} cannot be told", folder.display());
        texts.extend(texts_of(folder, revision, &files).with_context(why)?);
    }
    Ok(texts)
}

/// The same for files of one folder.
fn texts_of(folder: &Path, revision: &str, files: &[&PathBuf]) -> anyhow::Result<Vec<(PathBuf, Vec<u8>)>> {
    let revision = Revision::open(folder, revision, Limits::default())?;
    let below = folder.canonicalize()?.strip_prefix(revision.root()).map(Path::to_owned).unwrap_or_default();
    let there: BTreeMap<PathBuf, _> = revision.files(&below)?.into_iter().map(|entry| (entry.path.clone(), entry)).collect();
    let found = |file: &PathBuf| Some((file.clone(), there.get(&revision.path_of(file)?)?.clone()));
    let (names, entries): (Vec<PathBuf>, Vec<_>) = files.iter().filter_map(|&file| found(file)).unzip();
    Ok(names.into_iter().zip(revision.read(&entries)?).collect())
}
