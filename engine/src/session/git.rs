//! What a repository held at a revision: project files, also under the names they had, and packs.

use crate::pack::{MANIFEST, Origin, Pack};
use crate::trust::Opened;
use anyhow::Context as _;
use redtag_revision::{Entry, Limits, Revision};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// How many files that are gone are looked at for one that was renamed, and how many bytes of them.
const MOST_GONE: usize = 2_000;
const MOST_GONE_BYTES: u64 = 64 << 20;

/// A project file as it was.
#[derive(Debug, Clone)]
pub struct Old {
    /// Where it lay then, in the work tree of now.
    pub path: PathBuf,
    /// What it held.
    pub bytes: Vec<u8>,
    /// Whether it lay elsewhere.
    pub renamed: bool,
}

/// Files and packs at a revision.
#[derive(Debug, Default)]
pub struct Held {
    /// The project files, by the names of now.
    pub files: BTreeMap<PathBuf, Old>,
    /// The revisions asked, one for each repository.
    revisions: Vec<Arc<Revision>>,
}

impl Held {
    /// What these files were at the revision. A file that was not there then, under this name or another, has no entry.
    ///
    /// # Errors
    /// When git is not there, a folder is in no repository, or the repository does not know the revision.
    pub fn open(revision: &str, files: &[PathBuf]) -> anyhow::Result<Self> {
        let mut folders: BTreeMap<&Path, Vec<&PathBuf>> = BTreeMap::new();
        for file in files {
            folders.entry(folder_of(file)).or_default().push(file);
        }
        let mut held = Self::default();
        // A folder that is not there has no files to be reviewed, and each of them is complained about where it is read.
        for (folder, files) in folders.into_iter().filter(|(folder, _)| folder.is_dir()) {
            let why = || format!("what {} was at {revision} cannot be told", folder.display());
            held.add(folder, revision, &files).with_context(why)?;
        }
        held.follow_renames(files)?;
        Ok(held)
    }

    fn add(&mut self, folder: &Path, revision: &str, files: &[&PathBuf]) -> anyhow::Result<()> {
        let root = folder.canonicalize()?;
        let known =
            self.revisions.iter().find(|known| root.starts_with(known.root()) && nearest_root(&root) == Some(known.root()));
        let revision = match known {
            Some(known) => Arc::clone(known),
            None => {
                let opened = Arc::new(Revision::open(folder, revision, Limits::default())?);
                self.revisions.push(Arc::clone(&opened));
                opened
            }
        };
        let below = root.strip_prefix(revision.root()).map(Path::to_owned).unwrap_or_default();
        let there: BTreeMap<PathBuf, Entry> = by_path(revision.files(&below)?);
        let found = |file: &PathBuf| Some((file.clone(), there.get(&revision.path_of(file)?)?.clone()));
        let (names, entries): (Vec<PathBuf>, Vec<_>) = files.iter().filter_map(|&file| found(file)).unzip();
        for (name, bytes) in names.into_iter().zip(revision.read(&entries)?) {
            self.files.insert(name.clone(), Old { path: name, bytes, renamed: false });
        }
        Ok(())
    }

    /// Finds, for files the revision does not know, the ones that are gone since and hold much the same.
    fn follow_renames(&mut self, files: &[PathBuf]) -> anyhow::Result<()> {
        let mut fresh: Vec<(&PathBuf, Vec<u8>)> = Vec::new();
        for file in files.iter().filter(|file| !self.files.contains_key(*file)) {
            if let Ok(bytes) = crate::document::read_limited(file, &crate::document::Limits::default()) {
                fresh.push((file, bytes));
            }
        }
        if fresh.is_empty() {
            return Ok(());
        }
        for revision in self.revisions.clone() {
            let gone = gone(&revision)?;
            let texts = revision.read(&gone)?;
            let mut pairs: Vec<(f64, usize, usize)> = Vec::new();
            for (new, (file, bytes)) in fresh.iter().enumerate().filter(|(_, (file, _))| revision.path_of(file).is_some()) {
                let alike = texts.iter().enumerate().map(|(old, text)| (likeness(text, bytes), new, old));
                pairs.extend(alike.filter(|(likeness, ..)| *likeness >= ALIKE));
                tracing::debug!(file = %file.display(), "not at the base under this name");
            }
            pairs.sort_by(|left, right| right.0.total_cmp(&left.0).then((left.1, left.2).cmp(&(right.1, right.2))));
            let (mut taken_new, mut taken_old) = (BTreeSet::new(), BTreeSet::new());
            for (_, new, old) in pairs {
                if taken_new.contains(&new) || !taken_old.insert(old) {
                    continue;
                }
                taken_new.insert(new);
                let path = revision.root().join(&gone[old].path);
                self.files.insert(fresh[new].0.clone(), Old { path, bytes: texts[old].clone(), renamed: true });
            }
        }
        Ok(())
    }

    /// The packs in the folder of packs at a place of the work tree, as it was; and those at a path itself. `None` where the
    /// place lies in none of the repositories: then it is not of another state.
    pub fn packs(&self, place: &Path) -> anyhow::Result<Option<Vec<Opened>>> {
        let place = place.canonicalize().or_else(|_| std::path::absolute(place)).unwrap_or_else(|_| place.to_owned());
        let Some(revision) = self.revisions.iter().find(|revision| place.starts_with(revision.root())) else { return Ok(None) };
        let below = place.strip_prefix(revision.root()).map(Path::to_owned).unwrap_or_default();
        let mut entries = revision.files(&below)?;
        if entries.is_empty() {
            // An archive named itself.
            let around = revision.files(below.parent().unwrap_or(Path::new("")))?;
            entries = around.into_iter().filter(|entry| entry.path == below).collect();
        }
        Ok(Some(self.open_packs(revision, &below, entries)?))
    }

