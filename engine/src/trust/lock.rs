//! The lock file of a repository: which packs its projects are reviewed by, to the byte.

use super::open::Opened;
use super::signers::TrustFile;
use crate::diagnostic::{Code, Diagnostic, quoted};
use crate::document::{Checker, Document, Format, Limits, read};
use crate::pack::Pack;
use redtag_schema::lock::{Lock, LockedPack, SCHEMA};
use redtag_schema::review::Tool;
use std::path::{Component, Path, PathBuf};
use std::sync::LazyLock;

/// The name of a lock file.
pub const LOCK: &str = "redtag.lock";

static FORMAT: LazyLock<Result<Format, Diagnostic>> = LazyLock::new(|| {
    let schema = schemars::schema_for!(Lock).to_value();
    Ok(Format { name: "lock file", version: u64::from(SCHEMA), checker: Checker::new(schema)? })
});

/// A lock file that was read.
#[derive(Debug)]
pub struct LockFile {
    document: Document<Lock>,
    path: PathBuf,
    trust: Option<TrustFile>,
}

impl LockFile {
    /// The lock file that governs a project: beside it or in a folder above, the nearest one. What lies above the root of the
    /// git repository does not count.
    pub fn find(project: &Path) -> Option<PathBuf> {
        let project = std::path::absolute(project).ok()?;
        for folder in project.ancestors().skip(1) {
            let lock = folder.join(LOCK);
            if lock.is_file() {
                // Shown the way the user sees it.
                let here = std::env::current_dir().ok();
                let seen = here.and_then(|here| lock.strip_prefix(here).map(Path::to_owned).ok());
                return Some(seen.unwrap_or(lock));
            }
            if folder.join(".git").exists() {
                return None;
            }
        }
        None
    }

    /// Reads a lock file, and the trust file it names.
    ///
    /// # Errors
    /// Every complaint about them.
    pub fn read(path: &Path) -> Result<Self, Vec<Diagnostic>> {
        let format = FORMAT.as_ref().map_err(|error| vec![error.clone()])?;
        let document: Document<Lock> = read(path, format, &Limits::default())?;
        let mut lock = Self { document, path: path.to_owned(), trust: None };
        if let Some(complaint) = lock.twice() {
            return Err(vec![complaint]);
        }
        if let Some(named) = lock.document.content.trust.clone() {
            let Some(file) = below(path, &named) else {
                let complaint = Diagnostic::error(Code::BadTrustPath, format!("{} is no path to a trust file", quoted(&named)));
                let complaint = complaint.expected("a path from the lock file's folder downwards, folders written with /");
                return Err(vec![lock.locate(complaint, "/trust")]);
            };
            lock.trust = Some(TrustFile::read(&file)?);
        }
        Ok(lock)
    }

    /// Where it lies.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The trust file it names.
    pub fn trust(&self) -> Option<&TrustFile> {
        self.trust.as_ref()
    }

    /// Whether the pack is one that is locked.
    ///
    /// # Errors
    /// It is another, or none of its name is locked.
    pub fn allows(&self, pack: &Pack) -> Result<(), Diagnostic> {
        self.differs(pack).map_or(Ok(()), Err)?;
        if self.entry(pack).is_some() {
            return Ok(());
        }
        let named = self.document.content.packs.iter().filter(|locked| locked.name == pack.name());
        let versions: Vec<String> = named.map(|locked| locked.version.to_string()).collect();
        let message = format!("{} ({}) is not locked; its digest is {}", pack.label(), pack.origin(), pack.digest());
        let complaint = Diagnostic::error(Code::PackNotLocked, message);
        let complaint = match versions.as_slice() {
            [] => complaint.expected(format!("a pack that {} names", self.path.display())),
            versions => complaint.expected(format!("`{}` in the version {}", pack.name(), versions.join(" or "))),
        };
        let pointer = self.document.content.packs.iter().position(|locked| locked.name == pack.name());
        let pointer = pointer.map_or_else(|| "/packs".to_owned(), |index| format!("/packs/{index}/version"));
        Err(self.locate(complaint.help(self.advice(pack)), &pointer))
    }

    /// What is wrong when a pack has the name and version of a locked one, and is another.
    pub fn differs(&self, pack: &Pack) -> Option<Diagnostic> {
        let (index, locked) = self.entry(pack).filter(|(_, locked)| locked.digest != pack.digest())?;
        let message =
            format!("{} ({}) is not the one that is locked: its digest is {}", pack.label(), pack.origin(), pack.digest());
        let complaint = Diagnostic::error(Code::PackDrift, message).expected(format!("digest {}", locked.digest));
        Some(self.locate(complaint.help(self.advice(pack)), &format!("/packs/{index}/digest")))
    }

