//! Answers of modules, kept in memory and for the next run. A module answers a question always the same way, so that the name of
//! an entry is the question: the parts of the project the module's rules read, those rules with every parameter, stage and date,
//! besides the module's digest and the version of this program.

use crate::sandbox::{Level, LogLine};
use crate::store::{Kind, Name, Store};
use redtag_schema::contract::Answer;
use serde::{Deserialize, Serialize};
use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

/// Bytes of answers that stay in memory, about: as many again may be there until the older half is dropped.
const IN_MEMORY: usize = 32 << 20;

/// Where answers are kept.
#[derive(Debug, Default)]
pub struct KeptAnswers {
    store: Option<Arc<Store>>,
    memory: Mutex<Memory>,
}

/// What a module came to: an answer that kept the contract, as far as that can be told without the project.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct KeptAnswer {
    /// Its answer.
    pub(super) answer: Answer,
    /// What it logged.
    #[serde(with = "log_lines")]
    pub(super) log: Vec<LogLine>,
}

/// Answers by name, in two generations: when the younger is full, the older goes.
#[derive(Debug, Default)]
struct Memory {
    young: HashMap<Name, Arc<KeptAnswer>>,
    old: HashMap<Name, Arc<KeptAnswer>>,
    bytes: usize,
}

impl KeptAnswers {
    /// Answers kept in memory, and in a store where there is one.
    pub fn new(store: Option<Arc<Store>>) -> Self {
        Self { store, memory: Mutex::default() }
    }

    /// What is kept under a name.
    pub(super) fn get(&self, name: &Name) -> Option<Arc<KeptAnswer>> {
        if let Some(found) = self.memory().get(name) {
            tracing::debug!(entry = name.hex(), "result cache: hit in memory");
            return Some(found);
        }
        let entry = self.store.as_ref().and_then(|store| store.get(Kind::Answer, name));
        let found: Option<KeptAnswer> = entry.and_then(|entry| serde_json::from_slice(entry.bytes()).ok());
        let Some(found) = found.map(Arc::new) else {
            tracing::debug!(entry = name.hex(), "result cache: miss");
            return None;
        };
        tracing::debug!(entry = name.hex(), "result cache: hit");
        self.memory().put(*name, Arc::clone(&found));
        Some(found)
    }

    /// Keeps an answer.
    pub(super) fn put(&self, name: &Name, kept: KeptAnswer) {
        if let Some(store) = &self.store
            && let Ok(body) = serde_json::to_vec(&kept)
        {
            store.put(Kind::Answer, name, &body);
        }
        self.memory().put(*name, Arc::new(kept));
    }

    fn memory(&self) -> std::sync::MutexGuard<'_, Memory> {
        // A thread that panicked elsewhere leaves the maps whole.
        self.memory.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Memory {
    fn get(&mut self, name: &Name) -> Option<Arc<KeptAnswer>> {
        if let Some(found) = self.young.get(name) {
            return Some(Arc::clone(found));
        }
        let found = self.old.remove(name)?;
        self.put(*name, Arc::clone(&found));
        Some(found)
    }

    fn put(&mut self, name: Name, kept: Arc<KeptAnswer>) {
        self.bytes += size(&kept);
        if self.bytes > IN_MEMORY {
            self.bytes = size(&kept);
            self.old = std::mem::take(&mut self.young);
        }
        self.young.insert(name, kept);
    }
}

/// About how much memory an answer takes.
fn size(kept: &KeptAnswer) -> usize {
    const FINDING: usize = 2 << 10;
    (kept.answer.findings.len() + 1) * FINDING + kept.log.iter().map(|line| line.text.len()).sum::<usize>()
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
    use crate::store::Secret;

    fn kept() -> KeptAnswer {
        let log = vec![LogLine { level: Level::Warn, text: "odd".into() }];
        KeptAnswer { answer: Answer { schema: 1, findings: Vec::new() }, log }
    }

    fn name(word: &str) -> Name {
        Name::of([word.as_bytes()])
    }

    #[test]
    fn what_was_put_comes_back_in_this_run_and_the_next() {
        let folder = tempfile::tempdir().unwrap();
        let store = || Some(Arc::new(Store::open(folder.path(), Secret::new([1; 32])).unwrap()));
        let answers = KeptAnswers::new(store());
        assert!(answers.get(&name("a")).is_none());
        answers.put(&name("a"), kept());
        assert_eq!(*answers.get(&name("a")).unwrap(), kept());
        assert_eq!(*KeptAnswers::new(store()).get(&name("a")).unwrap(), kept());
        assert!(KeptAnswers::new(None).get(&name("a")).is_none());
    }

    #[test]
    fn memory_is_bounded_and_keeps_what_is_asked_for() {
        let mut memory = Memory::default();
        memory.put(name("first"), Arc::new(kept()));
        let each = size(&kept());
        for number in 0..3 * IN_MEMORY / each {
            memory.put(name(&number.to_string()), Arc::new(kept()));
            assert!(memory.get(&name("first")).is_some(), "{number}");
        }
        assert!((memory.young.len() + memory.old.len()) * each <= 2 * IN_MEMORY + each);
        assert!(memory.get(&name("0")).is_none());
    }
}
