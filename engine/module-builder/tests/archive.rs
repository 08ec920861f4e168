//! Archives: the same files give the same bytes, and nothing that could reach outside a pack is opened.

use redtag_module_builder::{ArchiveError, Limits, names, open, read, seal, seal_compressed};
use std::fs;
use std::io::{Cursor, Write as _};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

/// An archive of files with these names.
fn archive(names: &[&str]) -> Vec<u8> {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    for name in names {
        writer.start_file(*name, SimpleFileOptions::default().compression_method(CompressionMethod::Stored)).expect("started");
        writer.write_all(b"content").expect("written");
    }
    writer.finish().expect("finished").into_inner()
}

/// The same bytes with one name put in place of another of the same length, in both headers.
fn renamed(bytes: &[u8], from: &str, to: &str) -> Vec<u8> {
    assert_eq!(from.len(), to.len());
    let mut bytes = bytes.to_vec();
    let places: Vec<usize> = (0..bytes.len() - from.len()).filter(|start| bytes[*start..].starts_with(from.as_bytes())).collect();
    assert_eq!(places.len(), 2, "one name in each header");
    for start in places {
        bytes[start..start + to.len()].copy_from_slice(to.as_bytes());
    }
    bytes
}

fn refused(bytes: &[u8]) -> ArchiveError {
    open(bytes, &Limits::default()).expect_err("refused")
}

#[test]
fn the_same_files_give_the_same_bytes_whenever_and_wherever_they_were_written() {
    let sealed = |names: &[&str]| {
        let folder = tempfile::tempdir().expect("a temporary folder");
        for name in names {
            let path = folder.path().join(name);
            fs::create_dir_all(path.parent().expect("a parent")).expect("made");
            fs::write(path, name).expect("written");
        }
        fs::write(folder.path().join(".hidden"), "left out").expect("written");
        seal(folder.path()).expect("sealed")
    };
    let one = sealed(&["pack.json", "modules/a.wasm", "cases/b.md", "cases/a/x.md"]);
    let two = sealed(&["cases/a/x.md", "cases/b.md", "pack.json", "modules/a.wasm"]);
    assert_eq!(one, two);
    let files = open(&one, &Limits::default()).expect("opened");
    let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["cases/a/x.md", "cases/b.md", "modules/a.wasm", "pack.json"]);
    assert!(files.iter().all(|(name, content)| name.as_bytes() == content));
}

#[cfg(unix)]
#[test]
fn a_link_is_not_sealed() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    std::os::unix::fs::symlink("/etc/hostname", folder.path().join("link")).expect("linked");
    let error = seal(folder.path()).expect_err("refused").to_string();
    assert!(error.contains("link") && error.contains("plain files"), "{error}");
}

#[test]
fn names_that_reach_outside_or_mean_different_files_elsewhere_are_refused() {
    let plain = archive(&["name-here"]);
    for name in
        ["../aaaaaa", "a/../../a", "/aaaaaaaa", "a\\aaaaaaa", "C:/aaaaaa", "./aaaaaaa", "a//aaaaaa", "aaaa\u{0}aaaa", "aa:aaaaaa"]
    {
        let error = refused(&renamed(&plain, "name-here", name));
        assert!(matches!(error, ArchiveError::Name { .. }), "{name:?}: {error}");
    }
}

#[test]
fn two_entries_of_one_name_are_refused() {
    let twice = renamed(&archive(&["one.md", "two.md"]), "two.md", "one.md");
    let error = refused(&twice);
    assert!(error.to_string().contains("same name"), "{error}");
    let error = refused(&archive(&["cases/one.md", "cases/One.md"]));
    assert!(error.to_string().contains("capitals"), "{error}");
}

#[test]
fn links_and_encrypted_files_are_refused() {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    writer.add_symlink("link", "/etc/passwd", SimpleFileOptions::default()).expect("added");
    let error = refused(&writer.finish().expect("finished").into_inner());
    assert!(matches!(error, ArchiveError::Kind { kind: "a link or device", .. }), "{error}");
    // Bit 0 of the general purpose flags says encrypted (APPNOTE.TXT 4.4.4): offset 6 in the header before the file, 8 in
    // the directory's.
    let mut bytes = archive(&["secret"]);
    let directory = bytes.windows(4).position(|window| window == b"PK\x01\x02").expect("a directory");
    bytes[6] |= 1;
    bytes[directory + 8] |= 1;
    let error = refused(&bytes);
    assert!(matches!(error, ArchiveError::Kind { kind: "encrypted", .. }), "{error}");
}

