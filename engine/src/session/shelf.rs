//! The packs at hand, and which of them are wanted.

use super::error::SessionError;
use super::git::Held;
use super::guard::Guard;
use super::law::Law;
use super::settings::Settings;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::document::ProjectDocument;
use crate::pack::{MANIFEST, Pack, base_pack};
use crate::rulebook::{Layers, Wanted, layers};
use crate::trust::{self, Opened, TrustFile};
use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

/// Where packs lie beside a project.
const BESIDE: &str = "packs";
/// How the names of archives end.
pub(super) const ARCHIVES: [&str; 2] = ["zip", "redtag"];

/// The packs at hand.
#[derive(Debug)]
pub struct Shelf {
    embedded: Option<Arc<Pack>>,
    packs: Vec<Opened>,
    wanted: Vec<String>,
    replace_model_code: bool,
    guard: Guard,
    /// What lies beside projects, by folder: projects of one folder share it.
    beside: Mutex<BTreeMap<PathBuf, Neighbours>>,
}

/// The packs of a folder, and what is wrong with others in it.
type Neighbours = (Vec<Opened>, Vec<Diagnostic>);

impl Shelf {
    /// The pack built into the program and those the options name. A pack that is named itself is wanted; those of a folder of
    /// packs are only at hand.
    pub fn open(options: &Settings) -> Result<Self, SessionError> {
        let embedded = match base_pack() {
            Ok(base) => Some(base),
            // A program built without it can still review by packs that stand on none.
            Err(_) if !options.packs.is_empty() => None,
            Err(complaints) => return Err(complaints.into()),
        };
        let guard = Guard::open(options)?;
        let (packs, wanted) = open_all(&options.packs, guard.trust())?;
        let replace_model_code = options.replace_model_code;
        Ok(Self { embedded, packs, wanted, replace_model_code, guard, beside: Mutex::default() })
    }

    /// The layers of a day for the packs wanted and those a project names. What lies in the folder `packs` beside the project
    /// is at hand too.
    ///
    /// # Errors
    /// What keeps the packs from being layered; or that one is not the one locked, or not signed where that is demanded.
    pub fn layers(&self, named: Vec<Wanted>, project: Option<&Path>, date: &str) -> Result<Layers, Vec<Diagnostic>> {
        self.law(named, project, date).map(|law| law.layers)
    }

    /// The same, with whose law it is.
    ///
    /// # Errors
    /// As [`Shelf::layers`].
    pub fn law(&self, named: Vec<Wanted>, project: Option<&Path>, date: &str) -> Result<Law, Vec<Diagnostic>> {
        let locks = self.guard.locks(project)?;
        let (neighbours, broken) = project.map(|file| self.neighbours(file)).unwrap_or_default();
        let at_hand: Vec<Opened> = self.packs.iter().cloned().chain(neighbours).collect();
        let mut doubts: Vec<Diagnostic> = locks.iter().flat_map(|lock| Guard::doubts(lock, &at_hand)).collect();
        doubts.extend(self.impostors(&at_hand));
        if !locks.is_empty() || self.guard.trust().is_some() {
            doubts.extend(broken.iter().cloned());
        }
        if !doubts.is_empty() {
            return Err(doubts);
        }
        let mut wanted = named;
        wanted.extend(self.wanted.iter().map(Wanted::any));
        if wanted.is_empty() {
            wanted.extend(self.embedded.iter().map(|pack| Wanted::any(pack.name())));
        }
        let packs = distinct(self.embedded.iter().cloned().chain(at_hand.iter().map(|one| Arc::clone(&one.pack))));
        let layers = layers(&packs, &wanted, date).map_err(|mut complaints| {
            // A neighbour that cannot be opened may be the one that is missing.
            complaints.extend(broken);
            complaints
        })?;
        let refusals: Vec<Diagnostic> = locks.iter().flat_map(|lock| Guard::refusals(lock, &layers)).collect();
        if !refusals.is_empty() {
            return Err(refusals);
        }
        Law::of(layers, self.embedded.as_deref(), &at_hand, &locks, self.guard.trust())
    }

    /// Packs that call themselves by the name of the one built into the program and are another, where that is not asked for: a
    /// folder beside a project must not become the model code.
    fn impostors(&self, at_hand: &[Opened]) -> Vec<Diagnostic> {
        let Some(model) = self.embedded.as_deref().filter(|_| !self.replace_model_code) else { return Vec::new() };
        let other = |pack: &&Pack| pack.name() == model.name() && pack.digest() != model.digest();
        at_hand.iter().map(|one| &*one.pack).filter(other).map(|pack| impostor(pack, model)).collect()
    }

    /// The packs that were at hand at a revision: beside each project as they were then, and those the settings name as they
    /// were where they lie in the repository. What was refused or allowed then is history: nothing stands guard over it.
    pub fn of_revision(held: &Held, options: &Settings) -> Result<Self, SessionError> {
        let (mut packs, mut wanted) = (Vec::new(), Vec::new());
        for path in &options.packs {
            // A folder with a manifest, or an archive, is named itself.
            let itself = path.is_file() || path.join(MANIFEST).is_file();
            let then = match held.packs(path)? {
                Some(then) => then,
                None => open_all(std::slice::from_ref(path), None)?.0,
            };
            wanted.extend(then.iter().filter(|_| itself).map(|one| one.pack.name().to_owned()));
            packs.extend(then);
        }
        let mut beside = BTreeMap::new();
        for old in held.files.values() {
            let folder = old.path.parent().unwrap_or(Path::new("")).join(BESIDE);
            if let Entry::Vacant(place) = beside.entry(folder) {
                let then = held.packs(place.key())?.unwrap_or_default();
                place.insert((then, Vec::new()));
            }
        }
        let embedded = base_pack().ok();
        let guard = Guard::none();
        Ok(Self { embedded, packs, wanted, replace_model_code: true, guard, beside: Mutex::new(beside) })
    }

