//! Opening packs: folders, archives, damage.

use super::*;
use crate::diagnostic::Code;
use std::fs;

fn manifest() -> String {
    finished(&mut json!({ "name": "base", "modules": [{ "name": "gas" }], "cases": ["cases"] }))
}

fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a temporary folder");
    for (name, bytes) in [
        ("pack.json", manifest().into_bytes()),
        ("modules/gas.wasm", component("gas")),
        ("cases/gas/trap.md", b"# Trap\n".to_vec()),
    ] {
        let path = folder.path().join(name);
        fs::create_dir_all(path.parent().expect("a parent")).expect("made");
        fs::write(path, bytes).expect("written");
    }
    folder
}

#[test]
fn a_folder_and_its_archive_are_the_same_pack() {
    let folder = folder();
    fs::write(folder.path().join(".hidden"), "not part of the pack").expect("written");
    let opened = Pack::open(folder.path()).expect("opens");
    let archive = tempfile::Builder::new().suffix(".zip").tempfile().expect("a temporary file");
    fs::write(archive.path(), redtag_module_builder::seal(folder.path()).expect("sealed")).expect("written");
    let sealed = Pack::open(archive.path()).expect("opens");
    assert_eq!(opened.digest(), sealed.digest());
    assert_eq!(opened.names().collect::<Vec<_>>(), sealed.names().collect::<Vec<_>>());
    assert_eq!(opened.file("modules/gas.wasm"), Some(&b"component gas"[..]));
}

#[test]
fn the_digest_is_that_of_the_sorted_list_of_digests() {
    // Worked out with another program: `sha256sum` of the files in order, names relative, and `sha256sum` of that list.
    let files = [("b", "two"), (super::super::MANIFEST, "x"), ("a", "one")];
    let list = "7692c3ad3540bb803c020b3aee66cd8887123234ea0c6e7143c0add73ff431ed  a\n\
                3fc4ccfe745870e2c0d99f71f30ff0656c8dedd41cc1d7d3d376b0dbe685e2f3  b\n\
                2d711642b726b04401627ca9fbac32f5c8530fb1903cc4db02258717921a4881  pack.json\n";
    let files = files.into_iter().map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec())).collect();
    assert_eq!(
        super::super::open::digest(&super::super::contents::Contents::of(files)),
        redtag_module_builder::digest(list.as_bytes())
    );
}

#[test]
pub(crate) fn a_changed_byte_a_missing_and_an_unlisted_module_are_told() {
    let folder = folder();
    fs::write(folder.path().join("modules/gas.wasm"), "component gaz").expect("written");
    fs::write(folder.path().join("modules/more.wasm"), "x").expect("written");
    let complaints = Pack::open(folder.path()).expect_err("refused");
    assert_eq!(
        complaints.iter().map(|one| one.code.word()).collect::<Vec<_>>(),
        ["wrong-digest", "unlisted-module"],
        "{}",
        lines(&complaints)
    );
    assert!(line_of(&complaints[0]).contains("sha256"), "{}", lines(&complaints));
    fs::remove_dir_all(folder.path().join("modules")).expect("removed");
    fs::remove_dir_all(folder.path().join("cases")).expect("removed");
    let complaints = Pack::open(folder.path()).expect_err("refused");
    assert_eq!(complaints.iter().map(|one| one.code.word()).collect::<Vec<_>>(), ["missing-file", "missing-file"]);
}

#[test]
pub(crate) fn a_pack_that_is_source_says_how_to_build_it() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let mut manifest: Value = serde_json::from_str(&manifest()).expect("JSON");
    manifest["modules"] = json!([{ "name": "gas", "source": "../gas" }]);
    fs::write(folder.path().join("pack.json"), manifest.to_string()).expect("written");
    let complaint = only(Pack::open(folder.path()));
    assert_eq!(complaint.code, Code::PackIsSource);
    assert!(complaint.help.as_deref().is_some_and(|help| help.contains("redtag pack build")), "{complaint:?}");
}

#[test]
pub(crate) fn what_is_no_pack_is_refused_in_words() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    assert_eq!(only(Pack::open(folder.path())).code, Code::NoManifest);
    assert_eq!(only(Pack::open(&folder.path().join("absent.zip"))).code, Code::UnreadablePack);
    let text = folder.path().join("text.zip");
    fs::write(&text, "not an archive").expect("written");
    assert_eq!(only(Pack::open(&text)).code, Code::UnreadablePack);
    assert_eq!(only(Pack::embedded(b"PK\x03\x04 cut", "")).code, Code::UnreadablePack);
}

#[test]
fn a_pack_the_program_carries_is_unpacked_as_it_is_asked_for() {
    let folder = folder();
    let archive: &'static [u8] = redtag_module_builder::seal(folder.path()).expect("sealed").leak();
    let whole = Pack::from_archive(archive, Origin::Folder("x".into())).expect("opens");
    let carried = Pack::embedded(archive, whole.digest()).expect("opens");
    assert_eq!(carried.names().collect::<Vec<_>>(), whole.names().collect::<Vec<_>>());
    assert!(whole.names().all(|name| carried.file(name) == whole.file(name)));
    assert_eq!(carried.file("nothing"), None);
}
