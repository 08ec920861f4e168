//! The manifest `pack.json` as the builder needs it: its modules and its lists of files.

use crate::error::BuildError;
use crate::files::check_name;
use redtag_schema::pack::{self, ModuleEntry};
use serde_json::{Map, Value};
use serde_path_to_error::Segment;
use std::fs;
use std::path::{Path, PathBuf};

/// The manifest of a pack's source.
#[derive(Debug)]
pub(crate) struct Manifest {
    path: PathBuf,
    /// As its author wrote it; the finished pack's manifest keeps what we do not know.
    pub(crate) value: Map<String, Value>,
    content: pack::Manifest,
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
    File { name: String, sha256: Option<String> },
}

impl Manifest {
    pub(crate) fn read(folder: &Path) -> Result<Self, BuildError> {
        let path = folder.join("pack.json");
        let text = fs::read_to_string(&path).map_err(BuildError::at(&path))?;
        let value = serde_json::from_str::<Value>(&text).map_err(|error| {
            let place = format!("line {}, column {}", error.line(), error.column());
            complaint(&path, &place, &format!("not JSON: {error}"))
        })?;
        let Value::Object(fields) = &value else {
            return Err(complaint(&path, "/", "expected an object: the pack's manifest"));
        };
        let fields = fields.clone();
        let content = serde_path_to_error::deserialize(value)
            .map_err(|error| complaint(&path, &pointer(error.path()), &error.inner().to_string()))?;
        Ok(Self { path, value: fields, content })
    }

    /// A complaint about a place in the manifest.
    pub(crate) fn error(&self, pointer: &str, reason: &str) -> BuildError {
        complaint(&self.path, pointer, reason)
    }

    /// The modules, with folders and files taken from the manifest's folder.
    pub(crate) fn modules(&self) -> Result<Vec<Entry>, BuildError> {
        let mut modules: Vec<Entry> = Vec::new();
        for (index, entry) in self.content.modules.iter().enumerate() {
            let module = self.module(&format!("/modules/{index}"), entry)?;
            if modules.iter().any(|other| other.name == module.name) {
                return Err(self.error(&format!("/modules/{index}/name"), &format!("two modules are named `{}`", module.name)));
            }
            modules.push(module);
        }
        Ok(modules)
    }

    fn module(&self, pointer: &str, entry: &ModuleEntry) -> Result<Entry, BuildError> {
        let name = entry.name.clone();
        let plain = |character: char| character.is_ascii_lowercase() || character.is_ascii_digit() || character == '-';
        if name.is_empty() || !name.chars().all(plain) {
            let reason = format!("`{name}` is no module name: expected small letters, digits and -, as in combustion-air");
            return Err(self.error(&format!("{pointer}/name"), &reason));
        }
        let origin = match (&entry.source, &entry.file) {
            (Some(source), None) => Origin::Source(self.folder().join(source)),
            (None, Some(file)) => {
                check_name(file).map_err(|reason| self.error(&format!("{pointer}/file"), &format!("the name {reason}")))?;
                Origin::File { name: file.to_owned(), sha256: entry.sha256.clone() }
            }
            _ => {
                let reason = "expected either `source`, the folder of a rule crate, or `file`, a finished component";
                return Err(self.error(pointer, reason));
            }
        };
        Ok(Entry { name, origin })
    }

    /// The files and folders listed in `cases`.
    pub(crate) fn cases(&self) -> Result<Vec<String>, BuildError> {
        let mut names = Vec::new();
        for (index, case) in self.content.cases.iter().enumerate() {
            let name = case.trim_end_matches('/');
            check_name(name).map_err(|reason| self.error(&format!("/cases/{index}"), &format!("the name {reason}")))?;
            names.push(name.to_owned());
        }
        Ok(names)
    }

    pub(crate) fn folder(&self) -> &Path {
        self.path.parent().unwrap_or(Path::new("."))
    }
}

fn complaint(path: &Path, pointer: &str, reason: &str) -> BuildError {
    BuildError::Manifest { path: path.to_owned(), pointer: pointer.to_owned(), reason: reason.to_owned() }
}

/// The place where a typed reading stopped; the top is `/` here, where a person reads it.
fn pointer(path: &serde_path_to_error::Path) -> String {
    let step = |segment: &Segment| match segment {
        Segment::Seq { index } => format!("/{index}"),
        Segment::Map { key } => format!("/{}", key.replace('~', "~0").replace('/', "~1")),
        Segment::Enum { .. } | Segment::Unknown => String::new(),
    };
    let steps: String = path.iter().map(step).collect();
    if steps.is_empty() { "/".to_owned() } else { steps }
}
