//! Answers of modules kept for the next run. A module answers a question, always the same way, so that the key is the question
//! itself: the parts of the project the module reads, its rules in force with every parameter, stage and date, besides the
//! module's digest and the version of this program. An entry that is not what was put there is a miss.

use crate::sandbox::{Level, LogLine, make_private};
use redtag_module_builder::digest;
use serde::{Deserialize, Serialize};
use sha2::{Digest as _, Sha256};
use std::fmt::Write as _;
use std::fs::{self, File};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::sync::Once;
use std::time::{Duration, SystemTime};
use tempfile::NamedTempFile;

/// The first words of every entry. Change them with the form of entries.
const FORM: &str = "redtag-answer-1";
/// Entries nobody asked for so long are thrown away.
const OLDEST: Duration = Duration::from_hours(30 * 24);
/// How long an entry's time of last use may lag behind.
const LAG: Duration = Duration::from_hours(24);
/// An entry larger than this is none of ours: answers are limited to much less.
const LARGEST: u64 = 256 << 20;

/// The folder of answers.
#[derive(Debug)]
pub struct KeptAnswers {
    folder: PathBuf,
    swept: Once,
}

/// The name of an entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Key(String);

/// What a module came to, as it was kept.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct KeptAnswer {
    /// Its answer, which kept the contract.
    pub(super) answer: String,
    /// What it logged.
    #[serde(with = "log_lines")]
    pub(super) log: Vec<LogLine>,
}

impl KeptAnswers {
    /// Opens the folder, and makes it where it is missing. Only this user may enter it.
    ///
    /// # Errors
    /// When it cannot be made, or belongs to somebody else.
    pub fn open(folder: &Path) -> io::Result<Self> {
        make_private(folder)?;
        Ok(Self { folder: folder.to_owned(), swept: Once::new() })
    }

    /// The key of a question put to a module.
    pub(super) fn key(module_digest: &str, question: &str) -> Key {
        let mut hasher = Sha256::new();
        for part in [FORM, env!("CARGO_PKG_VERSION"), module_digest, question] {
            // The length first, so that no two lists of parts read the same.
            hasher.update(part.len().to_le_bytes());
            hasher.update(part.as_bytes());
        }
        let bytes = hasher.finalize();
        Key(bytes.iter().fold(String::with_capacity(64), |mut text, byte| {
            let _ = write!(text, "{byte:02x}");
            text
        }))
    }

    /// What is kept under a key, if it is whole.
    pub(super) fn get(&self, key: &Key) -> Option<KeptAnswer> {
        let path = self.path(key);
        let Ok(file) = File::open(&path) else {
            tracing::debug!(entry = key.0, "result cache: miss");
            return None;
        };
        let kept = read(&file, key);
        if kept.is_some() {
            tracing::debug!(entry = key.0, "result cache: hit");
            touch(&path, &file);
        } else {
            tracing::debug!(entry = key.0, "result cache: miss; the entry is damaged and thrown away");
            // One that is already gone is as good.
            let _ = fs::remove_file(&path);
        }
        kept
    }

    /// Keeps an answer: written whole, then given its name. Failure costs time only.
    pub(super) fn put(&self, key: &Key, kept: &KeptAnswer) {
        self.swept.call_once(|| self.sweep());
        if let Err(error) = self.write(key, kept) {
            tracing::debug!(entry = key.0, %error, "an answer could not be kept");
        }
    }

    fn write(&self, key: &Key, kept: &KeptAnswer) -> io::Result<()> {
        let body = serde_json::to_string(kept)?;
        let mut file = NamedTempFile::new_in(&self.folder)?;
        writeln!(file, "{FORM} {} {}", key.0, digest(body.as_bytes()))?;
        file.write_all(body.as_bytes())?;
        file.persist(self.path(key))?;
        Ok(())
    }

    /// Throws away what was not asked for in a long time.
    fn sweep(&self) {
        let Ok(files) = fs::read_dir(&self.folder) else { return };
        for file in files.flatten() {
            let age = file.metadata().and_then(|about| about.modified()).ok().and_then(|used| used.elapsed().ok());
            if age.is_some_and(|age| age > OLDEST) {
                let _ = fs::remove_file(file.path());
            }
        }
    }

    fn path(&self, key: &Key) -> PathBuf {
        self.folder.join(format!("{}.answer", key.0))
    }
}

/// The key stands in the entry so that another question's answer, whole but under this name, is not taken for this one.
fn read(file: &File, key: &Key) -> Option<KeptAnswer> {
    if file.metadata().ok()?.len() > LARGEST {
        return None;
    }
    let text = io::read_to_string(file).ok()?;
    let (head, body) = text.split_once('\n')?;
    if head != format!("{FORM} {} {}", key.0, digest(body.as_bytes())) {
        return None;
    }
    serde_json::from_str(body).ok()
}

