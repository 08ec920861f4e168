//! A question put to one module, and its answer held against the contract.

use super::answer;
use super::kept_answers::{KeptAnswer, KeptAnswers};
use super::library::Library;
use super::question;
use crate::sandbox::{Level, LogLine, Reviewed};
use redtag_schema::contract::{Finding, RuleInForce, Stage};
use redtag_schema::review::Failure;
use redtag_schema::rulebook::{ModuleUsed, Rulebook};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// What one module came to.
pub type Answered = Result<Vec<Finding>, Failure>;

/// One call of one module.
pub struct Call<'a> {
    /// The rulebook the module is of.
    pub rulebook: &'a Rulebook,
    /// Its place there.
    pub module: usize,
    /// The project, in canonical form.
    pub project: &'a Value,
    /// The moment.
    pub stage: Stage,
    /// The day.
    pub date: &'a str,
    /// The rules asked about, with their parameters.
    pub rules: BTreeMap<String, RuleInForce>,
}

impl Call<'_> {
    /// Calls the module and holds its answer against the contract.
    pub fn make(&self, library: &Library) -> Answered {
        let used = self.used();
        let _module = tracing::info_span!("module", name = used.name, rules = self.rules.len()).entered();
        let question = self.question().map_err(|error| self.failure("internal", error.to_string()))?;
        let key = library.kept_answers().map(|cache| (cache, KeptAnswers::key(&self.used().sha256, &question)));
        if let Some(kept) = key.as_ref().and_then(|(cache, key)| cache.get(key)) {
            pass_on(&kept.log);
            return self.believe(&kept.answer);
        }
        let Reviewed { answer, log, .. } = self.run(library, &question)?;
        pass_on(&log);
        let findings = self.believe(&answer)?;
        if let Some((cache, key)) = key {
            cache.put(&key, &KeptAnswer { answer, log });
        }
        Ok(findings)
    }

    fn used(&self) -> &ModuleUsed {
        &self.rulebook.modules[self.module]
    }

    fn run(&self, library: &Library, question: &str) -> Result<Reviewed, Failure> {
        let used = self.used();
        let Some(loaded) = library.loaded(&used.sha256) else {
            return Err(self.failure("internal", format!("module `{}` was described but is no longer loaded", used.name)));
        };
        loaded.module.review(question).map_err(|failure| self.failure(failure.kind(), failure.to_string()))
    }

    /// The answer held against the contract, kept or fresh: whether it is sound depends on all of the project.
    fn believe(&self, answer: &str) -> Answered {
        let ids: BTreeSet<&str> = self.rules.keys().map(String::as_str).collect();
        let disbelieved = |bad| self.failure("bad-answer", format!("module `{}` is not believed: {bad}", self.used().name));
        answer::read(answer, &ids, self.project).map_err(disbelieved)
    }

    fn question(&self) -> serde_json::Result<String> {
        let entries = self.rules.keys().filter_map(|id| self.rulebook.rule(id));
        let reads = entries.flat_map(|rule| &rule.description.reads).map(String::as_str);
        serde_json::to_string(&question::request(self.stage, self.date, self.rules.clone(), reads, self.project))
    }

    fn failure(&self, kind: &str, message: String) -> Failure {
        let used = self.used();
        Failure {
            module: used.name.clone(),
            pack: self.rulebook.packs.get(used.pack).map(|pack| format!("{} {}", pack.name, pack.version)).unwrap_or_default(),
            kind: kind.to_owned(),
            message,
            rules: self.rules.keys().cloned().collect(),
        }
    }
}

/// What the module logged, into our log.
fn pass_on(lines: &[LogLine]) {
    for line in lines {
        match line.level {
            Level::Error => tracing::error!("{}", line.text),
            Level::Warn => tracing::warn!("{}", line.text),
            Level::Info => tracing::info!("{}", line.text),
            Level::Debug => tracing::debug!("{}", line.text),
        }
    }
}
