//! Files as they were at a revision of the git repository that holds them. Git itself is asked; nothing is fetched.

use anyhow::{Context as _, anyhow, bail};
use std::collections::BTreeMap;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

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
        let git = Git { folder, revision };
        let commit = git.commit()?;
        let blobs = git.blobs(&commit)?;
        let name = |file: &PathBuf| file.file_name().map(|name| name.as_encoded_bytes().to_owned());
        let there: Vec<(&PathBuf, &String)> =
            files.into_iter().filter_map(|file| Some((file, blobs.get(&name(file)?)?))).collect();
        let contents = git.contents(there.iter().map(|(_, blob)| blob.as_str()))?;
        texts.extend(there.into_iter().map(|(file, _)| file.clone()).zip(contents));
    }
    Ok(texts)
}

/// Git, asked about one folder.
struct Git<'a> {
    folder: &'a Path,
    revision: &'a str,
}

impl Git<'_> {
    /// The folder decides which repository is asked, not the environment of a hook this may run in.
    fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new("git");
        command.arg("-C").arg(self.folder).args(arguments);
        for name in ["GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE", "GIT_PREFIX"] {
            command.env_remove(name);
        }
        command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
        command
    }

    fn why(&self) -> String {
        format!("what {} was at {} cannot be told", self.folder.display(), self.revision)
    }

    /// The name of the commit, which is safe to hand on: a revision may look like an option.
    fn commit(&self) -> anyhow::Result<String> {
        let wanted = format!("{}^{{commit}}", self.revision);
        let output = self.command(&["rev-parse", "--verify", "--quiet", "--end-of-options", &wanted]).output();
        let output = output.map_err(|error| absent(&error)).with_context(|| self.why())?;
        if !output.status.success() {
            let said = words(&output);
            let unknown = "the repository knows no such revision, and there is no file of this name; a shallow clone lacks older \
                           revisions, which `git fetch --unshallow` brings";
            bail!("{}: {}", self.why(), if said.is_empty() { unknown } else { &said });
        }
        Ok(String::from_utf8_lossy(&output.stdout).trim().to_owned())
    }

    /// The files of the folder at the commit, by name.
    fn blobs(&self, commit: &str) -> anyhow::Result<BTreeMap<Vec<u8>, String>> {
        let output = self.command(&["ls-tree", "-z", commit]).output().map_err(|error| absent(&error))?;
        if !output.status.success() {
            bail!("{}: {}", self.why(), words(&output));
        }
        Ok(output.stdout.split(|&byte| byte == 0).filter_map(entry).collect())
    }

    /// What the blobs hold, in their order.
    fn contents<'b>(&self, blobs: impl Iterator<Item = &'b str>) -> anyhow::Result<Vec<Vec<u8>>> {
        let names: Vec<&str> = blobs.collect();
        if names.is_empty() {
            return Ok(Vec::new());
        }
        let mut child = self.command(&["cat-file", "--batch"]).stdin(Stdio::piped()).spawn().map_err(|error| absent(&error))?;
        let stdin = child.stdin.take();
        let asked: String = names.iter().map(|name| format!("{name}\n")).collect();
        // Git answers while it is being asked: one thread alone would wait for the other end for ever.
        let output = std::thread::scope(|scope| {
            scope.spawn(|| stdin.map(|mut stdin| stdin.write_all(asked.as_bytes())));
            child.wait_with_output()
        });
        let output = output.with_context(|| self.why())?;
        let mut rest = output.stdout.as_slice();
        let contents: Option<Vec<Vec<u8>>> = names.iter().map(|_| next_blob(&mut rest)).collect();
        contents.ok_or_else(|| anyhow!("{}: git gave less than it was asked for: {}", self.why(), words(&output)))
    }
}

fn absent(error: &std::io::Error) -> anyhow::Error {
    anyhow!("git cannot be started ({error}): install it, or name an earlier report in JSON instead of a revision")
}

/// What git complained about, in one line.
fn words(output: &Output) -> String {
    let text = String::from_utf8_lossy(&output.stderr);
    text.lines().next().unwrap_or_default().trim_start_matches("fatal: ").to_owned()
}

/// `MODE blob NAME<tab>PATH`; of a folder or a module nothing.
fn entry(record: &[u8]) -> Option<(Vec<u8>, String)> {
    let tab = record.iter().position(|&byte| byte == b'\t')?;
    let mut head = std::str::from_utf8(&record[..tab]).ok()?.split(' ').skip(1);
    (head.next()? == "blob").then_some(())?;
    Some((record[tab + 1..].to_owned(), head.next()?.to_owned()))
}

/// `NAME blob SIZE<line end>`, then so many bytes and a line end.
fn next_blob(rest: &mut &[u8]) -> Option<Vec<u8>> {
    let end = rest.iter().position(|&byte| byte == b'\n')?;
    let size: usize = std::str::from_utf8(&rest[..end]).ok()?.rsplit(' ').next()?.parse().ok()?;
    let content = rest.get(end + 1..end + 1 + size)?.to_owned();
    *rest = rest.get(end + 2 + size..)?;
    Some(content)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn answers_of_git_are_read() {
        assert_eq!(entry(b"100644 blob abc\ta b.json"), Some((b"a b.json".to_vec(), "abc".to_owned())));
        assert_eq!(entry(b"040000 tree abc\tpacks"), None);
        assert_eq!(entry(b""), None);
        let mut rest: &[u8] = b"abc blob 3\na\nb\ndef blob 0\n\n";
        assert_eq!(next_blob(&mut rest), Some(b"a\nb".to_vec()));
        assert_eq!(next_blob(&mut rest), Some(Vec::new()));
        assert_eq!(next_blob(&mut rest), None);
        assert_eq!(next_blob(&mut &b"abc missing\n"[..]), None);
    }
}
