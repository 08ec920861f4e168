//! Compiled modules kept for the next run: a second load takes them, and damage of any kind is a miss that is put right.

use redtag::sandbox::{LoadedModule, Sandbox, SandboxOptions, Tier};
use redtag::store::{Secret, Store};
use redtag_module_builder::digest;
use redtag_tests::{answering, hostile};
use std::error::Error;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

type Outcome = Result<(), Box<dyn Error>>;

const OURS: Secret = Secret::new([3; 32]);

fn sandbox_with(folder: &Path, secret: Secret) -> Result<Sandbox, Box<dyn Error>> {
    let store = Some(Arc::new(Store::open(folder, secret)?));
    Ok(Sandbox::new(SandboxOptions { store, ..SandboxOptions::default() }))
}

fn sandbox(folder: &Path) -> Result<Sandbox, Box<dyn Error>> {
    sandbox_with(folder, OURS)
}

/// Loads the healthy module in a new sandbox, as another run of the program would.
fn load(folder: &Path) -> Result<LoadedModule, Box<dyn Error>> {
    Ok(sandbox(folder)?.load("healthy", &hostile("healthy")?, true)?)
}

fn answers(module: &LoadedModule) -> Outcome {
    assert_eq!(module.review("{}")?.answer, r#"{"schema":1,"findings":[]}"#);
    Ok(())
}

/// The file of the only entry.
fn entry(folder: &Path) -> Result<PathBuf, Box<dyn Error>> {
    let found = fs::read_dir(folder)?.map(|file| file.map(|file| file.path())).collect::<Result<Vec<_>, _>>()?;
    match <[PathBuf; 1]>::try_from(found) {
        Ok([path]) => Ok(path),
        Err(found) => Err(format!("expected one entry, found {found:?}").into()),
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
    let sandbox = Sandbox::new(SandboxOptions::default());
    for _ in 0..2 {
        assert!(!sandbox.load("healthy", &hostile("healthy")?, true)?.from_cache());
    }
    Ok(())
}

#[test]
fn optimised_code_is_made_once_and_then_preferred() -> Outcome {
    let folder = tempfile::tempdir()?;
    assert_eq!(load(folder.path())?.tier(), Tier::Baseline);
    let wasm = hostile("healthy")?;
    let warm = |sandbox: &Sandbox| sandbox.warm("healthy", &digest(&wasm), true, wasm.as_slice().into());
    let warming = sandbox(folder.path())?;
    assert!(!warming.is_warm(&digest(&wasm)));
    assert!(warm(&warming)?, "there was something to do");
    assert!(!warm(&sandbox(folder.path())?)?, "there is nothing left to do");
    let loaded = load(folder.path())?;
    assert_eq!((loaded.tier(), loaded.from_cache()), (Tier::Optimising, true));
    answers(&loaded)
}

/// Damages the only entry, then expects a miss that still answers, and a hit after that.
fn damaged(damage: impl Fn(&Path) -> Outcome) -> Outcome {
    let folder = tempfile::tempdir()?;
    load(folder.path())?;
    damage(&entry(folder.path())?)?;
    let repaired = load(folder.path())?;
    assert!(!repaired.from_cache());
    answers(&repaired)?;
    let again = load(folder.path())?;
    assert!(again.from_cache());
    answers(&again)
}

#[test]
fn a_cut_or_emptied_entry_is_a_miss() -> Outcome {
    damaged(|entry| {
        let bytes = fs::read(entry)?;
        Ok(fs::write(entry, &bytes[..bytes.len() / 2])?)
    })?;
    damaged(|entry| Ok(fs::write(entry, b"")?))
}

#[test]
fn a_flipped_bit_anywhere_is_a_miss() -> Outcome {
    for part in [0, 1, 2, 3] {
        damaged(|entry| {
            let mut bytes = fs::read(entry)?;
            let place = part * (bytes.len() - 1) / 3;
            bytes[place] ^= 1;
            Ok(fs::write(entry, bytes)?)
        })?;
    }
    Ok(())
}

#[test]
fn a_foreign_file_is_a_miss() -> Outcome {
    damaged(|entry| Ok(fs::write(entry, b"#!/bin/sh\necho not machine code\n")?))?;
    damaged(|entry| Ok(fs::write(entry, fs::read(std::env::current_exe()?)?)?))
}

/// What somebody else's program kept, whole and under the right name: a folder restored from elsewhere, or committed.
#[test]
fn an_entry_under_another_key_is_a_miss() -> Outcome {
    let folder = tempfile::tempdir()?;
    let wasm = hostile("healthy")?;
    let theirs = sandbox_with(folder.path(), Secret::new([4; 32]))?;
    assert!(!theirs.load("healthy", &wasm, true)?.from_cache());
    assert!(!load(folder.path())?.from_cache());
    assert!(load(folder.path())?.from_cache());
    Ok(())
}

#[test]
fn the_whole_entry_of_another_module_under_this_name_is_a_miss() -> Outcome {
    let elsewhere = tempfile::tempdir()?;
    sandbox(elsewhere.path())?.load("other", &answering("other", "all clear")?, true)?;
    damaged(|ours| fs::copy(entry(elsewhere.path())?, ours).map(drop).map_err(Into::into))
}

#[test]
fn an_entry_that_cannot_be_replaced_costs_time_only() -> Outcome {
    let folder = tempfile::tempdir()?;
    load(folder.path())?;
    let code = entry(folder.path())?;
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
    assert_eq!(mode(&entry(&folder)?)?, 0o600);
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
    assert!(error.downcast_ref::<std::io::Error>().is_some(), "{error:?}");
    Ok(())
}
