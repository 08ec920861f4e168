//! The lock file of a repository: which packs its projects are reviewed by, to the byte.

use super::open::Opened;
use super::signers::TrustFile;
use crate::diagnostic::{Code, Diagnostic, quoted};
use crate::document::{Checker, Document, Format, Limits, read};
use crate::pack::Pack;
use redtag_schema::lock::{Lock, LockedPack, SCHEMA};
use redtag_schema::review::Tool;
use std::collections::BTreeSet;
use std::path::{Component, Path, PathBuf};
use std::sync::{Arc, LazyLock};

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
    variance_signers: Option<Arc<TrustFile>>,
}

impl LockFile {
    /// The lock files that govern a project: beside it and in every folder above, the outermost first. What lies above the root
    /// of the repository does not count; where a repository lies in another, as a submodule does, the root is the outer one's. A
    /// project that is reached through a link is governed from both sides.
    pub fn find(project: &Path) -> Vec<PathBuf> {
        let folder = |path: &Path| path.parent().map(Path::to_owned);
        let named = std::path::absolute(project).ok().as_deref().and_then(folder);
        let real = project.canonicalize().ok().as_deref().and_then(folder);
        let mut locks: Vec<PathBuf> = Vec::new();
        for folder in [named, real].into_iter().flatten() {
            locks.extend(Self::above(&folder));
        }
        // The same file by two names counts once.
        let mut seen = BTreeSet::new();
        locks.retain(|lock| seen.insert(lock.canonicalize().unwrap_or_else(|_| lock.clone())));
        let here = std::env::current_dir().ok();
        let seen = |lock: PathBuf| {
            // Shown the way the user sees it.
            let short = here.as_ref().and_then(|here| lock.strip_prefix(here).map(Path::to_owned).ok());
            short.unwrap_or(lock)
        };
        locks.into_iter().map(seen).collect()
    }

    fn above(folder: &Path) -> Vec<PathBuf> {
        let folders: Vec<&Path> = folder.ancestors().collect();
        let root = folders.iter().rposition(|folder| folder.join(".git").exists());
        let below_root = &folders[..root.map_or(folders.len(), |root| root + 1)];
        let locks = below_root.iter().rev().map(|folder| folder.join(LOCK));
        // A link that leads nowhere is no absent file: reading it fails, and says so.
        locks.filter(|lock| lock.symlink_metadata().is_ok()).collect()
    }

    /// Reads a lock file, and the trust file it names.
    ///
    /// # Errors
    /// Every complaint about them.
    pub fn read(path: &Path) -> Result<Self, Vec<Diagnostic>> {
        let format = FORMAT.as_ref().map_err(|error| vec![error.clone()])?;
        let document: Document<Lock> = read(path, format, &Limits::default())?;
        let mut lock = Self { document, path: path.to_owned(), trust: None, variance_signers: None };
        if let Some(complaint) = lock.twice() {
            return Err(vec![complaint]);
        }
        let Lock { trust, variance_signers, .. } = &lock.document.content;
        let (trust, signers) = (trust.clone(), variance_signers.clone());
        lock.trust = trust.map(|named| lock.signers(&named, "/trust")).transpose()?;
        lock.variance_signers = signers.map(|named| lock.signers(&named, "/variance_signers").map(Arc::new)).transpose()?;
        Ok(lock)
    }

    /// The file of allowed signers that stands in a field.
    fn signers(&self, named: &str, pointer: &str) -> Result<TrustFile, Vec<Diagnostic>> {
        let Some(file) = below(&self.path, named) else {
            let complaint = Diagnostic::error(Code::BadTrustPath, format!("{} is no path to a file of signers", quoted(named)));
            let complaint = complaint.expected("a path from the lock file's folder downwards, folders written with /");
            return Err(vec![self.locate(complaint, pointer)]);
        };
        TrustFile::read(&file)
    }

    /// Where it lies.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The trust file it names.
    pub fn trust(&self) -> Option<&TrustFile> {
        self.trust.as_ref()
    }

