//! What the tests of the program share: packs and projects written into a folder of their own, and the program run in it.

#![allow(dead_code, reason = "each test file uses its part")]

use assert_cmd::Command;
use redtag_module_builder::digest;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use tempfile::TempDir;

pub type Outcome = Result<(), Box<dyn std::error::Error>>;

/// A folder to run the program in.
pub struct Bench {
    folder: TempDir,
}

impl Bench {
    pub fn new() -> Result<Self, Box<dyn std::error::Error>> {
        Ok(Self { folder: tempfile::tempdir()? })
    }

    pub fn path(&self) -> &Path {
        self.folder.path()
    }

    /// The program, told nothing by the environment of whoever runs the tests.
    pub fn redtag(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_program"));
        command.current_dir(self.path()).args(arguments);
        for name in ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE", "TERM", "RUST_LOG", "RUST_BACKTRACE"] {
            command.env_remove(name);
        }
        // One cache for all: keyed by what it holds, so no test can tell whether another filled it.
        command.env("REDTAG_CACHE", Path::new(env!("CARGO_TARGET_TMPDIR")).join("redtag-cache"));
        command
    }

    pub fn write(&self, name: &str, content: impl AsRef<[u8]>) -> Result<PathBuf, Box<dyn std::error::Error>> {
        let path = self.path().join(name);
        if let Some(folder) = path.parent() {
            std::fs::create_dir_all(folder)?;
        }
        std::fs::write(&path, content)?;
        Ok(path)
    }

    /// A project with a boiler and a panel, each on lines of its own.
    pub fn project(&self, name: &str, more: &str) -> Outcome {
        let text = format!(
            "{{\n  \"schema\": 1,\n  \"name\": \"Gull Point boathouse\",\n  \"application_date\": \"2025-03-14\",{more}\n  \"equipment\": [\n    \
             {{ \"id\": \"b-1\", \"kind\": \"boiler\" }},\n    {{ \"id\": \"p-1\", \"kind\": \"panel\" }}\n  ]\n}}\n"
        );
        self.write(name, text)?;
        Ok(())
    }

    /// A built pack of modules, standing on nothing.
    pub fn pack(&self, name: &str, modules: &[(&str, Vec<u8>)]) -> Outcome {
        let mut entries = Vec::new();
        for (module, wasm) in modules {
            let file = format!("modules/{module}.wasm");
            self.write(&format!("{name}/{file}"), wasm)?;
            entries.push(json!({"name": module, "file": file, "sha256": digest(wasm)}));
        }
        let manifest = json!({
            "schema": 1, "name": name, "version": "1.0.0", "title": "A pack made for tests",
            "authority": {"name": "Nobody"}, "contract": "1.0", "modules": entries,
        });
        self.write(&format!("{name}/pack.json"), format!("{manifest:#}\n"))?;
        Ok(())
    }
}

/// A finding of the rule `hostile/MODULE` about a piece of equipment.
pub fn finding(module: &str, at: usize, outcome: &str, words: &str) -> Value {
    json!({
        "rule": format!("hostile/{module}"), "outcome": outcome,
        "subject": {"pointer": format!("/equipment/{at}"), "label": format!("equipment {at}")},
        "summary": {"template": words},
    })
}

/// A module that answers every request with these findings.
pub fn answering(module: &str, findings: &[Value]) -> Result<(String, Vec<u8>), Box<dyn std::error::Error>> {
    let answer = json!({"schema": 1, "findings": findings}).to_string();
    Ok((module.to_owned(), redtag_tests::answering(module, &answer)?))
}

/// What the program said: exit code, standard output, standard error.
pub fn said(command: &mut Command) -> (i32, String, String) {
    let output = command.output().expect("the program starts");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("the program writes UTF-8");
    (output.status.code().expect("the program ends by itself"), text(output.stdout), text(output.stderr))
}
