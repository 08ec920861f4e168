//! Entries: what they hold, how they are named, what says that they are ours.

use super::Secret;
use std::fmt::Write as _;

/// Part of every keyed hash. Change it with the form of entries.
const FORM: &[u8] = b"redtag-kept-2";
/// An entry larger than this is none of ours.
pub(super) const LARGEST: u64 = 256 << 20;
/// Bytes of the hash at the end of an entry.
const MARK: usize = blake3::OUT_LEN;

/// What an entry is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Machine code of a module.
    Code,
    /// What a module says of itself.
    Description,
    /// A module's answer.
    Answer,
}

impl Kind {
    const ALL: [Self; 3] = [Self::Code, Self::Description, Self::Answer];

    pub(super) const fn ending(self) -> &'static str {
        match self {
            Self::Code => "code",
            Self::Description => "description",
            Self::Answer => "answer",
        }
    }
}

/// The name of an entry: a hash of everything it depends on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Name([u8; 32]);

impl Name {
    /// The name of what depends on these parts. No two lists of parts read the same.
    pub fn of<'a>(parts: impl IntoIterator<Item = &'a [u8]>) -> Self {
        let mut hasher = blake3::Hasher::new();
        for part in parts {
            hasher.update(&(part.len() as u64).to_le_bytes());
            hasher.update(part);
        }
        Self(*hasher.finalize().as_bytes())
    }

    /// The bytes, to be part of another name.
    pub fn as_bytes(&self) -> &[u8] {
        &self.0
    }

    /// 64 hexadecimal digits.
    pub fn hex(&self) -> String {
        self.0.iter().fold(String::with_capacity(64), |mut text, byte| {
            let _ = write!(text, "{byte:02x}");
            text
        })
    }
}

/// Whether a file's name is of the form of an entry.
pub(super) fn is_ours(name: &str) -> bool {
    name.split_once('.').is_some_and(|(stem, ending)| {
        let digits = stem.len() == 64 && stem.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'));
        digits && Kind::ALL.iter().any(|kind| kind.ending() == ending)
    })
}

impl Secret {
    /// What an entry ends with.
    pub(super) fn mark(&self, kind: Kind, name: &Name, body: &[u8]) -> blake3::Hash {
        let mut hasher = blake3::Hasher::new_keyed(self.bytes());
        hasher.update(FORM).update(kind.ending().as_bytes()).update(b"\n").update(name.as_bytes()).update(body);
        hasher.finalize()
    }
}

/// Bytes that this user's own program kept, unchanged. There is no other way to make one than from an entry that says so.
#[derive(Debug)]
pub struct Authentic(Vec<u8>);

impl Authentic {
    pub(super) fn check(mut entry: Vec<u8>, secret: &Secret, kind: Kind, name: &Name) -> Option<Self> {
        let body = entry.len().checked_sub(MARK)?;
        let found = blake3::Hash::from_slice(entry.get(body..)?).ok()?;
        // The comparison of hashes takes the same time wherever they differ.
        if secret.mark(kind, name, entry.get(..body)?) != found {
            return None;
        }
        entry.truncate(body);
        Some(Self(entry))
    }

    /// The bytes.
    pub fn bytes(&self) -> &[u8] {
        &self.0
    }

    /// The bytes as text.
    pub fn text(&self) -> Option<&str> {
        std::str::from_utf8(&self.0).ok()
    }
}
