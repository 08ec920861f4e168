//! The whole way from a rule crate outside this workspace to a pack: compiled, made a component, looked at, digested, sealed.

use redtag_module_builder::{
    BuildError, Caps, Limits, Options, Refusal, build_components, build_pack, digest, inspect, open, seal,
};
use serde_json::json;
use std::fs;
use std::path::{Path, PathBuf};

fn echo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/guests/echo")
}

/// The folder the base pack is built in: where the standard library is built from source, it is there already.
fn options() -> Options {
    Options::new(Path::new(env!("CARGO_TARGET_TMPDIR")).with_file_name("guest-wasm"))
}

#[test]
fn a_rule_crate_becomes_a_component_that_may_be_run() {
    let components = build_components(&[echo()], &options()).unwrap_or_else(|error| panic!("{error}\n{:?}", error.log()));
    let inspection = inspect(&components[0], &Caps::default()).expect("accepted");
    assert_eq!(inspection.contract.to_string(), "1.0.0");
    assert_eq!(inspection.imports, ["redtag:rules/host@1.0.0"]);
    assert!((1_000..200_000).contains(&inspection.size), "{inspection:?}");
    // Nothing of this machine: neither the checkout nor the packages' folder.
    let text = String::from_utf8_lossy(&components[0]).into_owned();
    let home = std::env::home_dir().expect("a home folder");
    for folder in [env!("CARGO_MANIFEST_DIR"), home.to_str().expect("UTF-8"), "index.crates.io", "registry/src"] {
        assert!(!text.contains(folder), "{folder} is in the module");
    }
}

#[test]
fn the_bytes_do_not_depend_on_the_folder_of_the_checkout() {
    let here = build_components(&[echo()], &options()).expect("built");
    let elsewhere = tempfile::tempdir().expect("a temporary folder");
    let copy = elsewhere.path().join("a b/engine/module-builder/tests/guests/echo");
    for file in ["Cargo.toml", "Cargo.lock", "src/lib.rs"] {
        copy_file(&echo().join(file), &copy.join(file));
    }
    let wit = "schema/wit/rules.wit";
    copy_file(&Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").join(wit), &elsewhere.path().join("a b").join(wit));
    let other = Options::new(elsewhere.path().join("target"));
    let there = build_components(&[copy], &other).expect("built");
    assert_eq!(digest(&here[0]), digest(&there[0]));
}

fn copy_file(from: &Path, to: &Path) {
    fs::create_dir_all(to.parent().expect("a parent")).expect("made");
    fs::copy(from, to).expect("copied");
}

fn pack_source(folder: &Path, modules: serde_json::Value) -> PathBuf {
    let manifest = json!({
        "schema": 1, "name": "example-county", "version": "0.1.0", "title": "An invented county", "authority": {"name": "nobody"},
        "stands_on": null, "in_force": {}, "contract": "1.0", "modules": modules, "amendments": [], "cases": ["trials"]
    });
    fs::create_dir_all(folder.join("trials/deep")).expect("made");
    fs::write(folder.join("trials/deep/one.md"), "one").expect("written");
    fs::write(folder.join("pack.json"), manifest.to_string()).expect("written");
    folder.to_owned()
}

#[test]
fn a_pack_is_built_from_source_and_from_finished_modules_and_seals_the_same_twice() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let component = build_components(&[echo()], &options()).expect("built").remove(0);
    let source = pack_source(
        &home.path().join("source"),
        json!([{"name": "echo", "source": echo()}, {"name": "again", "file": "old/echo.wasm", "sha256": digest(&component)}]),
    );
    fs::create_dir(source.join("old")).expect("made");
    fs::write(source.join("old/echo.wasm"), &component).expect("written");
    let out = home.path().join("out");
    let built = build_pack(&source, &out, &Caps::default(), &options()).expect("built");
    assert_eq!(built.modules.len(), 2);
    let once = seal(&out).expect("sealed");
    build_pack(&source, &out, &Caps::default(), &options()).expect("built over the first");
    assert_eq!(seal(&out).expect("sealed"), once);
    let files = open(&once, &Limits::default()).expect("opened");
    let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["modules/again.wasm", "modules/echo.wasm", "pack.json", "trials/deep/one.md"]);
    let manifest: serde_json::Value = serde_json::from_slice(&files[2].1).expect("JSON");
    let module = json!({"name": "echo", "file": "modules/echo.wasm", "sha256": digest(&component)});
    assert_eq!(manifest["modules"][0], module);
    assert_eq!(manifest, built.manifest);
    let left: Vec<_> = fs::read_dir(home.path()).expect("read").flatten().map(|entry| entry.file_name()).collect();
    assert_eq!(left.len(), 2, "{left:?}");
}

/// Builds a pack that must fail, without leaving anything behind.
fn fails(modules: serde_json::Value, prepare: impl FnOnce(&Path)) -> BuildError {
    let home = tempfile::tempdir().expect("a temporary folder");
    let source = pack_source(&home.path().join("source"), modules);
    prepare(&source);
    let error = build_pack(&source, &home.path().join("out"), &Caps::default(), &options()).expect_err("refused");
    let left: Vec<_> = fs::read_dir(home.path()).expect("read").flatten().map(|entry| entry.file_name()).collect();
    assert_eq!(left, ["source"], "nothing is left behind");
    error
}