#[test]
fn bombs_are_refused_by_count_by_size_and_by_ratio() {
    let names: Vec<String> = (0..11).map(|index| format!("{index}.md")).collect();
    let many = archive(&names.iter().map(String::as_str).collect::<Vec<_>>());
    let few = Limits { entries: 10, ..Limits::default() };
    assert!(matches!(open(&many, &few), Err(ArchiveError::TooLarge { .. })));
    let small = Limits { total_bytes: 20, ..Limits::default() };
    assert!(matches!(open(&many, &small), Err(ArchiveError::TooLarge { .. })));
    let tiny = Limits { entry_bytes: 3, ..Limits::default() };
    assert!(matches!(open(&many, &tiny), Err(ArchiveError::TooLarge { .. })));
    let error = refused(&deflated(&vec![0; 32 << 20]));
    assert!(error.to_string().contains("times smaller"), "{error}");
}

fn deflated(content: &[u8]) -> Vec<u8> {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    writer.start_file("a", SimpleFileOptions::default().compression_method(CompressionMethod::Deflated)).expect("started");
    writer.write_all(content).expect("written");
    writer.finish().expect("finished").into_inner()
}

#[test]
fn a_size_that_lies_is_counted_not_believed() {
    let mut bytes = deflated(&vec![7; 4 << 20]);
    let directory = bytes.windows(4).position(|window| window == b"PK\x01\x02").expect("a directory");
    // The unpacked size lies at offset 22 before the file and 24 in the directory (APPNOTE.TXT 4.3.7 and 4.3.12).
    bytes[22..26].copy_from_slice(&10_u32.to_le_bytes());
    bytes[directory + 24..directory + 28].copy_from_slice(&10_u32.to_le_bytes());
    let small = Limits { entry_bytes: 1 << 20, ..Limits::default() };
    assert!(open(&bytes, &small).is_err());
}

#[test]
fn an_archive_cut_short_or_changed_anywhere_is_refused_or_whole_and_never_panics() {
    let whole = archive(&["pack.json", "modules/a.wasm"]);
    for length in 0..whole.len() {
        assert!(open(&whole[..length], &Limits::default()).is_err(), "{length}");
    }
    for index in 0..whole.len() {
        let mut bytes = whole.clone();
        bytes[index] ^= 0x41;
        let _ = open(&bytes, &Limits::default());
    }
    assert_eq!(refused(b"{}"), ArchiveError::NotAnArchive);
}

#[test]
fn archives_of_other_zip_programs_open_too() {
    let files = open(&deflated(b"hello"), &Limits::default()).expect("opened");
    assert_eq!(files, [("a".to_owned(), b"hello".to_vec())]);
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    writer.add_directory("cases/", SimpleFileOptions::default()).expect("added");
    assert!(open(&writer.finish().expect("finished").into_inner(), &Limits::default()).expect("opened").is_empty());
}

#[test]
fn a_compressed_archive_holds_the_same_files_and_gives_each_by_itself() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let module = vec![b"\0asm".as_slice(); 5_000].concat();
    for (name, bytes) in [("pack.json", b"{}".as_slice()), ("module.wasm", &module)] {
        fs::write(folder.path().join(name), bytes).expect("written");
    }
    let (stored, compressed) = (seal(folder.path()).expect("sealed"), seal_compressed(folder.path()).expect("sealed"));
    assert!(compressed.len() < stored.len() / 4, "{} of {}", compressed.len(), stored.len());
    assert_eq!(seal_compressed(folder.path()).expect("sealed"), compressed, "the same twice");
    assert_eq!(open(&compressed, &Limits::default()), open(&stored, &Limits::default()));
    assert_eq!(read(&compressed, "module.wasm").expect("there"), module);
    assert_eq!(names(&compressed).expect("listed"), ["module.wasm", "pack.json"]);
    assert!(read(&compressed, "absent").is_err() && read(&compressed[..compressed.len() / 2], "pack.json").is_err());
}
