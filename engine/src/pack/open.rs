//! A pack from a folder, an archive, or the program itself.

use super::contents::Contents;
use super::manifest::{self, Manifest, locate};
use super::verify;
use crate::diagnostic::{Code, Diagnostic, Related, SourceFile, Span};
use crate::document::{Limits, SpanIndex, open_regular};
use redtag_module_builder as builder;
use redtag_schema::pack;
use std::collections::BTreeMap;
use std::fmt;
use std::io::Read as _;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The manifest's name in every pack.
pub const MANIFEST: &str = "pack.json";

/// Where a pack comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Origin {
    /// The program itself.
    Embedded,
    /// A built folder.
    Folder(PathBuf),
    /// An archive.
    Archive(PathBuf),
}

impl Origin {
    /// The name a file of the pack is shown by.
    pub fn file(&self, name: &str) -> String {
        match self {
            Self::Embedded => format!("(built in)/{name}"),
            Self::Folder(path) | Self::Archive(path) => path.join(name).display().to_string(),
        }
    }
}

impl fmt::Display for Origin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Embedded => f.write_str("built into redtag"),
            Self::Folder(path) | Self::Archive(path) => write!(f, "{}", path.display()),
        }
    }
}

/// A pack that is whole: its manifest fits its schema, every module is the one the manifest means.
#[derive(Debug)]
pub struct Pack {
    manifest: pack::Manifest,
    files: Contents,
    origin: Origin,
    digest: String,
    source: Arc<SourceFile>,
    spans: SpanIndex,
    notes: Vec<Diagnostic>,
}

impl Pack {
    /// Opens a folder or an archive.
    ///
    /// # Errors
    /// Every complaint about it. A pack that is still source says how to build it.
    pub fn open(path: &Path) -> Result<Self, Vec<Diagnostic>> {
        let (archive, origin) = read_archive(path)?;
        Self::from_archive(&archive, origin)
    }

    /// Opens the bytes of an archive.
    ///
    /// # Errors
    /// As [`Pack::open`].
    pub fn from_archive(archive: &[u8], origin: Origin) -> Result<Self, Vec<Diagnostic>> {
        let files = builder::open(archive, &builder::Limits::default()).map_err(|error| refused(&origin, &error))?;
        Self::from_files(files.into_iter().collect(), origin)
    }

    /// Opens an archive that is part of this program. The build script made it and held it against its manifest: only the
    /// manifest is read, and what else is wanted is unpacked then.
    ///
    /// # Errors
    /// As [`Pack::open`].
    pub fn embedded(archive: &'static [u8], digest: &str) -> Result<Self, Vec<Diagnostic>> {
        let origin = Origin::Embedded;
        let files = Contents::packed(archive).map_err(|error| refused(&origin, &error))?;
        Self::unverified(files, origin, |_| digest.to_owned())
    }

    /// A pack of files that are in memory already.
    ///
    /// # Errors
    /// As [`Pack::open`].
    pub fn from_files(files: BTreeMap<String, Vec<u8>>, origin: Origin) -> Result<Self, Vec<Diagnostic>> {
        let pack = Self::unverified(Contents::of(files), origin, digest)?;
        let complaints = verify::verify(&pack);
        if complaints.is_empty() { Ok(pack) } else { Err(complaints) }
    }

    fn unverified(files: Contents, origin: Origin, digest: impl FnOnce(&Contents) -> String) -> Result<Self, Vec<Diagnostic>> {
        let Some(bytes) = files.file(MANIFEST) else { return Err(vec![no_manifest(&origin)]) };
        let Manifest { content, source, spans, notes } = manifest::read(&origin.file(MANIFEST), bytes)?;
        Ok(Self { manifest: content, digest: digest(&files), files, origin, source, spans, notes })
    }

    /// The manifest.
    pub fn manifest(&self) -> &pack::Manifest {
        &self.manifest
    }