#[test]
fn a_manifest_that_does_not_hold_together_is_told_by_place() {
    let text = |modules| fails(modules, |_| {}).to_string();
    assert!(text(json!([{"source": "x"}])).contains("pack.json: /modules/0: missing field `name`"));
    assert!(text(json!([{"name": "../x", "source": "x"}])).contains("small letters"));
    assert!(text(json!([{"name": "x"}])).contains("/modules/0: expected either `source`"));
    assert!(text(json!([{"name": "x", "file": "../x.wasm"}])).contains("leaves its folder"));
    assert!(text(json!([{"name": "x", "source": "no-such-folder"}])).contains("no-such-folder"));
    let broken = fails(json!([]), |source| fs::write(source.join("pack.json"), "{\n  \"name\": }").expect("written"));
    assert!(broken.to_string().contains("line 2, column 11"), "{broken}");
}

#[test]
fn another_file_than_the_manifest_means_is_refused() {
    let prepare = |source: &Path| fs::write(source.join("x.wasm"), "not a module").expect("written");
    let swapped = fails(json!([{"name": "x", "file": "x.wasm", "sha256": "00"}]), prepare);
    assert!(swapped.to_string().contains("/modules/0/sha256"), "{swapped}");
    let foreign = fails(json!([{"name": "x", "file": "x.wasm"}]), prepare);
    assert!(foreign.to_string().contains("module `x`: this is not a WebAssembly file"), "{foreign}");
}

#[test]
fn a_crate_that_does_not_compile_gives_the_compilers_words() {
    let home = tempfile::tempdir().expect("a temporary folder");
    fs::create_dir(home.path().join("src")).expect("made");
    let manifest = "[package]\nname = \"wrong\"\nversion = \"0.1.0\"\nedition = \"2024\"\n[workspace]\n";
    fs::write(home.path().join("Cargo.toml"), manifest).expect("written");
    fs::write(home.path().join("src/lib.rs"), "pub fn review() -> u8 { \"text\" }\n").expect("written");
    let error = build_components(&[home.path().to_owned()], &options()).expect_err("refused");
    assert!(error.to_string().contains("error[E0308]: mismatched types"), "{error}");
    assert!(error.log().is_some_and(|log| log.contains("src/lib.rs:1:25")), "{:?}", error.log());
    // It compiles, but keeps no contract.
    fs::write(home.path().join("src/lib.rs"), "pub fn review() -> u8 { 1 }\n").expect("written");
    let components = build_components(&[home.path().to_owned()], &options()).expect("built");
    let refusal = inspect(&components[0], &Caps::default()).expect_err("refused");
    assert!(matches!(refusal, Refusal::NoContract { .. }), "{refusal}");
}

#[test]
fn a_folder_with_other_files_is_not_built_over() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let source = pack_source(&home.path().join("source"), json!([]));
    let out = home.path().join("letters");
    fs::create_dir(&out).expect("made");
    fs::write(out.join("letter.txt"), "dear").expect("written");
    let error = build_pack(&source, &out, &Caps::default(), &options()).expect_err("refused");
    assert!(error.to_string().contains("did not build"), "{error}");
    let error = build_pack(&source, home.path(), &Caps::default(), &options()).expect_err("refused");
    assert!(error.to_string().contains("over its own source"), "{error}");
    assert!(out.join("letter.txt").exists() && source.join("pack.json").exists());
}

/// Another county's sources hold a pack.json too: only an earlier build, unchanged since, makes room for a new one.
#[test]
fn nothing_but_an_earlier_build_is_replaced() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let source = pack_source(&home.path().join("source"), json!([]));
    let other = pack_source(&home.path().join("other-county"), json!([]));
    let build = |out: &Path| build_pack(&source, out, &Caps::default(), &options()).map(drop).map_err(|error| error.to_string());
    assert!(build(&other).is_err_and(|words| words.contains("did not build")));
    assert!(other.join("trials/deep/one.md").exists());
    let out = home.path().join("out");
    assert_eq!((build(&out), build(&out)), (Ok(()), Ok(())));
    fs::write(out.join("notes.txt"), "mine").expect("written");
    assert!(build(&out).is_err_and(|words| words.contains("changed since")));
    assert!(out.join("notes.txt").exists());
}

#[cfg(unix)]
#[test]
fn no_link_brings_a_file_from_outside_into_a_pack() {
    let home = tempfile::tempdir().expect("a temporary folder");
    fs::write(home.path().join("secret.md"), "secret").expect("written");
    let link = |from: &str, at: &Path| std::os::unix::fs::symlink(home.path().join(from), at).expect("linked");
    let words = |source: &Path| {
        build_pack(source, &home.path().join("out"), &Caps::default(), &options()).map(drop).map_err(|error| error.to_string())
    };
    let file = pack_source(&home.path().join("file"), json!([]));
    link("secret.md", &file.join("trials/two.md"));
    assert!(words(&file).is_err_and(|words| words.contains("no links")));
    let folder = pack_source(&home.path().join("folder"), json!([]));
    fs::remove_dir_all(folder.join("trials")).expect("removed");
    link("file/trials/deep", &folder.join("trials"));
    assert!(words(&folder).is_err_and(|words| words.contains("no links")));
    let module = pack_source(&home.path().join("module"), json!([{"name": "x", "file": "x.wasm"}]));
    link("secret.md", &module.join("x.wasm"));
    assert!(words(&module).is_err_and(|words| words.contains("no links")));
}
