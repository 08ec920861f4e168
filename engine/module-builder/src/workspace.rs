//! What cargo knows about a rule crate: its workspace, its identity, the folders its sources come from.

use crate::error::BuildError;
use crate::run::{cargo, run};
use crate::target::TARGET;
use serde_json::Value;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// A crate of a workspace.
#[derive(Debug, Clone)]
pub(crate) struct Package {
    pub(crate) folder: PathBuf,
    pub(crate) name: String,
    /// How cargo calls it.
    pub(crate) id: String,
    /// Whether its manifest makes it a library that WebAssembly can be made of.
    pub(crate) makes_cdylib: bool,
}

/// The workspace of a rule crate, with the packages it is built from.
#[derive(Debug)]
pub(crate) struct Workspace {
    root: PathBuf,
    members: Vec<Package>,
    /// Folders that hold the sources of packages from elsewhere, each with the name that stands for it in a module.
    elsewhere: BTreeSet<(PathBuf, String)>,
}

impl Workspace {
    /// Asks cargo about the crate in a folder; fetches what it depends on where that is not here yet.
    pub(crate) fn of(folder: &Path) -> Result<Self, BuildError> {
        let failed = |reason: String| BuildError::Crate { folder: folder.to_owned(), reason };
        let mut command = cargo(folder);
        command.args(["metadata", "--format-version", "1", "--filter-platform", TARGET]);
        let ran = run(&mut command, None).map_err(|error| failed(format!("cargo: {error}")))?;
        let text = ran.text().ok_or_else(|| failed(ran.complaint()))?;
        let value: Value = serde_json::from_str(&text).map_err(|error| failed(error.to_string()))?;
        Self::read(&value).ok_or_else(|| failed("cargo metadata answers in an unknown form".to_owned()))
    }

    fn read(metadata: &Value) -> Option<Self> {
        let root = PathBuf::from(metadata["workspace_root"].as_str()?);
        let own: BTreeSet<&str> = metadata["workspace_members"].as_array()?.iter().filter_map(Value::as_str).collect();
        let (mut members, mut elsewhere) = (Vec::new(), BTreeSet::new());
        for package in metadata["packages"].as_array()? {
            let id = package["id"].as_str()?;
            let folder = Path::new(package["manifest_path"].as_str()?).parent()?.to_owned();
            if own.contains(id) {
                let name = package["name"].as_str()?.to_owned();
                members.push(Package { folder, name, id: id.to_owned(), makes_cdylib: makes_cdylib(package) });
            } else if package["source"].is_null() {
                elsewhere.insert((folder, format!("/{}", package["name"].as_str()?)));
            } else if let Some(registry) = folder.parent() {
                elsewhere.insert((registry.to_owned(), "/registry".to_owned()));
            }
        }
        Some(Self { root, members, elsewhere })
    }

    /// The crate in a folder, if it is a member.
    pub(crate) fn member(&self, folder: &Path) -> Option<&Package> {
        self.members.iter().find(|member| member.folder.canonicalize().is_ok_and(|member| member == folder))
    }

    /// Compiler flags that keep folders of this machine out of the module, so that two checkouts give the same bytes.
    /// Where two prefixes fit, the compiler takes the later.
    pub(crate) fn remaps(&self, target_dir: &Path, sysroot: &Path) -> Vec<String> {
        let home = std::env::var_os("CARGO_HOME").map(PathBuf::from);
        let home = home.or_else(|| Some(std::env::home_dir()?.join(".cargo")));
        let mut pairs: Vec<(PathBuf, String)> = home.into_iter().map(|home| (home, "/cargo".to_owned())).collect();
        pairs.extend(self.elsewhere.iter().cloned());
        pairs.push((sysroot.join("lib/rustlib/src/rust"), "/rust".to_owned()));
        pairs.push((self.root.clone(), String::new()));
        pairs.push((target_dir.to_owned(), "target".to_owned()));
        pairs.iter().map(|(from, to)| format!("--remap-path-prefix={}={to}", from.display())).collect()
    }
}

fn makes_cdylib(package: &Value) -> bool {
    let kinds = package["targets"].as_array().into_iter().flatten().filter_map(|target| target["crate_types"].as_array());
    kinds.flatten().any(|kind| kind == "cdylib")
}