    /// The names of its files, sorted, the manifest's included.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.files.names()
    }

    /// One file.
    pub fn file(&self, name: &str) -> Option<&[u8]> {
        self.files.file(name).map(|bytes| &**bytes)
    }

    /// One file, to be held longer than the pack.
    pub fn shared(&self, name: &str) -> Option<Arc<[u8]>> {
        self.files.file(name).cloned()
    }

    /// Where it comes from.
    pub fn origin(&self) -> &Origin {
        &self.origin
    }

    /// SHA-256 over the sorted list of its files' names and SHA-256s: the same for a folder and its archive.
    pub fn digest(&self) -> &str {
        &self.digest
    }

    /// Its name.
    pub fn name(&self) -> &str {
        &self.manifest.name
    }

    /// Its version.
    pub fn version(&self) -> &semver::Version {
        &self.manifest.version
    }

    /// Whether it is part of the program.
    pub fn is_embedded(&self) -> bool {
        self.origin == Origin::Embedded
    }

    /// Its name and version, for a sentence.
    pub fn label(&self) -> String {
        format!("pack `{}` {}", self.name(), self.version())
    }

    /// What is worth knowing about its manifest all the same.
    pub fn notes(&self) -> &[Diagnostic] {
        &self.notes
    }

    /// A place in its manifest.
    pub fn span(&self, pointer: &str) -> Option<Span> {
        self.spans.head(pointer).map(|range| Span::new(&self.source, range))
    }

    /// A complaint, put at a place in its manifest; where that is not there, at the nearest place around it.
    pub fn locate(&self, complaint: Diagnostic, pointer: &str) -> Diagnostic {
        locate(&self.source, &self.spans, complaint, pointer)
    }

    /// A place in its manifest that belongs to a complaint about another.
    pub fn related(&self, pointer: &str, label: &str) -> Option<Related> {
        self.span(pointer).map(|span| Related { span, label: label.to_owned() })
    }
}

/// The bytes of a pack's archive, not looked into yet. A folder is read by way of its archive, so that both are the same pack to
/// the byte, meet the same limits and answer to the same signature.
///
/// # Errors
/// When it cannot be read. A pack that is still source says how to build it.
pub fn read_archive(path: &Path) -> Result<(Vec<u8>, Origin), Vec<Diagnostic>> {
    if path.is_dir() {
        let origin = Origin::Folder(path.to_owned());
        let archive = seal_folder(path, &origin)?;
        return Ok((archive, origin));
    }
    let origin = Origin::Archive(path.to_owned());
    match read_file(path) {
        Ok(archive) => Ok((archive, origin)),
        Err(error) => Err(refused(&origin, &error)),
    }
}

fn seal_folder(path: &Path, origin: &Origin) -> Result<Vec<u8>, Vec<Diagnostic>> {
    let at = path.join(MANIFEST);
    if !at.is_file() {
        return Err(vec![no_manifest(origin)]);
    }
    // The manifest first: a pack that is still source may stand amid a whole workspace, which is not read for nothing.
    let bytes = read_at_most(&at, Limits::default().bytes).map_err(|error| refused(origin, &error))?;
    let Manifest { content, source, spans, .. } = manifest::read(&origin.file(MANIFEST), &bytes)?;
    match verify::still_source(&content, path) {
        Some(complaint) => Err(vec![locate(&source, &spans, complaint, "/modules")]),
        None => builder::seal(path).map_err(|error| refused(origin, &error)),
    }
}

/// The bytes of an archive, never more than it may unpack to.
fn read_file(path: &Path) -> std::io::Result<Vec<u8>> {
    read_at_most(path, builder::Limits::default().total_bytes)
}

/// The bytes of a regular file; of one that says to be larger nothing is read.
fn read_at_most(path: &Path, most: u64) -> std::io::Result<Vec<u8>> {
    let file = open_regular(path)?;
    let says = file.metadata()?.len();
    let mut bytes = Vec::new();
    if says <= most {
        file.take(most + 1).read_to_end(&mut bytes)?;
    }
    if says > most || bytes.len() as u64 > most {
        return Err(std::io::Error::other(format!("it is larger than {most} bytes")));
    }
    Ok(bytes)
}

pub(super) fn digest(files: &Contents) -> String {
    builder::pack_digest(files.names().filter_map(|name| Some((name, &**files.file(name)?))))
}

fn refused(origin: &Origin, error: &dyn fmt::Display) -> Vec<Diagnostic> {
    vec![Diagnostic::error(Code::UnreadablePack, format!("the pack ({origin}) cannot be opened: {error}"))]
}

fn no_manifest(origin: &Origin) -> Diagnostic {
    Diagnostic::error(Code::NoManifest, format!("there is no {MANIFEST} in the pack ({origin})"))
        .expected(format!("a pack's folder or archive, with its manifest {MANIFEST} at the top"))
        .help("give the folder that holds pack.json itself, not the one around it")
}