/// Notes that the entry was of use, so that it is not swept away.
fn touch(path: &Path, file: &File) {
    let used = file.metadata().and_then(|about| about.modified()).ok();
    if used.and_then(|used| used.elapsed().ok()).is_some_and(|age| age > LAG) {
        let _ = File::options().append(true).open(path).and_then(|file| file.set_modified(SystemTime::now()));
    }
}

/// Log lines as pairs of a word and a text.
mod log_lines {
    use super::{Level, LogLine};
    use serde::de::Error as _;
    use serde::{Deserialize as _, Deserializer, Serialize as _, Serializer};

    const LEVELS: [(Level, &str); 4] =
        [(Level::Debug, "debug"), (Level::Info, "info"), (Level::Warn, "warn"), (Level::Error, "error")];

    pub fn serialize<S: Serializer>(lines: &[LogLine], to: S) -> Result<S::Ok, S::Error> {
        let word = |line: &LogLine| LEVELS.iter().find(|(level, _)| *level == line.level).map_or("error", |(_, word)| word);
        lines.iter().map(|line| (word(line), &line.text)).collect::<Vec<_>>().serialize(to)
    }

    pub fn deserialize<'d, D: Deserializer<'d>>(from: D) -> Result<Vec<LogLine>, D::Error> {
        let pairs = Vec::<(String, String)>::deserialize(from)?;
        let line = |(word, text): (String, String)| {
            let level = LEVELS.iter().find(|(_, known)| *known == word).map(|(level, _)| *level);
            level.map(|level| LogLine { level, text }).ok_or_else(|| D::Error::custom("an unknown level"))
        };
        pairs.into_iter().map(line).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kept() -> KeptAnswer {
        let log = vec![LogLine { level: Level::Warn, text: "odd".into() }];
        KeptAnswer { answer: "{\"schema\":1,\"findings\":[]}".into(), log }
    }

    #[test]
    fn what_was_put_comes_back() {
        let folder = tempfile::tempdir().unwrap();
        let cache = KeptAnswers::open(&folder.path().join("results")).unwrap();
        let key = KeptAnswers::key("module", "question");
        assert_eq!(cache.get(&key), None);
        cache.put(&key, &kept());
        assert_eq!(cache.get(&key), Some(kept()));
    }

    #[test]
    fn no_two_questions_share_a_key() {
        let keys = [("a", "b"), ("ab", ""), ("", "ab"), ("a", "c"), ("b", "b")]
            .map(|(module, question)| KeptAnswers::key(module, question));
        for (at, key) in keys.iter().enumerate() {
            assert!(!keys[..at].contains(key), "{at}");
        }
    }

    #[test]
    fn every_damaged_byte_and_every_cut_is_a_miss() {
        let folder = tempfile::tempdir().unwrap();
        let cache = KeptAnswers::open(folder.path()).unwrap();
        let key = KeptAnswers::key("module", "question");
        cache.put(&key, &kept());
        let whole = fs::read(cache.path(&key)).unwrap();
        for at in 0..whole.len() {
            let mut damaged = whole.clone();
            damaged[at] ^= 1;
            fs::write(cache.path(&key), &damaged).unwrap();
            assert_eq!(cache.get(&key), None, "byte {at}");
            assert!(!cache.path(&key).exists());
            fs::write(cache.path(&key), &whole[..at]).unwrap();
            assert_eq!(cache.get(&key), None, "cut at {at}");
        }
    }

    #[test]
    fn another_entry_under_this_name_is_a_miss() {
        let folder = tempfile::tempdir().unwrap();
        let cache = KeptAnswers::open(folder.path()).unwrap();
        let (one, other) = (KeptAnswers::key("module", "one"), KeptAnswers::key("module", "other"));
        cache.put(&one, &kept());
        fs::rename(cache.path(&one), cache.path(&other)).unwrap();
        assert_eq!(cache.get(&other), None);
    }

    #[test]
    fn what_nobody_used_is_swept_away() {
        let folder = tempfile::tempdir().unwrap();
        let cache = KeptAnswers::open(folder.path()).unwrap();
        let old = KeptAnswers::key("module", "old");
        cache.write(&old, &kept()).unwrap();
        let long_ago = SystemTime::now() - OLDEST - LAG;
        File::options().append(true).open(cache.path(&old)).unwrap().set_modified(long_ago).unwrap();
        let new = KeptAnswers::key("module", "new");
        cache.put(&new, &kept());
        assert_eq!((cache.get(&old), cache.get(&new)), (None, Some(kept())));
    }
}
