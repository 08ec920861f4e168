//! A repository that wants more than to be read. Each of these ran a command, or told another story, when git was asked plainly.

use redtag_revision::{Limits, Revision, RevisionError};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use tempfile::TempDir;

type Tested = Result<(), Box<dyn std::error::Error>>;

fn git(folder: &Path, arguments: &[&str]) -> String {
    let mut command = Command::new("git");
    command.current_dir(folder).args(["-c", "user.name=Nobody", "-c", "user.email=nobody@example.org"]).args(arguments);
    for (name, _) in std::env::vars_os().filter(|(name, _)| name.to_string_lossy().starts_with("GIT_")) {
        command.env_remove(name);
    }
    let output = command.env("GIT_CONFIG_GLOBAL", "/dev/null").env("GIT_CONFIG_NOSYSTEM", "1").output().expect("git starts");
    assert!(output.status.success(), "git {arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8_lossy(&output.stdout).trim().to_owned()
}

/// Two commits of `projects/house.json`: `one`, then `two`.
fn repository() -> TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    fs::create_dir(folder.path().join("projects")).expect("a folder in it");
    git(folder.path(), &["init", "--quiet"]);
    for text in ["one", "two"] {
        fs::write(folder.path().join("projects/house.json"), text).expect("a file");
        git(folder.path(), &["add", "."]);
        git(folder.path(), &["commit", "--quiet", "--message", text]);
    }
    folder
}

fn open(folder: &Path, revision: &str) -> Result<Revision, RevisionError> {
    Revision::open(folder, revision, Limits::default())
}

fn text_at(folder: &Path, revision: &str) -> Result<String, Box<dyn std::error::Error>> {
    let revision = open(folder, revision)?;
    let files = revision.files(Path::new("projects"))?;
    let contents = revision.read(&files)?;
    Ok(String::from_utf8(contents.concat())?)
}

/// A script that leaves a mark, for whatever would run it.
fn trap(folder: &Path) -> (PathBuf, String) {
    let (mark, script) = (folder.join("ran"), folder.join("trap.sh"));
    fs::write(&script, format!("#!/bin/sh\ntouch '{}'\n", mark.display())).expect("a script");
    let command = format!("sh {}", script.display());
    (mark, command)
}

#[test]
fn a_file_is_read_as_it_was() -> Tested {
    let folder = repository();
    let projects = folder.path().join("projects");
    assert_eq!(text_at(&projects, "HEAD~1")?, "one");
    assert_eq!(text_at(folder.path(), "HEAD")?, "two");
    let revision = open(&projects, "HEAD")?;
    assert_eq!(revision.commit().len(), 40);
    assert_eq!(revision.path_of(&projects.join("gone.json")), Some(PathBuf::from("projects/gone.json")));
    assert_eq!(revision.path_of(&std::env::temp_dir().join("elsewhere.json")), None);
    Ok(())
}

/// The attack that was seen: files that make the folder of projects look like a bare repository whose objects are fetched by
/// running a command.
#[test]
fn a_folder_that_looks_like_a_bare_repository_is_not_taken_for_one() -> Tested {
    let folder = repository();
    let (mark, command) = trap(folder.path());
    let projects = folder.path().join("projects");
    fs::write(projects.join("HEAD"), "ref: refs/heads/main\n")?;
    for empty in ["objects/keep", "refs/keep"] {
        let path = projects.join(empty);
        fs::create_dir_all(path.parent().expect("a parent"))?;
        fs::write(path, "")?;
    }
    let config = format!(
        "[core]\nrepositoryformatversion = 1\nbare = true\n[extensions]\npartialClone = origin\n[remote \"origin\"]\n\
         url = ext::{command}\npromisor = true\n[protocol \"ext\"]\nallow = always\n"
    );
    fs::write(projects.join("config"), config)?;
    let hash = git(folder.path(), &["rev-parse", "HEAD~1"]);
    assert_eq!(text_at(&projects, &hash)?, "one");
    assert_eq!(text_at(&projects, "HEAD~1")?, "one");
    assert!(text_at(&projects, &"0".repeat(40)).is_err());
    assert!(!mark.exists(), "a command of the repository ran");
    Ok(())
}

