//! The invariants of the house that DEVELOPERS.md lists, each held here. A check that cannot run fails.

use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::{env, fs};

fn root() -> PathBuf {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    root.canonicalize().expect("the repository")
}

/// What a program prints, which must succeed.
fn said(program: &str, arguments: &[&str]) -> String {
    let output = Command::new(program).args(arguments).current_dir(root()).output();
    let output = output.unwrap_or_else(|error| panic!("{program} is needed to check this: {error}"));
    assert!(output.status.success(), "{program} {arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).expect("UTF-8")
}

fn cargo(arguments: &[&str]) -> String {
    said(&env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned()), arguments)
}

/// What a crate may reach, by the folder it lies in; the first row that fits counts. A folder that ends in `/` is whatever lies
/// below it.
const MAY_REACH: &[(&str, &[&str])] = &[
    ("schema", &[]),
    ("schema/", &["schema", "schema/"]),
    ("rules/handbook", &["schema", "schema/"]),
    ("rules/sdk/registry", &[]),
    ("rules/sdk/testing", &["schema", "schema/", "rules/sdk"]),
    ("rules/sdk", &["schema", "schema/"]),
    ("rules/sdk/", &["schema", "schema/", "rules/handbook", "rules/sdk", "rules/sdk/"]),
    ("rules/", &["schema", "schema/", "rules/handbook", "rules/sdk", "rules/sdk/"]),
    // The program stands on the parts below it; the parts stand on documents alone, and never on each other.
    ("engine/", &["schema", "schema/"]),
    ("engine", &["schema", "schema/", "engine/"]),
    ("tests", &["schema", "schema/", "engine", "engine/"]),
    // What only all families together can show, natively: without the engine.
    ("tests/families", &["schema", "schema/", "rules/"]),
    // What is measured: the program, the session, and rules in the sandbox against the same rules linked in.
    ("tests/benches", &["schema", "schema/", "engine", "engine/", "rules/", "tests/families"]),
];

fn lies(folder: &str, place: &str) -> bool {
    if place.ends_with('/') { folder.starts_with(place) } else { folder == place }
}

/// The crates of the workspace by folder, each with the folders of those it names, development dependencies included or not.
fn arrows(with_development: bool) -> BTreeMap<String, BTreeSet<String>> {
    let metadata: Value =
        serde_json::from_str(&cargo(&["metadata", "--no-deps", "--format-version", "1"])).expect("cargo metadata answers JSON");
    let packages = metadata["packages"].as_array().expect("packages").clone();
    let folder = |package: &Value| {
        let manifest = PathBuf::from(text(&package["manifest_path"])).canonicalize().expect("a manifest");
        let folder = manifest.parent().and_then(|folder| folder.strip_prefix(root()).ok().map(Path::to_owned));
        folder.expect("a crate of the workspace").to_string_lossy().into_owned()
    };
    let folders: BTreeMap<String, String> = packages.iter().map(|package| (text(&package["name"]), folder(package))).collect();
    let of = |package: &Value| {
        let dependencies = package["dependencies"].as_array().expect("dependencies");
        let counted = dependencies.iter().filter(|one| with_development || one["kind"] != "dev");
        counted.filter_map(|one| folders.get(&text(&one["name"])).cloned()).collect()
    };
    packages.iter().map(|package| (folder(package), of(package))).collect()
}

fn text(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}

/// Everything a crate reaches.
fn reached(from: &str, arrows: &BTreeMap<String, BTreeSet<String>>) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let mut todo = vec![from.to_owned()];
    while let Some(folder) = todo.pop() {
        for next in arrows.get(&folder).into_iter().flatten() {
            if found.insert(next.clone()) {
                todo.push(next.clone());
            }
        }
    }
    found
}

#[test]
fn arrows_run_one_way() {
    let arrows = arrows(false);
    assert!(arrows.len() > 20, "{arrows:?}");
    for folder in arrows.keys() {
        let row = MAY_REACH.iter().find(|(place, _)| lies(folder, place));
        let Some((_, allowed)) = row else { panic!("{folder} has no row in MAY_REACH") };
        let reached = reached(folder, &arrows);
        let foreign: Vec<_> = reached.iter().filter(|other| !allowed.iter().any(|place| lies(other, place))).collect();
        assert!(foreign.is_empty(), "{folder} links {foreign:?}");
        assert!(!reached.contains(folder), "{folder} links itself");
    }
}

#[test]
fn the_engine_meets_rules_only_through_webassembly() {
    let arrows = arrows(true);
    for folder in arrows.keys().filter(|folder| lies(folder, "engine") || lies(folder, "engine/")) {
        let rules: Vec<_> = reached(folder, &arrows).into_iter().filter(|other| lies(other, "rules/")).collect();
        assert!(rules.is_empty(), "{folder} links {rules:?}");
    }
}

/// Every face stands on the session: what guards a review is inside it, and a face that reached past it could forget that.
#[test]
fn the_command_line_stands_on_the_session_and_sees_nothing_below() {
    let below =
        ["cases", "compare", "diagnostic", "document", "modules", "pack", "review", "rulebook", "sandbox", "store", "trust"];
    for file in rust_files(&root().join("engine/src/cli")) {
        let text = fs::read_to_string(&file).expect("a source file reads");
        for room in below {
            let seen = text.contains(&format!("crate::{room}::")) || text.contains(&format!("crate::{{{room}::"));
            assert!(!seen, "{} reaches past the session into {room}", file.display());
        }
        assert!(!text.contains("redtag_module_builder"), "{} reaches past the session", file.display());
    }
}

