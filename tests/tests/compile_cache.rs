//! Compiled modules kept for the next run: a second load takes them, and damage of any kind is a miss that is put right.

use redtag::sandbox::{CacheChoice, LoadedModule, Sandbox, SandboxError, SandboxOptions};
use redtag_module_builder::digest;
use redtag_tests::{answering, hostile};
use std::error::Error;
use std::fs;
use std::path::{Path, PathBuf};

type Outcome = Result<(), Box<dyn Error>>;

fn sandbox(folder: &Path) -> Result<Sandbox, SandboxError> {
    Sandbox::new(SandboxOptions { cache: CacheChoice::Folder(folder.to_owned()), ..SandboxOptions::default() })
}

/// Loads the healthy module in a new sandbox, as another run of the program would.
fn load(folder: &Path) -> Result<LoadedModule, Box<dyn Error>> {
    Ok(sandbox(folder)?.load("healthy", &hostile("healthy")?, true)?)
}

fn answers(module: &LoadedModule) -> Outcome {
    assert_eq!(module.review("{}")?.answer, r#"{"schema":1,"findings":[]}"#);
    Ok(())
}

/// The file of the only entry with this ending.
fn entry(folder: &Path, ending: &str) -> Result<PathBuf, Box<dyn Error>> {
    let mut found = Vec::new();
    for file in fs::read_dir(folder)? {
        found.push(file?.path());
    }
    found.retain(|path| path.extension().is_some_and(|extension| extension == ending));
    match <[PathBuf; 1]>::try_from(found) {
        Ok([path]) => Ok(path),
        Err(found) => Err(format!("expected one .{ending}, found {found:?}").into()),
    }
}

#[test]
fn the_second_load_takes_what_the_first_kept() -> Outcome {
    let folder = tempfile::tempdir()?;
    let first = load(folder.path())?;
    assert!(!first.from_cache());
    let second = load(folder.path())?;
    assert!(second.from_cache());
    assert_eq!(first.digest(), second.digest());
    assert_eq!(first.review("{}")?, second.review("{}")?);
    Ok(())
}

#[test]
fn another_module_is_another_entry() -> Outcome {
    let folder = tempfile::tempdir()?;
    load(folder.path())?;
    let other = sandbox(folder.path())?.load("other", &answering("other", "another answer")?, true)?;
    assert!(!other.from_cache());
    assert_eq!(other.review("{}")?.answer, "another answer");
    Ok(())
}

#[test]
fn without_a_cache_nothing_is_kept() -> Outcome {
    let sandbox = Sandbox::new(SandboxOptions::default())?;
    for _ in 0..2 {
        assert!(!sandbox.load("healthy", &hostile("healthy")?, true)?.from_cache());
    }
    Ok(())
}

/// Damages the only entry, then expects a miss that still answers, and a hit after that.
fn damaged(damage: impl Fn(&Path, &Path) -> Outcome) -> Outcome {
    let folder = tempfile::tempdir()?;
    load(folder.path())?;
    let (code, sidecar) = (entry(folder.path(), "compiled")?, entry(folder.path(), "sha256")?);
    damage(&code, &sidecar)?;
    let repaired = load(folder.path())?;
    assert!(!repaired.from_cache());
    answers(&repaired)?;
    let again = load(folder.path())?;
    assert!(again.from_cache());
    answers(&again)
}

/// Replaces the entry's code and has the sidecar vouch for it, as only somebody who may write to the folder could.
fn vouch(code: &Path, sidecar: &Path, bytes: &[u8]) -> Outcome {
    let key = sidecar.file_stem().and_then(|stem| stem.to_str()).ok_or("an entry without a name")?;
    fs::remove_file(code)?;
    fs::write(code.with_file_name(format!("{key}-{}.compiled", digest(bytes))), bytes)?;
    Ok(fs::write(sidecar, format!("{key} {}\n", digest(bytes)))?)
}

#[test]
fn truncated_code_is_a_miss() -> Outcome {
    damaged(|code, _| {
        let bytes = fs::read(code)?;
        Ok(fs::write(code, &bytes[..bytes.len() / 2])?)
    })
}

#[test]
fn empty_code_is_a_miss() -> Outcome {
    damaged(|code, _| Ok(fs::write(code, b"")?))
}

#[test]
fn an_empty_entry_that_its_sidecar_vouches_for_is_a_miss() -> Outcome {
    damaged(|code, sidecar| vouch(code, sidecar, b""))
}

#[test]
fn a_flipped_bit_anywhere_is_a_miss() -> Outcome {
    for part in [0, 1, 2, 3] {
        damaged(|code, _| {
            let mut bytes = fs::read(code)?;
            let place = part * (bytes.len() - 1) / 3;
            bytes[place] ^= 1;
            Ok(fs::write(code, bytes)?)
        })?;
    }
    Ok(())
}

#[test]
fn a_damaged_sidecar_is_a_miss() -> Outcome {
    for text in ["", " ", "\0\0\0", "abc", "abc def", "../.. ../../etc/passwd"] {
        damaged(|_, sidecar| Ok(fs::write(sidecar, text)?))?;
    }
    damaged(|_, sidecar| Ok(fs::remove_file(sidecar)?))?;
    damaged(|code, _| Ok(fs::remove_file(code)?))
}

#[test]
fn a_foreign_file_is_a_miss() -> Outcome {
    damaged(|code, _| Ok(fs::write(code, b"#!/bin/sh\necho not machine code\n")?))?;
    // Vouched for, but made by no compiler of ours: the engine turns it away.
    damaged(|code, sidecar| vouch(code, sidecar, b"#!/bin/sh\necho not machine code\n"))?;
    damaged(|code, sidecar| vouch(code, sidecar, &fs::read(std::env::current_exe()?)?))
}

#[test]
fn the_whole_entry_of_another_module_under_this_name_is_a_miss() -> Outcome {
    let elsewhere = tempfile::tempdir()?;
    sandbox(elsewhere.path())?.load("other", &answering("other", "all clear")?, true)?;
    damaged(|code, sidecar| {
        let theirs = fs::read(entry(elsewhere.path(), "compiled")?)?;
        vouch(code, sidecar, &theirs)?;
        fs::copy(entry(elsewhere.path(), "sha256")?, sidecar)?;
        Ok(())
    })?;
    // The code alone, under the name of ours.
    damaged(|code, _| fs::copy(entry(elsewhere.path(), "compiled")?, code).map(drop).map_err(Into::into))
}

#[test]
fn an_entry_that_cannot_be_replaced_costs_time_only() -> Outcome {
    let folder = tempfile::tempdir()?;
    load(folder.path())?;
    let code = entry(folder.path(), "compiled")?;
    fs::remove_file(&code)?;
    fs::create_dir(&code)?;
    fs::write(code.join("in the way"), b"")?;
    let module = load(folder.path())?;
    assert!(!module.from_cache());
    answers(&module)
}

#[test]
fn several_runs_at_once_agree() -> Outcome {
    let folder = tempfile::tempdir()?;
    let wasm = hostile("healthy")?;
    let answers = std::thread::scope(|scope| {
        let run = || sandbox(folder.path()).ok()?.load("healthy", &wasm, true).ok()?.review("{}").ok();
        let runs: Vec<_> = (0..4).map(|_| scope.spawn(run)).collect();
        runs.into_iter().map(|run| run.join().ok().flatten()).collect::<Vec<_>>()
    });
    assert!(answers.iter().all(Option::is_some), "{answers:?}");
    assert!(load(folder.path())?.from_cache());
    Ok(())
}

#[test]
#[cfg(unix)]
fn the_folder_and_its_files_are_private() -> Outcome {
    use std::os::unix::fs::PermissionsExt;
    let parent = tempfile::tempdir()?;
    let folder = parent.path().join("deep").join("cache");
    load(&folder)?;
    let mode = |path: &Path| Ok::<_, std::io::Error>(fs::metadata(path)?.permissions().mode() & 0o777);
    assert_eq!(mode(&folder)?, 0o700);
    assert_eq!(mode(&entry(&folder, "compiled")?)?, 0o600);
    // A folder somebody opened up is closed again.
    fs::set_permissions(&folder, fs::Permissions::from_mode(0o777))?;
    assert!(load(&folder)?.from_cache());
    assert_eq!(mode(&folder)?, 0o700);
    Ok(())
}

#[test]
fn a_folder_that_cannot_be_made_is_named() -> Outcome {
    let folder = tempfile::tempdir()?;
    let file = folder.path().join("file");
    fs::write(&file, b"")?;
    let error = sandbox(&file.join("cache")).err().ok_or("it was made")?;
    assert!(matches!(error, SandboxError::CacheFolder { .. }), "{error:?}");
    assert!(error.to_string().contains("switch the cache off"), "{error}");
    Ok(())
}