    /// Whose signatures a variance needs, where it needs one.
    pub fn variance_signers(&self) -> Option<&Arc<TrustFile>> {
        self.variance_signers.as_ref()
    }

    /// The names of the packs that are locked and not built into the program.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.document.content.packs.iter().filter(|locked| locked.archive_sha256.is_some()).map(|locked| locked.name.as_str())
    }

    /// What is wrong where a project does not stand on a pack every project is to stand on.
    pub fn lacks(&self, stands_on: &[&str]) -> Vec<Diagnostic> {
        let required = self.document.content.required.iter().enumerate();
        let absent = required.filter(|(_, name)| !stands_on.contains(&name.as_str()));
        let complain = |(index, name): (usize, &String)| {
            let message = format!(
                "{} says that every project here stands on pack {}, and this one stands on {}",
                self.path.display(),
                quoted(name),
                stands_on.join(", ")
            );
            let complaint = Diagnostic::error(Code::RequiredPackDropped, message)
                .expected(format!("`{name}` among the packs of the project, or below one of them"))
                .help(format!("write {{\"name\": \"{name}\"}} into the project's `packs`"));
            self.locate(complaint, &format!("/required/{index}"))
        };
        absent.map(complain).collect()
    }

    /// What is wrong where this lock file and one in a folder above it do not name the same packs.
    pub fn disagrees(&self, outer: &Self) -> Vec<Diagnostic> {
        let ours = self.document.content.packs.iter().enumerate();
        let theirs = |locked: &LockedPack| outer.document.content.packs.iter().any(|other| same_pack(other, locked));
        let complain = |(index, locked): (usize, &LockedPack)| {
            let message = format!(
                "{} locks {} {} with a digest that {} above it does not name",
                self.path.display(),
                locked.name,
                locked.version,
                outer.path.display()
            );
            let complaint = Diagnostic::error(Code::LocksDisagree, message)
                .expected(format!("packs that {} locks too", outer.path.display()))
                .help("look the pack over and lock it in the outer file, or write the inner one again with `redtag pack lock`");
            self.locate(complaint, &format!("/packs/{index}"))
        };
        ours.filter(|(_, locked)| !theirs(locked)).map(complain).collect()
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

fn same_pack(left: &LockedPack, right: &LockedPack) -> bool {
    (&left.name, &left.version, &left.digest) == (&right.name, &right.version, &right.digest)
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

/// What a lock file says besides which packs there are.
#[derive(Debug, Clone, Default)]
pub struct Demands {
    /// The trust file, as [`trust_path`] names it.
    pub trust: Option<String>,
    /// Packs on which every project must stand.
    pub required: Vec<String>,
    /// The file of those who sign variances, as [`trust_path`] names it.
    pub variance_signers: Option<String>,
}

/// The lock of packs: those given, and the one built into the program where none given has its name and version.
///
/// # Errors
/// Two different packs have the same name and version; a pack is demanded that is not locked.
pub fn lock(packs: &[Opened], embedded: Option<&Pack>, demands: Demands) -> Result<Lock, Vec<Diagnostic>> {
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
    let Demands { trust, required, variance_signers } = demands;
    let absent = required.iter().filter(|name| !locked.iter().any(|pack| pack.name == **name));
    complaints.extend(absent.map(|name| {
        let message = format!("every project is to stand on pack {}, which is not among the packs to lock", quoted(name));
        Diagnostic::error(Code::RequiredPackDropped, message).help("name its folder or archive with --packs")
    }));
    if !complaints.is_empty() {
        return Err(complaints);
    }
    locked.sort_by(|left, right| (&left.name, &left.version).cmp(&(&right.name, &right.version)));
    let tool = Tool { name: "redtag".to_owned(), version: env!("CARGO_PKG_VERSION").to_owned() };
    Ok(Lock { schema: SCHEMA, tool, trust, required, variance_signers, packs: locked })
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