/// A whole folder from elsewhere, with a configuration of its own inside `.git`.
#[test]
fn the_configuration_of_the_repository_runs_nothing() -> Tested {
    let folder = repository();
    let (mark, command) = trap(folder.path());
    let object = git(folder.path(), &["rev-parse", "HEAD~1:projects/house.json"]);
    for (name, value) in [
        ("core.fsmonitor", command.as_str()),
        ("core.pager", &command),
        ("core.sshCommand", &command),
        ("core.alternateRefsCommand", &command),
        ("core.editor", &command),
        ("core.askPass", &command),
        ("diff.external", &command),
        ("filter.lfs.smudge", &command),
        ("filter.lfs.process", &command),
        ("core.hooksPath", &folder.path().display().to_string()),
        ("extensions.partialClone", "origin"),
        ("core.repositoryFormatVersion", "1"),
        ("remote.origin.url", &format!("ext::{command}")),
        ("remote.origin.promisor", "true"),
        ("protocol.ext.allow", "always"),
        ("protocol.allow", "always"),
        ("pager.ls-tree", &command),
        ("alias.ls-tree", &format!("!{command}")),
    ] {
        git(folder.path(), &["config", name, value]);
    }
    fs::write(folder.path().join(".gitattributes"), "* filter=lfs diff=lfs\n")?;
    assert_eq!(text_at(folder.path(), "HEAD~1")?, "one");
    // What a partial clone lacks would be fetched by running the command.
    fs::remove_file(folder.path().join(".git/objects").join(&object[..2]).join(&object[2..]))?;
    let lacking = text_at(folder.path(), "HEAD~1").expect_err("the content is gone").to_string();
    assert!(lacking.contains("house.json") || lacking.contains("git could not read"), "{lacking}");
    assert!(open(folder.path(), "no-such-branch").is_err());
    assert!(!mark.exists(), "a command of the repository ran");
    Ok(())
}

#[test]
fn no_object_stands_for_another() -> Tested {
    let folder = repository();
    let old = git(folder.path(), &["rev-parse", "HEAD~1:projects/house.json"]);
    let new = git(folder.path(), &["rev-parse", "HEAD:projects/house.json"]);
    git(folder.path(), &["replace", &old, &new]);
    assert_eq!(text_at(folder.path(), "HEAD~1")?, "one");
    Ok(())
}

#[test]
fn the_environment_of_a_hook_decides_nothing() -> Tested {
    let (folder, other) = (repository(), repository());
    let program = std::env::current_exe()?;
    // This test again, in a process whose environment names another repository.
    if std::env::var_os("GIT_DIR").is_none() {
        let run = Command::new(program)
            .args(["--exact", "the_environment_of_a_hook_decides_nothing"])
            .env("GIT_DIR", other.path().join(".git"))
            .env("GIT_OBJECT_DIRECTORY", other.path())
            .env("GIT_CONFIG_COUNT", "1")
            .env("GIT_CONFIG_KEY_0", "core.repositoryFormatVersion")
            .env("GIT_CONFIG_VALUE_0", "99")
            .output()?;
        assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stdout));
        return Ok(());
    }
    assert_eq!(text_at(folder.path(), "HEAD~1")?, "one");
    Ok(())
}

#[test]
fn links_and_what_looks_like_an_option_are_nothing() -> Tested {
    let folder = repository();
    #[cfg(unix)]
    std::os::unix::fs::symlink("/etc/passwd", folder.path().join("projects/link.json"))?;
    fs::write(folder.path().join("projects/-rf :(top)*.json"), "odd")?;
    git(folder.path(), &["add", "."]);
    git(folder.path(), &["commit", "--quiet", "--message", "odd names"]);
    let revision = open(folder.path(), "HEAD")?;
    let files = revision.files(Path::new("projects"))?;
    let names: Vec<_> = files.iter().map(|file| file.path.display().to_string()).collect();
    assert_eq!(names, ["projects/-rf :(top)*.json", "projects/house.json"]);
    assert_eq!(revision.read(&files)?.concat(), b"oddtwo");
    for odd in ["--help", "--output=x", "-h", "HEAD\0x", "", "@{-1}", ":/nothing", "HEAD..HEAD~1"] {
        assert!(open(folder.path(), odd).is_err(), "{odd:?}");
    }
    Ok(())
}

#[test]
fn what_is_too_large_is_refused_before_it_is_read() -> Tested {
    let folder = repository();
    fs::write(folder.path().join("projects/large.json"), vec![b' '; 5_000])?;
    git(folder.path(), &["add", "."]);
    git(folder.path(), &["commit", "--quiet", "--message", "large"]);
    let small = |limits: Limits| -> Result<(), RevisionError> {
        let revision = Revision::open(folder.path(), "HEAD", limits)?;
        revision.read(&revision.files(Path::new("projects"))?).map(drop)
    };
    assert!(matches!(small(Limits { file_bytes: 4_999, ..Limits::default() }), Err(RevisionError::TooLarge { .. })));
    assert!(matches!(small(Limits { total_bytes: 5_002, ..Limits::default() }), Err(RevisionError::TooLarge { .. })));
    assert!(matches!(small(Limits { list_bytes: 10, ..Limits::default() }), Err(RevisionError::TooLarge { .. })));
    assert!(small(Limits { file_bytes: 5_000, total_bytes: 5_003, ..Limits::default() }).is_ok());
    Ok(())
}

#[test]
fn a_folder_in_no_repository_says_so() -> Tested {
    let folder = tempfile::tempdir()?;
    let words = open(folder.path(), "HEAD").expect_err("there is none").to_string();
    assert!(words.contains("not a git repository"), "{words}");
    Ok(())
}
