//! From a pack's source folder to a pack: modules built and digested, cases gathered, the manifest written last.

use crate::caps::Caps;
use crate::compile::build_components;
use crate::error::BuildError;
use crate::files::{copy, no_link, replace, walk, write};
use crate::inspect::{Inspection, inspect, validate};
use crate::manifest::{Entry, Manifest, Origin};
use crate::options::Options;
use crate::own;
use serde_json::{Map, Value, json};
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// A pack as it was built.
#[derive(Debug, Clone)]
pub struct BuiltPack {
    /// Its folder.
    pub folder: PathBuf,
    /// Its manifest, as written.
    pub manifest: Value,
    /// Its modules, in the manifest's order: the name of each and what was seen in it.
    pub modules: Vec<(String, Inspection)>,
}

/// Builds the pack whose `pack.json` lies in `source` into the folder `out`, replacing an earlier build there.
///
/// A module given by `source` is compiled; one given by `file` is taken over after the same checks. Case files are those the
/// manifest lists and every Markdown file beside a compiled module's rules.
///
/// # Errors
/// When the manifest does not hold together, a module is not built or not accepted, or a file cannot be read or written.
/// Nothing is left half-written.
pub fn build_pack(source: &Path, out: &Path, caps: &Caps, options: &Options) -> Result<BuiltPack, BuildError> {
    let manifest = Manifest::read(source)?;
    let entries = manifest.modules()?;
    may_replace(&manifest, out)?;
    let components = components(&manifest, &entries, options)?;
    let beside = out.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."));
    fs::create_dir_all(beside).map_err(BuildError::at(beside))?;
    let folder = tempfile::Builder::new().prefix(".building-").tempdir_in(beside).map_err(BuildError::at(beside))?;
    let modules = write_modules(folder.path(), &entries, &components, caps)?;
    let cases = gather_cases(&manifest, &entries, folder.path())?;
    let manifest = Value::Object(finished(&manifest, &modules, &cases));
    write(&folder.path().join("pack.json"), format!("{manifest:#}\n").as_bytes())?;
    own::mark(folder.path())?;
    readable(folder.path())?;
    replace(folder, out)?;
    Ok(BuiltPack { folder: out.to_owned(), manifest, modules })
}

/// A folder that is not an earlier build is never replaced.
fn may_replace(manifest: &Manifest, out: &Path) -> Result<(), BuildError> {
    let refuse = |reason: &str| Err(BuildError::at(out)(std::io::Error::other(reason.to_owned())));
    let Ok(place) = out.canonicalize() else { return Ok(()) };
    if manifest.folder().canonicalize().is_ok_and(|source| source.starts_with(&place)) {
        return refuse("the pack would be built over its own source; name another folder");
    }
    if !out.symlink_metadata().is_ok_and(|about| about.is_dir()) {
        return refuse("this is no folder of its own but a file or a link; name an empty or new folder");
    }
    let mut files = fs::read_dir(out).map_err(BuildError::at(out))?;
    if files.next().is_none() { Ok(()) } else { own::is_untouched(out).map_err(BuildError::at(out)) }
}

/// The bytes of each module, compiled together or read.
fn components(manifest: &Manifest, entries: &[Entry], options: &Options) -> Result<Vec<Vec<u8>>, BuildError> {
    let sources: Vec<PathBuf> = entries.iter().filter_map(|entry| entry.source().map(Path::to_owned)).collect();
    let mut built = build_components(&sources, options)?.into_iter();
    let mut components = Vec::new();
    for (index, entry) in entries.iter().enumerate() {
        match &entry.origin {
            Origin::Source(_) => components.extend(built.next()),
            Origin::File { name, sha256 } => {
                no_link(manifest.folder(), name)?;
                let path = &manifest.folder().join(name);
                let bytes = fs::read(path).map_err(BuildError::at(path))?;
                let digest = crate::digest(&bytes);
                if sha256.as_ref().is_some_and(|expected| !expected.eq_ignore_ascii_case(&digest)) {
                    let reason = format!("{} has SHA-256 {digest}: another file than the manifest means", path.display());
                    return Err(manifest.error(&format!("/modules/{index}/sha256"), &reason));
                }
                components.push(bytes);
            }
        }
    }
    Ok(components)
}

fn write_modules(
    folder: &Path,
    entries: &[Entry],
    components: &[Vec<u8>],
    caps: &Caps,
) -> Result<Vec<(String, Inspection)>, BuildError> {
    let mut modules = Vec::new();
    for (entry, bytes) in entries.iter().zip(components) {
        let refused = |refusal| BuildError::Refused { module: entry.name.clone(), refusal };
        let inspection = inspect(bytes, caps).map_err(refused)?;
        validate(bytes).map_err(refused)?;
        write(&folder.join(file_of(&entry.name)), bytes)?;
        modules.push((entry.name.clone(), inspection));
    }
    Ok(modules)
}

fn file_of(module: &str) -> String {
    format!("modules/{module}.wasm")
}

/// Copies the case files; answers the list for the manifest.
fn gather_cases(manifest: &Manifest, entries: &[Entry], folder: &Path) -> Result<BTreeSet<String>, BuildError> {
    let mut listed: BTreeSet<String> = manifest.cases()?.into_iter().collect();
    for name in &listed {
        let from = manifest.folder().join(name);
        no_link(manifest.folder(), name)?;
        if !from.is_dir() {
            copy(&from, &folder.join(name))?;
            continue;
        }
        for (file, path) in walk(&from)? {
            copy(&path, &folder.join(name).join(file))?;
        }
    }
    for entry in entries {
        let Some(rules) = entry.source().map(|source| source.join("src/rules")).filter(|rules| rules.is_dir()) else { continue };
        let into = format!("cases/{}", entry.name);
        let markdown: Vec<_> = walk(&rules)?.into_iter().filter(|(name, _)| name.ends_with(".md")).collect();
        for (name, path) in &markdown {
            copy(path, &folder.join(&into).join(name))?;
        }
        if !markdown.is_empty() && !listed.contains("cases") {
            listed.insert(into);
        }
    }
    Ok(listed)
}

/// The manifest of the finished pack: files and digests in place of sources.
fn finished(source: &Manifest, modules: &[(String, Inspection)], cases: &BTreeSet<String>) -> Map<String, Value> {
    let mut manifest = source.value.clone();
    if let Some(Value::Array(entries)) = manifest.get_mut("modules") {
        for (entry, (name, inspection)) in entries.iter_mut().zip(modules) {
            let Some(entry) = entry.as_object_mut() else { continue };
            entry.shift_remove("source");
            entry.insert("file".to_owned(), json!(file_of(name)));
            entry.insert("sha256".to_owned(), json!(inspection.digest));
        }
    }
    if !cases.is_empty() {
        manifest.insert("cases".to_owned(), json!(cases));
    }
    manifest
}

/// A temporary folder is private; a pack is for others to read.
fn readable(folder: &Path) -> Result<(), BuildError> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        fs::set_permissions(folder, fs::Permissions::from_mode(0o755)).map_err(BuildError::at(folder))?;
    }
    Ok(())
}

impl Entry {
    fn source(&self) -> Option<&Path> {
        match &self.origin {
            Origin::Source(folder) => Some(folder),
            Origin::File { .. } => None,
        }
    }
}
