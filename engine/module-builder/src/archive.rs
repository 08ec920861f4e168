//! The archive of a pack: a zip file that is the same to the byte for the same files, and that is read with suspicion.

use crate::error::{ArchiveError, BuildError};
use crate::files::{check_name, walk};
use std::collections::BTreeSet;
use std::io::{Cursor, Read, Write};
use std::path::{Path, PathBuf};
use zip::result::ZipError;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipArchive, ZipWriter};

/// The first bytes of a zip file.
const SIGNATURE: &[u8] = b"PK\x03\x04";

/// How much an archive may hold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Limits {
    /// Files.
    pub entries: usize,
    /// Bytes of one file.
    pub entry_bytes: u64,
    /// Bytes of all files.
    pub total_bytes: u64,
    /// How many times larger than its packed form a file may be; files under 1 MiB are not measured.
    pub ratio: u64,
}

impl Default for Limits {
    fn default() -> Self {
        Self { entries: 4096, entry_bytes: 64 << 20, total_bytes: 256 << 20, ratio: 200 }
    }
}

/// Packs a folder: files sorted by name, stored as they are, one mode, one date. The same files give the same bytes.
///
/// # Errors
/// When a file cannot be read, or the archive would be refused by [`open`].
pub fn seal(folder: &Path) -> Result<Vec<u8>, BuildError> {
    pack(folder, SimpleFileOptions::default().compression_method(CompressionMethod::Stored))
}

/// Packs a folder as [`seal`] does, compressed: for a program that carries it. Its files are read one at a time with
/// [`read`]. The same files give the same bytes with the same version of this crate's libraries only.
///
/// # Errors
/// As [`seal`].
pub fn seal_compressed(folder: &Path) -> Result<Vec<u8>, BuildError> {
    pack(folder, SimpleFileOptions::default().compression_method(CompressionMethod::Deflated).compression_level(Some(9)))
}

fn pack(folder: &Path, options: SimpleFileOptions) -> Result<Vec<u8>, BuildError> {
    let options = options.last_modified_time(DateTime::default()).unix_permissions(0o644);
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    let files = walk(folder)?;
    check_sizes(&files, &Limits::default())?;
    for (name, path) in files {
        let bytes = std::fs::read(&path).map_err(BuildError::at(&path))?;
        let packed = writer.start_file(name, options).and_then(|()| Ok(writer.write_all(&bytes)?));
        packed.map_err(|error| ArchiveError::damaged(&error))?;
    }
    let bytes = writer.finish().map_err(|error| ArchiveError::damaged(&error))?.into_inner();
    open(&bytes, &Limits::default())?;
    Ok(bytes)
}

/// Whether files may be read at all, by what they say of themselves: a file of holes takes no room on a disk and all of a memory.
fn check_sizes(files: &[(String, PathBuf)], limits: &Limits) -> Result<(), BuildError> {
    let too_large = |what: String, allowed: u64| Err(ArchiveError::TooLarge { what, allowed }.into());
    if files.len() > limits.entries {
        return too_large(format!("it holds {} files", files.len()), limits.entries as u64);
    }
    let mut left = limits.total_bytes;
    for (name, path) in files {
        let size = path.metadata().map_err(BuildError::at(path))?.len();
        let allowed = left.min(limits.entry_bytes);
        if size > allowed {
            return too_large(format!("\"{}\" has {size} bytes", name.escape_debug()), allowed);
        }
        left -= size;
    }
    Ok(())
}

/// Reads an archive into memory: each file's name and bytes, sorted by name.
///
/// # Errors
/// When it is no archive, is damaged, holds anything but plain files with safe and distinct names, or more than the limits.
pub fn open(bytes: &[u8], limits: &Limits) -> Result<Vec<(String, Vec<u8>)>, ArchiveError> {
    if !bytes.starts_with(SIGNATURE) {
        return Err(ArchiveError::NotAnArchive);
    }
    let damaged = |error: ZipError| ArchiveError::damaged(&error);
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(damaged)?;
    if archive.len() > limits.entries {
        let what = format!("it holds {} files", archive.len());
        return Err(ArchiveError::TooLarge { what, allowed: limits.entries as u64 });
    }
    let files = check_entries(&mut archive, limits)?;
    // Headers before each file and the directory at the end must tell the same story: readers differ in which they believe.
    archive.validate_header_consistency().map_err(damaged)?;
    let mut contents = Vec::new();
    let mut left = limits.total_bytes;
    for (index, name) in files {
        let file = archive.by_index(index).map_err(damaged)?;
        let allowed = left.min(limits.entry_bytes);
        let mut content = Vec::new();
        // Sizes in headers are claims; what is read is counted.
        file.take(allowed + 1).read_to_end(&mut content).map_err(|error| ArchiveError::damaged(&error))?;
        let size = content.len() as u64;
        if size > allowed {
            return Err(ArchiveError::TooLarge { what: format!("\"{name}\" unpacks to more than {allowed} bytes"), allowed });
        }
        left -= size;
        contents.push((name, content));
    }
    contents.sort();
    Ok(contents)
}

