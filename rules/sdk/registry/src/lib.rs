//! Derives the list of a module's rules from its folder, with the doc comment of each file as product text and the case
//! file beside it. Called by the one-line build script of a rule module.

#![expect(clippy::print_stdout, reason = "a build script speaks to cargo through its standard output")]

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

/// Writes `OUT_DIR/rules.rs` from `src/rules/*.rs`: one `mod` and one `Entry` per file.
///
/// # Errors
/// When a folder or file cannot be read or the list cannot be written.
pub fn derive() -> io::Result<()> {
    let root = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").ok_or_else(|| missing("CARGO_MANIFEST_DIR"))?);
    let out = PathBuf::from(env::var_os("OUT_DIR").ok_or_else(|| missing("OUT_DIR"))?);
    let folder = root.join("src/rules");
    println!("cargo::rerun-if-changed={}", folder.display());
    fs::write(out.join("rules.rs"), registry(&rule_files(&folder)?)?)
}

fn missing(variable: &str) -> io::Error {
    io::Error::other(format!("{variable} is not set: derive() is meant for build scripts"))
}

/// The rule files of a folder, sorted by name.
fn rule_files(folder: &Path) -> io::Result<Vec<PathBuf>> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.extension().is_some_and(|ending| ending == "rs") {
            files.push(path);
        }
    }
    files.sort();
    Ok(files)
}

fn registry(files: &[PathBuf]) -> io::Result<String> {
    let mut modules = String::new();
    let mut entries = String::new();
    let mut reads = String::new();
    for file in files {
        println!("cargo::rerun-if-changed={}", file.display());
        let stem = file.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let purpose = doc_comment(&fs::read_to_string(file)?);
        let cases = file.with_extension("md");
        let cases = if cases.exists() { format!("include_str!({cases:?})") } else { "\"\"".to_owned() };
        let _ = writeln!(modules, "#[path = {file:?}]\npub mod {stem};");
        let _ = writeln!(reads, "    {stem}::RULE.reads,");
        let _ = writeln!(
            entries,
            "    ::redtag_rule::Entry {{ file: {stem:?}, purpose: {purpose:?}, cases: {}, rule: &{stem}::RULE }},",
            if_test(&cases)
        );
    }
    Ok(format!(
        "{modules}\n/// The rules of this module, by file.\npub static RULES: &[::redtag_rule::Entry] = &[\n{entries}];\n\n\
         /// What each of them reads.\npub const READS: &[&[&str]] = &[\n{reads}];\n"
    ))
}

/// Case files are only carried by tests: a module for shipping does not hold them.
fn if_test(cases: &str) -> String {
    format!("{{ #[cfg(test)] {{ {cases} }} #[cfg(not(test))] {{ \"\" }} }}")
}

/// The text of the `//!` lines a file opens with.
fn doc_comment(source: &str) -> String {
    let lines = source.lines().take_while(|line| line.starts_with("//!"));
    let text: Vec<&str> =
        lines.map(|line| line.trim_start_matches("//!")).map(|line| line.strip_prefix(' ').unwrap_or(line)).collect();
    text.join("\n").trim().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_doc_comment_is_the_product_text() {
        let source = "//! One line.\n//!\n//! - a list\n//!   goes on\n\nuse a::b;\n//! not this\n";
        assert_eq!(doc_comment(source), "One line.\n\n- a list\n  goes on");
    }
}