    fn open_packs(&self, revision: &Revision, below: &Path, entries: Vec<Entry>) -> anyhow::Result<Vec<Opened>> {
        let manifests: BTreeSet<PathBuf> = entries
            .iter()
            .filter(|entry| entry.path.file_name().is_some_and(|name| name == MANIFEST))
            .filter_map(|entry| entry.path.parent().map(Path::to_owned))
            // The place itself, or a folder in it, as in the work tree.
            .filter(|folder| folder == below || folder.parent() == Some(below))
            .collect();
        let mut packs = Vec::new();
        for folder in manifests {
            let inside: Vec<Entry> = entries.iter().filter(|entry| entry.path.starts_with(&folder)).cloned().collect();
            let name = |entry: &Entry| entry.path.strip_prefix(&folder).ok()?.to_str().map(|name| name.replace('\\', "/"));
            let names: Vec<String> = inside.iter().filter_map(name).collect();
            let files: BTreeMap<String, Vec<u8>> = names.into_iter().zip(revision.read(&inside)?).collect();
            packs.push(Pack::from_files(files, origin(revision, &folder)));
        }
        let archives = entries.iter().filter(|entry| {
            let ends = entry.path.extension().is_some_and(|ending| super::shelf::ARCHIVES.iter().any(|known| ending == *known));
            ends && (entry.path == below || entry.path.parent() == Some(below))
        });
        for entry in archives {
            let bytes = revision.read(std::slice::from_ref(entry))?.pop().unwrap_or_default();
            packs.push(Pack::from_archive(&bytes, origin(revision, &entry.path)));
        }
        let told = |error: Vec<crate::diagnostic::Diagnostic>| {
            let first = error.first().map(crate::diagnostic::Diagnostic::one_line).unwrap_or_default();
            tracing::warn!("a pack of the base cannot be used, as it could not then: {first}");
        };
        Ok(packs.into_iter().filter_map(|pack| pack.map_err(told).ok()).map(|pack| Opened::unsealed(Arc::new(pack))).collect())
    }
}

fn origin(revision: &Revision, path: &Path) -> Origin {
    let short = revision.commit().get(..12).unwrap_or(revision.commit());
    Origin::Archive(PathBuf::from(format!("{} at {short}", path.display())))
}

fn folder_of(file: &Path) -> &Path {
    file.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// The top of the work tree a folder lies in, as [`Revision::open`] finds it.
fn nearest_root(folder: &Path) -> Option<&Path> {
    folder.ancestors().find(|folder| folder.join(".git").symlink_metadata().is_ok())
}

fn by_path(entries: Vec<Entry>) -> BTreeMap<PathBuf, Entry> {
    entries.into_iter().map(|entry| (entry.path.clone(), entry)).collect()
}

/// JSON files of the revision that are there no more, as far as there are not too many.
fn gone(revision: &Revision) -> anyhow::Result<Vec<Entry>> {
    let is_json = |entry: &Entry| entry.path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("json"));
    let absent = |entry: &Entry| revision.root().join(&entry.path).symlink_metadata().is_err();
    let (mut found, mut bytes) = (Vec::new(), 0_u64);
    for entry in revision.files(Path::new(""))?.into_iter().filter(is_json).filter(absent) {
        bytes = bytes.saturating_add(entry.size);
        if found.len() == MOST_GONE || bytes > MOST_GONE_BYTES {
            tracing::warn!("more files are gone since the base than are looked at for renamed ones");
            break;
        }
        found.push(entry);
    }
    Ok(found)
}

/// The part of two texts that is in lines of both, from which on one is taken for the other renamed: that of git.
const ALIKE: f64 = 0.5;

/// How much of the larger of two texts stands in lines of both.
fn likeness(old: &[u8], new: &[u8]) -> f64 {
    let lines = |text: &[u8]| -> BTreeMap<Vec<u8>, usize> {
        let mut lines = BTreeMap::new();
        for line in text.split(|&byte| byte == b'\n').map(<[u8]>::trim_ascii) {
            *lines.entry(line.to_vec()).or_insert(0) += 1;
        }
        lines
    };
    let (old, new) = (lines(old), lines(new));
    let size = |lines: &BTreeMap<Vec<u8>, usize>| lines.iter().map(|(line, times)| line.len() * times).sum::<usize>();
    let both: usize = old.iter().map(|(line, times)| line.len() * times.min(new.get(line).unwrap_or(&0))).sum();
    both as f64 / size(&old).max(size(&new)).max(1) as f64
}

#[cfg(test)]
mod tests {
    use super::likeness;

    #[test]
    fn texts_are_alike_by_their_lines() {
        assert!((likeness(b"aa\n  bb\ncc", b"cc\naa\nbb") - 1.0).abs() < 1e-9);
        assert!((likeness(b"aaaa\nbb", b"aaaa\ncccc") - 0.5).abs() < 1e-9);
        assert!(likeness(b"a", b"b") < 0.01 && likeness(b"", b"") < 0.01);
    }
}
