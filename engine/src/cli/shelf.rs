//! The packs at hand, and which of them are wanted.

use super::common::PackOptions;
use super::ending::Stop;
use crate::diagnostic::Diagnostic;
use crate::pack::{Layers, MANIFEST, Pack, Wanted, base_pack, layers};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

/// Where packs lie beside a project.
const BESIDE: &str = "packs";

/// The packs at hand.
#[derive(Debug)]
pub struct Shelf {
    packs: Vec<Arc<Pack>>,
    wanted: Vec<String>,
    /// What lies beside projects, by folder: projects of one folder share it.
    beside: Mutex<BTreeMap<PathBuf, Neighbours>>,
}

/// The packs of a folder, and what is wrong with others in it.
type Neighbours = (Vec<Arc<Pack>>, Vec<Diagnostic>);

impl Shelf {
    /// The pack built into the program and those the options name. A pack that is named itself is wanted; those of a folder of
    /// packs are only at hand.
    pub fn open(options: &PackOptions) -> Result<Self, Stop> {
        let base = match base_pack() {
            Ok(base) => vec![base],
            // A program built without it can still review by packs that stand on none.
            Err(_) if !options.packs.is_empty() => Vec::new(),
            Err(complaints) => return Err(complaints.into()),
        };
        let mut shelf = Self { packs: base, wanted: Vec::new(), beside: Mutex::default() };
        let mut complaints = Vec::new();
        for path in &options.packs {
            if path.is_dir() && !path.join(MANIFEST).exists() {
                let (packs, errors) = packs_in(path);
                shelf.packs.extend(packs);
                complaints.extend(errors);
                continue;
            }
            match Pack::open(path) {
                Ok(pack) => {
                    shelf.wanted.push(pack.name().to_owned());
                    shelf.packs.push(Arc::new(pack));
                }
                Err(errors) => complaints.extend(errors),
            }
        }
        if complaints.is_empty() { Ok(shelf) } else { Err(complaints.into()) }
    }

    /// The layers of a day for the packs wanted and those a project names. What lies in the folder `packs` beside the project
    /// is at hand too.
    pub fn layers(&self, named: Vec<Wanted>, project: Option<&Path>, date: &str) -> Result<Layers, Vec<Diagnostic>> {
        let (neighbours, broken) = project.map(|file| self.neighbours(file)).unwrap_or_default();
        let mut wanted = named;
        wanted.extend(self.wanted.iter().map(Wanted::any));
        if wanted.is_empty() {
            wanted.extend(self.packs.iter().filter(|pack| pack.is_embedded()).map(|pack| Wanted::any(pack.name())));
        }
        let at_hand = distinct(self.packs.iter().cloned().chain(neighbours));
        layers(&at_hand, &wanted, date).map_err(|mut complaints| {
            // A neighbour that cannot be opened may be the one that is missing.
            complaints.extend(broken);
            complaints
        })
    }

    fn neighbours(&self, project: &Path) -> Neighbours {
        let folder = project.parent().unwrap_or(Path::new("")).join(BESIDE);
        let look = || if folder.is_dir() { packs_in(&folder) } else { Neighbours::default() };
        self.beside.lock().unwrap_or_else(PoisonError::into_inner).entry(folder.clone()).or_insert_with(look).clone()
    }
}

/// Each pack once: a pack may be named and lie beside the project too.
fn distinct(packs: impl Iterator<Item = Arc<Pack>>) -> Vec<Arc<Pack>> {
    let mut distinct: Vec<Arc<Pack>> = Vec::new();
    for pack in packs {
        if !distinct.iter().any(|other| other.digest() == pack.digest()) {
            distinct.push(pack);
        }
    }
    distinct
}

/// The packs in a folder of packs.
fn packs_in(folder: &Path) -> Neighbours {
    let (mut packs, mut complaints) = Neighbours::default();
    let paths = match pack_paths(folder) {
        Ok(paths) => paths,
        Err(errors) => return (packs, errors),
    };
    for path in paths {
        match Pack::open(&path) {
            Ok(pack) => packs.push(Arc::new(pack)),
            Err(errors) => complaints.extend(errors),
        }
    }
    (packs, complaints)
}

/// Where packs lie in a folder, sorted by name.
fn pack_paths(folder: &Path) -> Result<Vec<PathBuf>, Vec<Diagnostic>> {
    let wrong = |error: std::io::Error| {
        let message = format!("the packs in {} cannot be listed: {error}", folder.display());
        vec![Diagnostic::error("unreadable-packs", message).expected("a pack's folder or archive, or a folder of packs")]
    };
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).map_err(wrong)? {
        let path = entry.map_err(wrong)?.path();
        let archive = path.is_file() && path.extension().is_some_and(|ending| ending == "zip");
        if archive || path.join(MANIFEST).is_file() {
            found.push(path);
        }
    }
    found.sort();
    Ok(found)
}