    fn advice(&self, pack: &Pack) -> String {
        let lock = self.path.display();
        if pack.is_embedded() {
            let wrote = &self.document.content.tool.version;
            return format!(
                "this pack is part of redtag {}: use redtag {wrote}, which wrote the lock file, or look the difference over and \
                 write {lock} again with `redtag pack lock`",
                env!("CARGO_PKG_VERSION")
            );
        }
        format!(
            "fetch the locked pack again; where the change is meant, look it over and write {lock} again with `redtag pack lock`"
        )
    }

    fn entry(&self, pack: &Pack) -> Option<(usize, &LockedPack)> {
        let mut packs = self.document.content.packs.iter().enumerate();
        packs.find(|(_, locked)| locked.name == pack.name() && locked.version == *pack.version())
    }

    fn twice(&self) -> Option<Diagnostic> {
        let packs = &self.document.content.packs;
        let same =
            |at: usize| packs[..at].iter().any(|other| (&other.name, &other.version) == (&packs[at].name, &packs[at].version));
        let at = (0..packs.len()).find(|&at| same(at))?;
        let message = format!("pack `{}` {} is locked twice", packs[at].name, packs[at].version);
        let complaint = Diagnostic::error(Code::LockedTwice, message).help("write the lock file again with `redtag pack lock`");
        Some(self.locate(complaint, &format!("/packs/{at}")))
    }

    fn locate(&self, complaint: Diagnostic, pointer: &str) -> Diagnostic {
        complaint.at(&self.document.source, self.document.spans.nearest(pointer)).pointer(pointer)
    }
}

/// The file a relative path leads to, if it stays below the lock file's folder.
fn below(lock: &Path, named: &str) -> Option<PathBuf> {
    let path = Path::new(named);
    let plain = !named.contains('\\') && path.components().all(|part| matches!(part, Component::Normal(_)));
    (plain && !named.is_empty()).then(|| lock.with_file_name("").join(path))
}

/// How a lock file at this place names a trust file; `None` where the trust file does not lie beside or below it.
pub fn trust_path(lock: &Path, trust: &Path) -> Option<String> {
    let lock = std::path::absolute(lock).ok()?;
    let trust = std::path::absolute(trust).ok()?;
    let relative = trust.strip_prefix(lock.parent()?).ok()?;
    let parts: Option<Vec<&str>> = relative.components().map(|part| part.as_os_str().to_str()).collect();
    let named = parts?.join("/");
    below(&lock, &named).map(|_| named)
}

/// The lock of packs: those given, and the one built into the program where none given has its name and version.
///
/// # Errors
/// Two different packs have the same name and version.
pub fn lock(packs: &[Opened], embedded: Option<&Pack>, trust: Option<String>) -> Result<Lock, Vec<Diagnostic>> {
    let mut locked: Vec<LockedPack> = Vec::new();
    let mut complaints = Vec::new();
    for Opened { pack, seal } in packs {
        let same = locked.iter().find(|other| other.name == pack.name() && other.version == *pack.version());
        match same {
            Some(other) if other.digest == pack.digest() => {}
            Some(_) => complaints.push(two_of_a_name(pack)),
            None => locked.push(entry(pack, Some(seal.archive_sha256().to_owned()))),
        }
    }
    if let Some(pack) = embedded
        && !locked.iter().any(|other| other.name == pack.name() && other.version == *pack.version())
    {
        locked.push(entry(pack, None));
    }
    if !complaints.is_empty() {
        return Err(complaints);
    }
    locked.sort_by(|left, right| (&left.name, &left.version).cmp(&(&right.name, &right.version)));
    let tool = Tool { name: "redtag".to_owned(), version: env!("CARGO_PKG_VERSION").to_owned() };
    Ok(Lock { schema: SCHEMA, tool, trust, packs: locked })
}

fn entry(pack: &Pack, archive_sha256: Option<String>) -> LockedPack {
    let contract = pack.manifest().contract.clone();
    let (name, version, digest) = (pack.name().to_owned(), pack.version().clone(), pack.digest().to_owned());
    LockedPack { name, version, contract, digest, archive_sha256 }
}

fn two_of_a_name(pack: &Pack) -> Diagnostic {
    let message = format!("{} ({}) is given twice, and the two are different packs", pack.label(), pack.origin());
    let complaint = Diagnostic::error(Code::TwoVersions, message).help("leave one of them out, or give it a version of its own");
    pack.locate(complaint, "/version")
}