    fn neighbours(&self, project: &Path) -> Neighbours {
        let folder = project.parent().unwrap_or(Path::new("")).join(BESIDE);
        let look = || if folder.is_dir() { packs_in(&folder, self.guard.trust()) } else { Neighbours::default() };
        self.beside.lock().unwrap_or_else(PoisonError::into_inner).entry(folder.clone()).or_insert_with(look).clone()
    }
}

fn impostor(pack: &Pack, model: &Pack) -> Diagnostic {
    let message = format!(
        "{} ({}) calls itself by the name of the model code built into redtag, and is another: its digest is {}, the built-in one's {}",
        pack.label(),
        pack.origin(),
        pack.digest(),
        model.digest()
    );
    let complaint = Diagnostic::error(Code::ModelCodeReplaced, message)
        .expected("a name of its own for every pack that is not the model code built into redtag")
        .help("give the pack another name; where it is meant to take the model code's place, say --replace-model-code");
    pack.locate(complaint, "/name")
}

/// The packs at these paths, and the names of those that were named themselves rather than by a folder of packs.
pub(super) fn open_all(paths: &[PathBuf], trust: Option<&TrustFile>) -> Result<(Vec<Opened>, Vec<String>), Vec<Diagnostic>> {
    let (mut packs, mut named, mut complaints) = (Vec::new(), Vec::new(), Vec::new());
    for path in paths {
        if path.is_dir() && !path.join(MANIFEST).exists() {
            let (found, errors) = packs_in(path, trust);
            packs.extend(found);
            complaints.extend(errors);
            continue;
        }
        match trust::open(path, None, trust) {
            Ok(opened) => {
                named.push(opened.pack.name().to_owned());
                packs.push(opened);
            }
            Err(errors) => complaints.extend(errors),
        }
    }
    if complaints.is_empty() { Ok((packs, named)) } else { Err(complaints) }
}

/// The packs a project names, each with the place that names it.
///
/// # Errors
/// Version ranges that are none.
pub(crate) fn named_packs(document: &ProjectDocument) -> Result<Vec<Wanted>, Vec<Diagnostic>> {
    let (mut wanted, mut complaints) = (Vec::new(), Vec::new());
    for (at, reference) in document.project.packs.iter().flatten().enumerate() {
        let Some(name) = reference.name.clone() else {
            complaints.push(complaint(document, &format!("/packs/{at}"), "this pack has no name".to_owned()));
            continue;
        };
        let pointer = format!("/packs/{at}/version");
        let range = reference.version.as_deref().unwrap_or("*");
        match range.parse() {
            Ok(version) => {
                let span = Span::new(&document.source, document.spans.nearest(&format!("/packs/{at}/name")));
                wanted.push(Wanted { name, version, span: Some(span) });
            }
            Err(error) => complaints.push(complaint(document, &pointer, format!("this is no range of versions: {error}"))),
        }
    }
    if complaints.is_empty() { Ok(wanted) } else { Err(complaints) }
}

fn complaint(document: &ProjectDocument, pointer: &str, message: String) -> Diagnostic {
    Diagnostic::error(Code::BadPackReference, message)
        .at(&document.source, document.spans.nearest(pointer))
        .pointer(pointer)
        .expected("a pack's name and the versions that will do, such as {\"name\": \"saltreach-county\", \"version\": \"^1.0\"}")
}

/// What of a project decides by which packs it is reviewed, and nothing else of it.
#[derive(Debug, serde::Deserialize)]
pub(super) struct Head {
    pub(super) application_date: Option<String>,
    #[serde(default)]
    packs: Vec<HeadPack>,
}

#[derive(Debug, serde::Deserialize)]
struct HeadPack {
    name: String,
    version: Option<String>,
}

impl Head {
    /// The packs it names; a range that cannot be read is complained about when the project is read in full.
    pub(super) fn wanted(&self) -> Vec<Wanted> {
        let version = |pack: &HeadPack| pack.version.as_deref().unwrap_or("*").parse().ok();
        let wanted = |pack: &HeadPack| Some(Wanted { name: pack.name.clone(), version: version(pack)?, span: None });
        self.packs.iter().filter_map(wanted).collect()
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
fn packs_in(folder: &Path, trust: Option<&TrustFile>) -> Neighbours {
    let (mut packs, mut complaints) = Neighbours::default();
    let paths = match pack_paths(folder) {
        Ok(paths) => paths,
        Err(errors) => return (packs, errors),
    };
    for path in paths {
        match trust::open(&path, None, trust) {
            Ok(opened) => packs.push(opened),
            Err(errors) => complaints.extend(errors),
        }
    }
    (packs, complaints)
}

/// Where packs lie in a folder, sorted by name.
fn pack_paths(folder: &Path) -> Result<Vec<PathBuf>, Vec<Diagnostic>> {
    let wrong = |error: std::io::Error| {
        let message = format!("the packs in {} cannot be listed: {error}", folder.display());
        vec![Diagnostic::error(Code::UnreadablePacks, message).expected("a pack's folder or archive, or a folder of packs")]
    };
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).map_err(wrong)? {
        let path = entry.map_err(wrong)?.path();
        let archive = path.is_file() && path.extension().is_some_and(|ending| ARCHIVES.iter().any(|known| ending == *known));
        if archive || path.join(MANIFEST).is_file() {
            found.push(path);
        }
    }
    found.sort();
    Ok(found)
}