/// Documents and reports are worked out of what they are handed: no files, no clock, no environment, no other programs.
#[test]
fn documents_and_reports_touch_nothing_outside() {
    let sources = ["schema/src", "schema/plan/src", "engine/report/src"].map(|folder| root().join(folder));
    for file in sources.iter().filter(|folder| folder.exists()).flat_map(|folder| rust_files(folder)) {
        if file.components().any(|part| part.as_os_str() == "tests") {
            continue;
        }
        let source = fs::read_to_string(&file).expect("a source file reads");
        let shipped = source.split("#[cfg(test)]").next().unwrap_or_default();
        for outside in ["std::fs", "std::net", "std::process", "std::env", "SystemTime::", "Instant::"] {
            assert!(!shipped.contains(outside), "{} uses {outside}", file.display());
        }
    }
}

/// Each crate from elsewhere with the sets of features it is built with.
fn features(edges: &str) -> BTreeMap<String, BTreeSet<String>> {
    let tree = cargo(&["tree", "--offline", "--workspace", "-e", edges, "--prefix", "none", "--no-dedupe", "-f", "{p}|{f}"]);
    let mut found: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for (name, features) in tree.lines().filter_map(|line| line.split_once('|')).filter(|(name, _)| !name.contains('/')) {
        found.entry(name.to_owned()).or_default().insert(features.to_owned());
    }
    found
}

/// Cargo builds a crate once for each set of features asked of it. What a set of its own costs: Cranelift, the component encoder
/// and the program, twice (engine/module-builder/Cargo.toml says how it is avoided).
#[test]
fn the_program_its_build_script_and_the_tests_share_what_they_are_built_of() {
    // Small, and the build of Cranelift itself asks for less of them.
    const PARTED: [&str; 3] = ["cranelift-bitset v", "pulley-interpreter v", "wasmtime-internal-core v"];
    let (program, tests) = (features("normal,build"), features("normal,build,dev"));
    assert!(program.len() > 100, "{program:?}");
    for (name, sets) in &program {
        assert_eq!(Some(sets), tests.get(name), "{name} is built anew for the tests");
        let parted = PARTED.iter().any(|parted| name.starts_with(parted));
        assert!(sets.len() == 1 || parted, "{name} is built {} times over, with {sets:?}", sets.len());
    }
}

#[test]
fn unsafe_code_stands_in_one_small_file() {
    let mut found = Vec::new();
    for file in rust_files(&root()) {
        let source = fs::read_to_string(&file).expect("a source file reads");
        let allows = source.contains("allow(unsafe_code") || source.contains("unsafe_code)]");
        if allows && !file.ends_with("tests/tests/house.rs") {
            found.push(file.strip_prefix(root()).unwrap_or(&file).display().to_string());
        }
    }
    found.sort();
    // The second holds the bindings generated for guests, which no host links.
    assert_eq!(found, ["engine/src/sandbox/trusted.rs", "rules/sdk/src/component.rs"]);
    let trusted = fs::read_to_string(root().join("engine/src/sandbox/trusted.rs")).expect("it reads");
    assert!(trusted.lines().count() < 60 && trusted.contains("SAFETY"), "the unsafe code is small and says why it is sound");
}

fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path()) {
        let name = entry.file_name().unwrap_or_default().to_string_lossy().into_owned();
        if entry.is_dir() && name != "target" && !name.starts_with('.') {
            files.extend(rust_files(&entry));
        } else if entry.extension().is_some_and(|ending| ending == "rs") {
            files.push(entry);
        }
    }
    files
}

/// The folders under rules/ that hold rules.
fn families() -> Vec<String> {
    let folders = fs::read_dir(root().join("rules")).expect("rules/").map(|entry| entry.expect("an entry").path());
    let named = folders.filter(|folder| folder.join("src/rules").is_dir());
    named.map(|folder| folder.file_name().unwrap_or_default().to_string_lossy().into_owned()).collect()
}

#[test]
fn every_rule_file_is_formatted() {
    // Rule files are reached through a derived list, which `cargo fmt` does not follow.
    let rules: Vec<PathBuf> =
        families().iter().flat_map(|family| rust_files(&root().join("rules").join(family).join("src/rules"))).collect();
    assert!(rules.len() > 100, "{rules:?}");
    let output = Command::new("rustfmt").args(["--check", "--edition", "2024"]).args(&rules).current_dir(root()).output();
    let output = output.unwrap_or_else(|error| panic!("rustfmt is needed to check this: {error}"));
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stdout));
}

#[test]
fn no_prebuilt_module_is_kept_except_the_frozen_ones() {
    let listed = said("git", &["ls-files", "*.wasm"]);
    assert!(!listed.is_empty(), "the frozen modules are not listed");
    for file in listed.lines() {
        assert!(file.starts_with("tests/frozen/"), "{file} is a prebuilt module");
    }
}