/// The names of the files in an archive that this program carries itself: it was made by [`seal`], and nothing is checked again.
///
/// # Errors
/// When it is no archive.
pub fn names(bytes: &[u8]) -> Result<Vec<String>, ArchiveError> {
    let archive = ZipArchive::new(Cursor::new(bytes)).map_err(|error| ArchiveError::damaged(&error))?;
    let names = archive.file_names().map(|name| name.map(std::borrow::Cow::into_owned));
    let names: Result<Vec<String>, ZipError> =
        names.filter(|name| !name.as_ref().is_ok_and(|name| name.ends_with('/'))).collect();
    names.map_err(|error| ArchiveError::damaged(&error))
}

/// One file of such an archive.
///
/// # Errors
/// When there is no such file, or it is damaged.
pub fn read(bytes: &[u8], name: &str) -> Result<Vec<u8>, ArchiveError> {
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(|error| ArchiveError::damaged(&error))?;
    let mut file = archive.by_name(name).map_err(|error| ArchiveError::damaged(&error))?;
    let mut content = Vec::with_capacity(usize::try_from(file.size()).unwrap_or(0));
    file.read_to_end(&mut content).map_err(|error| ArchiveError::damaged(&error))?;
    Ok(content)
}

/// Looks at every entry's header before any is unpacked; answers index and name of each file.
fn check_entries(archive: &mut ZipArchive<Cursor<&[u8]>>, limits: &Limits) -> Result<Vec<(usize, String)>, ArchiveError> {
    if archive.has_duplicate_names() {
        return Err(ArchiveError::Damaged { reason: "two entries have the same name".to_owned() });
    }
    let (mut files, mut folded, mut total) = (Vec::new(), BTreeSet::new(), 0_u64);
    for index in 0..archive.len() {
        let entry = archive.by_index_raw(index).map_err(|error| ArchiveError::damaged(&error))?;
        let raw = String::from_utf8_lossy(entry.name_raw()).into_owned();
        let name = std::str::from_utf8(entry.name_raw()).map_err(|_| ArchiveError::name(&raw, "is not UTF-8"))?.to_owned();
        check_name(name.trim_end_matches('/')).map_err(|reason| ArchiveError::name(&name, reason))?;
        if entry.encrypted() {
            return Err(ArchiveError::Kind { name, kind: "encrypted" });
        }
        if entry.unix_mode().is_some_and(|mode| !matches!(mode & 0o170_000, 0 | 0o100_000 | 0o040_000)) {
            return Err(ArchiveError::Kind { name, kind: "a link or device" });
        }
        if !folded.insert(name.to_lowercase()) {
            return Err(ArchiveError::name(&name, "differs from another only in capitals"));
        }
        total = total.saturating_add(entry.size());
        check_size(&name, entry.size(), entry.compressed_size(), limits)?;
        if !name.ends_with('/') {
            files.push((index, name));
        }
    }
    if total > limits.total_bytes {
        return Err(ArchiveError::TooLarge { what: format!("it unpacks to {total} bytes"), allowed: limits.total_bytes });
    }
    Ok(files)
}

fn check_size(name: &str, size: u64, packed: u64, limits: &Limits) -> Result<(), ArchiveError> {
    if size > limits.entry_bytes {
        return Err(ArchiveError::TooLarge { what: format!("\"{name}\" is {size} bytes"), allowed: limits.entry_bytes });
    }
    if size > 1 << 20 && size / packed.max(1) > limits.ratio {
        let what = format!("\"{name}\" is packed {} times smaller than it is", size / packed.max(1));
        return Err(ArchiveError::TooLarge { what, allowed: limits.ratio });
    }
    Ok(())
}
