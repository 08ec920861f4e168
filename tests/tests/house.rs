//! The invariants of the house that DEVELOPERS.md lists, each held here.
#![expect(clippy::print_stdout, reason = "a check that a machine cannot run says so")]

use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::{env, fs};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// Workspace crates with the workspace crates they name, build and development dependencies included or not.
fn arrows(with_development: bool) -> BTreeMap<String, BTreeSet<String>> {
    let cargo = env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
    let output = Command::new(cargo)
        .args(["metadata", "--no-deps", "--format-version", "1"])
        .current_dir(root())
        .output()
        .expect("cargo metadata runs");
    let metadata: Value = serde_json::from_slice(&output.stdout).expect("cargo metadata answers JSON");
    let packages = metadata["packages"].as_array().expect("packages").clone();
    let names: BTreeSet<String> = packages.iter().map(|package| text(&package["name"])).collect();
    let of = |package: &Value| {
        let dependencies = package["dependencies"].as_array().expect("dependencies");
        let counted = dependencies.iter().filter(|one| with_development || one["kind"] != "dev");
        counted.map(|one| text(&one["name"])).filter(|name| names.contains(name)).collect()
    };
    packages.iter().map(|package| (text(&package["name"]), of(package))).collect()
}

fn text(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}

/// Everything a crate reaches.
fn reached(from: &str, arrows: &BTreeMap<String, BTreeSet<String>>) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let mut todo = vec![from.to_owned()];
    while let Some(name) = todo.pop() {
        for next in arrows.get(&name).into_iter().flatten() {
            if found.insert(next.clone()) {
                todo.push(next.clone());
            }
        }
    }
    found
}

fn set(names: &[&str]) -> BTreeSet<String> {
    names.iter().map(|&name| name.to_owned()).collect()
}

#[test]
fn arrows_run_one_way() {
    let arrows = arrows(false);
    assert_eq!(reached("redtag-schema", &arrows), set(&[]));
    assert_eq!(reached("redtag-handbook", &arrows), set(&["redtag-schema"]));
    assert_eq!(reached("redtag-rule", &arrows), set(&["redtag-schema"]));
    for shared in ["redtag-rule-load", "redtag-rule-space"] {
        assert_eq!(reached(shared, &arrows), set(&["redtag-schema", "redtag-handbook", "redtag-rule"]));
    }
    assert_eq!(reached("redtag-rule-testing", &arrows), set(&["redtag-schema", "redtag-rule"]));
    assert_eq!(reached("redtag-module-builder", &arrows), set(&[]));
    assert_eq!(reached("redtag", &arrows), set(&["redtag-schema", "redtag-module-builder"]));
}

#[test]
fn the_engine_meets_rules_only_through_webassembly() {
    let engine = reached("redtag", &arrows(true));
    let families = families().into_iter().map(|family| format!("redtag-{family}"));
    let ours =
        ["redtag-handbook", "redtag-rule", "redtag-rule-load", "redtag-rule-registry", "redtag-rule-space"].map(str::to_owned);
    for absent in families.chain(ours) {
        assert!(!engine.contains(&absent), "the engine links {absent}");
    }
}

#[test]
fn a_rule_family_links_the_handbook_and_the_sdk_and_nothing_else_of_ours() {
    let arrows = arrows(false);
    let families = families();
    assert!(families.len() >= 2, "{families:?}");
    for family in families {
        let allowed = set(&[
            "redtag-schema",
            "redtag-handbook",
            "redtag-rule",
            "redtag-rule-load",
            "redtag-rule-registry",
            "redtag-rule-space",
        ]);
        let crate_name = format!("redtag-{family}");
        let reached = reached(&crate_name, &arrows);
        assert!(reached.is_subset(&allowed), "{crate_name} links {reached:?}");
    }
}

/// The folders under rules/ that hold rules.
fn families() -> Vec<String> {
    let folders = fs::read_dir(root().join("rules")).expect("rules/").map(|entry| entry.expect("an entry").path());
    let named = folders.filter(|folder| folder.join("src/rules").is_dir());
    named.map(|folder| folder.file_name().unwrap_or_default().to_string_lossy().into_owned()).collect()
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

#[test]
fn every_rule_file_is_formatted() {
    // Rule files are reached through a derived list, which `cargo fmt` does not follow.
    let rules: Vec<PathBuf> =
        families().iter().flat_map(|family| rust_files(&root().join("rules").join(family).join("src/rules"))).collect();
    let output = Command::new("rustfmt").args(["--check", "--edition", "2024"]).args(&rules).current_dir(root()).output();
    let Ok(output) = output else { return println!("rustfmt is not installed: not checked") };
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stdout));
}

#[test]
fn no_prebuilt_module_is_kept_except_the_frozen_ones() {
    let output = Command::new("git").args(["ls-files", "*.wasm"]).current_dir(root()).output();
    let Ok(output) = output else { return println!("git is not installed: not checked") };
    for file in String::from_utf8_lossy(&output.stdout).lines() {
        assert!(file.starts_with("tests/frozen/"), "{file} is a prebuilt module");
    }
}
