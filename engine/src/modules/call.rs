//! A question put to one module, and its answer held against the contract.

use super::answer::{self, BadAnswer};
use super::kept_answers::KeptAnswer;
use super::library::Library;
use super::question::{self, Parts};
use crate::sandbox::{Level, LogLine, Reviewed};
use crate::store::Name;
use redtag_schema::contract::{Answer, Finding, RuleInForce, Stage};
use redtag_schema::review::Failure;
use redtag_schema::rulebook::{ModuleUsed, Rulebook};
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
    pub parts: &'a Parts<'a>,
    /// The moment.
    pub stage: Stage,
    /// The day.
    pub date: &'a str,
    /// The rules asked about, with their parameters.
    pub rules: BTreeMap<String, RuleInForce>,
}

impl Call<'_> {
    /// Calls the module and holds its answer against the contract. Where the answer is kept, the module is not called, nor even
    /// loaded.
    pub fn make(&self, library: &Library) -> Answered {
        let used = self.used();
        let _module = tracing::info_span!("module", name = used.name, rules = self.rules.len()).entered();
        let name = library.kept_answers().map(|answers| Ok::<_, serde_json::Error>((answers, self.name()?))).transpose();
        let name = name.map_err(|error| self.failure("internal", error.to_string()))?;
        if let Some(kept) = name.as_ref().and_then(|(answers, name)| answers.get(name)) {
            pass_on(&kept.log);
            self.check(&kept.answer)?;
            return Ok(kept.answer.findings.clone());
        }
        let Reviewed { answer, log, .. } = self.run(library)?;
        pass_on(&log);
        let answer = answer::read(&answer).map_err(|bad| self.disbelieved(&bad))?;
        self.check(&answer)?;
        let Some((answers, name)) = name else { return Ok(answer.findings) };
        let findings = answer.findings.clone();
        answers.put(&name, KeptAnswer { answer, log });
        Ok(findings)
    }

    /// The failure of this module for a reason its caller found.
    pub fn failed(&self, kind: &str, why: &str) -> Failure {
        self.failure(kind, format!("module `{}` is not heard: {why}", self.used().name))
    }

    fn used(&self) -> &ModuleUsed {
        &self.rulebook.modules[self.module]
    }

    fn run(&self, library: &Library) -> Result<Reviewed, Failure> {
        let question = self.question().map_err(|error| self.failure("internal", error.to_string()))?;
        let loaded = library.loaded(&self.used().sha256);
        let module = loaded.map_err(|refused| self.failure(refused.kind, refused.message))?;
        module.review(&question).map_err(|failure| self.failure(failure.kind(), failure.to_string()))
    }

    /// The answer held against this question, kept or fresh: whether it is sound depends on all of the project.
    fn check(&self, answer: &Answer) -> Result<(), Failure> {
        let ids: BTreeSet<&str> = self.rules.keys().map(String::as_str).collect();
        answer::check(answer, &ids, self.parts.project()).map_err(|bad| self.disbelieved(&bad))
    }

    fn disbelieved(&self, bad: &BadAnswer) -> Failure {
        self.failure("bad-answer", format!("module `{}` is not believed: {bad}", self.used().name))
    }

    fn reads(&self) -> impl Iterator<Item = &str> {
        let entries = self.rules.keys().filter_map(|id| self.rulebook.rule(id));
        entries.flat_map(|rule| &rule.description.reads).map(String::as_str)
    }

    /// The name of the question, without writing it out.
    fn name(&self) -> serde_json::Result<Name> {
        let rules = serde_json::to_vec(&self.rules)?;
        let parts = self.parts.name(self.reads());
        let words = [env!("CARGO_PKG_VERSION"), &self.used().sha256, self.stage.word(), self.date].map(str::as_bytes);
        Ok(Name::of(words.into_iter().chain([rules.as_slice(), parts.as_bytes()])))
    }

    fn question(&self) -> serde_json::Result<String> {
        let project = self.parts.project();
        serde_json::to_string(&question::request(self.stage, self.date, self.rules.clone(), self.reads(), project))
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
