//! The files a command line names, patterns included.

use anyhow::Context as _;
use std::path::{Path, PathBuf};

/// The named files in their order, each once. A name that exists is a file even if it looks like a pattern; a pattern gives its
/// matches sorted.
pub fn named(names: &[PathBuf]) -> anyhow::Result<Vec<PathBuf>> {
    let mut files = Vec::new();
    for name in names {
        for file in one(name)? {
            if !files.contains(&file) {
                files.push(file);
            }
        }
    }
    Ok(files)
}

fn one(name: &Path) -> anyhow::Result<Vec<PathBuf>> {
    let pattern = name.to_string_lossy();
    if name.exists() || !pattern.contains(['*', '?', '[']) {
        return Ok(vec![name.to_owned()]);
    }
    let matches = glob::glob(&pattern).with_context(|| format!("{pattern} is no pattern of file names"))?;
    let mut files = Vec::new();
    for file in matches {
        let file = file.with_context(|| format!("not every folder {pattern} leads to can be read"))?;
        if file.is_file() {
            files.push(file);
        }
    }
    anyhow::ensure!(!files.is_empty(), "no file matches {pattern}");
    Ok(files)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn patterns_are_sorted_and_nothing_comes_twice() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        for name in ["b.json", "a.json", "[x].json", "note.txt"] {
            std::fs::write(at(name), "").unwrap();
        }
        assert_eq!(named(&[at("?.json"), at("a.json")]).unwrap(), [at("a.json"), at("b.json")]);
        assert_eq!(named(&[at("[x].json")]).unwrap(), [at("[x].json")]);
        assert!(named(&[at("*.nothing")]).unwrap_err().to_string().starts_with("no file matches"));
        assert_eq!(named(&[at("absent.json")]).unwrap(), [at("absent.json")]);
    }
}
