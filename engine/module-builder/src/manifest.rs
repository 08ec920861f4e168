//! The manifest `pack.json` as the builder needs it: its modules and its lists of files.

use crate::error::BuildError;
use crate::files::check_name;
use serde_json::{Map, Value};
use std::fs;
use std::path::{Path, PathBuf};

/// The manifest of a pack's source.
#[derive(Debug)]
pub(crate) struct Manifest {
    path: PathBuf,
    pub(crate) value: Map<String, Value>,
}

/// One entry of `modules`.
#[derive(Debug)]
pub(crate) struct Entry {
    pub(crate) name: String,
    pub(crate) origin: Origin,
}

/// Where a module comes from.
#[derive(Debug)]
pub(crate) enum Origin {
    /// A crate's folder.
    Source(PathBuf),
    /// A finished component, with the digest it must have where one is given.
    File { path: PathBuf, sha256: Option<String> },
}

impl Manifest {
    pub(crate) fn read(folder: &Path) -> Result<Self, BuildError> {
        let path = folder.join("pack.json");
        let text = fs::read_to_string(&path).map_err(BuildError::at(&path))?;
        match serde_json::from_str(&text) {
            Ok(Value::Object(value)) => Ok(Self { path, value }),
            Ok(_) => Err(Self { path, value: Map::new() }.error("/", "expected an object: the pack's manifest")),
            Err(error) => {
                let place = format!("line {}, column {}", error.line(), error.column());
                Err(Self { path, value: Map::new() }.error(&place, &format!("not JSON: {error}")))
            }
        }
    }

    /// A complaint about a place in the manifest.
    pub(crate) fn error(&self, pointer: &str, reason: &str) -> BuildError {
        BuildError::Manifest { path: self.path.clone(), pointer: pointer.to_owned(), reason: reason.to_owned() }
    }

    /// The modules, with folders and files taken from the manifest's folder.
    pub(crate) fn modules(&self) -> Result<Vec<Entry>, BuildError> {
        let entries = self.list("modules")?;
        let mut modules: Vec<Entry> = Vec::new();
        for (index, entry) in entries.iter().enumerate() {
            let module = self.module(&format!("/modules/{index}"), entry)?;
            if modules.iter().any(|other| other.name == module.name) {
                return Err(self.error(&format!("/modules/{index}/name"), &format!("two modules are named `{}`", module.name)));
            }
            modules.push(module);
        }
        Ok(modules)
    }

    fn module(&self, pointer: &str, entry: &Value) -> Result<Entry, BuildError> {
        let text = |field: &str| entry.get(field).and_then(Value::as_str);
        let name = text("name").ok_or_else(|| self.error(&format!("{pointer}/name"), "expected the module's name"))?;
        let plain = |character: char| character.is_ascii_lowercase() || character.is_ascii_digit() || character == '-';
        if name.is_empty() || !name.chars().all(plain) {
            let reason = format!("`{name}` is no module name: expected small letters, digits and -, as in combustion-air");
            return Err(self.error(&format!("{pointer}/name"), &reason));
        }
        let origin = match (text("source"), text("file")) {
            (Some(source), None) => Origin::Source(self.folder().join(source)),
            (None, Some(file)) => {
                check_name(file).map_err(|reason| self.error(&format!("{pointer}/file"), &format!("the name {reason}")))?;
                Origin::File { path: self.folder().join(file), sha256: text("sha256").map(str::to_owned) }
            }
            _ => {
                let reason = "expected either `source`, the folder of a rule crate, or `file`, a finished component";
                return Err(self.error(pointer, reason));
            }
        };
        Ok(Entry { name: name.to_owned(), origin })
    }

    /// The files and folders listed in `cases`.
    pub(crate) fn cases(&self) -> Result<Vec<String>, BuildError> {
        let mut names = Vec::new();
        for (index, case) in self.list("cases")?.iter().enumerate() {
            let pointer = format!("/cases/{index}");
            let name = case.as_str().ok_or_else(|| self.error(&pointer, "expected the name of a file or folder"))?;
            let name = name.trim_end_matches('/');
            check_name(name).map_err(|reason| self.error(&pointer, &format!("the name {reason}")))?;
            names.push(name.to_owned());
        }
        Ok(names)
    }

    fn list(&self, field: &str) -> Result<&[Value], BuildError> {
        match self.value.get(field) {
            None => Ok(&[]),
            Some(Value::Array(list)) => Ok(list),
            Some(_) => Err(self.error(&format!("/{field}"), "expected a list")),
        }
    }

    pub(crate) fn folder(&self) -> &Path {
        self.path.parent().unwrap_or(Path::new("."))
    }
}
