//! Entries come back whole or not at all.

use super::*;

const KEY: Secret = Secret::new([7; 32]);

fn store(folder: &Path) -> Store {
    Store::open(folder, KEY).unwrap()
}

fn name(word: &str) -> Name {
    Name::of([word.as_bytes()])
}

fn get(store: &Store, kind: Kind, word: &str) -> Option<Vec<u8>> {
    store.get(kind, &name(word)).map(|found| found.bytes().to_vec())
}

#[test]
fn what_was_put_comes_back_under_its_own_name_kind_and_key_only() {
    let folder = tempfile::tempdir().unwrap();
    let one = store(folder.path());
    one.put(Kind::Answer, &name("a"), b"yes");
    assert_eq!(get(&one, Kind::Answer, "a").as_deref(), Some(&b"yes"[..]));
    assert_eq!(get(&store(folder.path()), Kind::Answer, "a").as_deref(), Some(&b"yes"[..]));
    assert_eq!(get(&one, Kind::Code, "a"), None);
    fs::copy(one.path(Kind::Answer, &name("a")), one.path(Kind::Answer, &name("b"))).unwrap();
    fs::copy(one.path(Kind::Answer, &name("a")), one.path(Kind::Code, &name("a"))).unwrap();
    assert_eq!(get(&one, Kind::Answer, "b"), None, "an entry under another name");
    assert_eq!(get(&one, Kind::Code, "a"), None, "an entry of another kind");
    let stranger = Store::open(folder.path(), Secret::new([8; 32])).unwrap();
    assert_eq!(get(&stranger, Kind::Answer, "a"), None, "an entry under another key");
}

#[test]
fn every_damaged_byte_and_every_cut_is_a_miss() {
    let folder = tempfile::tempdir().unwrap();
    let store = store(folder.path());
    store.put(Kind::Answer, &name("a"), b"an answer");
    let path = store.path(Kind::Answer, &name("a"));
    let whole = fs::read(&path).unwrap();
    for at in 0..whole.len() {
        let mut damaged = whole.clone();
        damaged[at] ^= 1;
        fs::write(&path, &damaged).unwrap();
        assert_eq!(get(&store, Kind::Answer, "a"), None, "byte {at}");
        assert!(!path.exists());
        fs::write(&path, &whole[..at]).unwrap();
        assert_eq!(get(&store, Kind::Answer, "a"), None, "cut at {at}");
    }
}

#[test]
fn no_two_lists_of_parts_share_a_name() {
    let lists: [&[&str]; 6] = [&["a", "b"], &["ab", ""], &["", "ab"], &["ab"], &["a", "c"], &[]];
    let names = lists.map(|list| Name::of(list.iter().map(|part| part.as_bytes())));
    for (at, name) in names.iter().enumerate() {
        assert!(!names[..at].contains(name), "{at}");
    }
}

#[test]
fn only_our_own_old_files_are_swept_away() {
    let folder = tempfile::tempdir().unwrap();
    let store = store(folder.path());
    store.write(Kind::Answer, &name("old"), b"x").unwrap();
    let theirs = folder.path().join("thesis.answer");
    fs::write(&theirs, "years of work").unwrap();
    let long_ago = SystemTime::now() - OLDEST - LAG;
    for path in [store.path(Kind::Answer, &name("old")), theirs.clone()] {
        File::options().append(true).open(path).unwrap().set_modified(long_ago).unwrap();
    }
    store.put(Kind::Answer, &name("new"), b"y");
    assert!(get(&store, Kind::Answer, "old").is_none() && get(&store, Kind::Answer, "new").is_some());
    assert!(theirs.exists());
}

#[cfg(unix)]
#[test]
fn links_are_not_followed() {
    use std::os::unix::fs::symlink;
    let folder = tempfile::tempdir().unwrap();
    let (inside, outside) = (folder.path().join("store"), folder.path().join("outside"));
    let store = store(&inside);
    store.put(Kind::Answer, &name("a"), b"yes");
    let path = store.path(Kind::Answer, &name("a"));
    fs::rename(&path, &outside).unwrap();
    symlink(&outside, &path).unwrap();
    assert_eq!(get(&store, Kind::Answer, "a"), None);
    assert!(outside.exists());
    store.put(Kind::Answer, &name("a"), b"no");
    assert!(!path.is_symlink(), "the link is replaced, what it leads to is not written");
    let linked = folder.path().join("linked");
    symlink(&inside, &linked).unwrap();
    assert!(Store::open(&linked, KEY).is_err());
}

#[test]
fn a_key_is_made_once_and_is_this_users_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("made").join("cache.key");
    let first = Secret::of_file(&path).unwrap();
    assert_eq!(first.bytes(), Secret::of_file(&path).unwrap().bytes());
    assert_ne!(first.bytes(), Secret::fresh().unwrap().bytes());
    fs::write(&path, "short").unwrap();
    assert!(Secret::of_file(&path).unwrap_err().to_string().contains("no key"));
}

#[cfg(unix)]
#[test]
fn a_key_others_can_read_is_refused() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("cache.key");
    Secret::of_file(&path).unwrap();
    fs::set_permissions(&path, fs::Permissions::from_mode(0o644)).unwrap();
    assert_eq!(Secret::of_file(&path).unwrap_err().kind(), io::ErrorKind::PermissionDenied);
}
