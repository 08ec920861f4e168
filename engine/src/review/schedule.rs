//! Which modules are asked, and asking them: several at once, in any order, each once for each project.

use super::Assignment;
use super::answer;
use super::gather;
use super::library::Library;
use super::result_cache::{Kept, ResultCache};
use crate::pack::{ModuleUsed, RuleEntry, Rulebook};
use crate::sandbox::{Level, LogLine, Reviewed};
use rayon::iter::{IntoParallelRefIterator as _, ParallelIterator as _};
use redtag_schema::contract::{Finding, RuleInForce, Stage};
use redtag_schema::review::Failure;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// What one module came to.
pub type Asked = Result<Vec<Finding>, Failure>;

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

/// The modules with a rule in force at the stage, by their place in the rulebook. The others are not run.
pub fn concerned(rulebook: &Rulebook, stage: Stage) -> Vec<usize> {
    (0..rulebook.modules.len()).filter(|&module| asked_of(rulebook, module, stage).next().is_some()).collect()
}

/// The rules a module is asked about.
fn asked_of(rulebook: &Rulebook, module: usize, stage: Stage) -> impl Iterator<Item = &RuleEntry> {
    rulebook.rules_of(module).filter(move |rule| rule.in_force() && rule.description.stages.contains(&stage))
}

/// Asks the modules. The answers stand in the order of the list, however the work was shared out.
pub fn ask(library: &Library, assignment: &Assignment, modules: &[usize]) -> Vec<Asked> {
    let Assignment { document, rulebook, stage, .. } = *assignment;
    let _file = tracing::info_span!("review", file = document.source.name()).entered();
    let here = tracing::Span::current();
    let one = |&module: &usize| {
        let rules = asked_of(rulebook, module, stage).map(|rule| (rule.description.id.clone(), rule.request())).collect();
        let call = Call { rulebook, module, project: &document.canonical, stage, date: &rulebook.date, rules };
        here.in_scope(|| call.make(library))
    };
    modules.par_iter().map(one).collect()
}

impl Call<'_> {
    /// Calls the module and holds its answer against the contract.
    pub fn make(&self, library: &Library) -> Asked {
        let used = self.used();
        let _module = tracing::info_span!("module", name = used.name, rules = self.rules.len()).entered();
        let question = self.question().map_err(|error| self.failure("internal", error.to_string()))?;
        let key = library.results().map(|cache| (cache, ResultCache::key(&self.used().sha256, &question)));
        if let Some(kept) = key.as_ref().and_then(|(cache, key)| cache.get(key)) {
            pass_on(&kept.log);
            return self.believe(&kept.answer);
        }
        let Reviewed { answer, log, .. } = self.run(library, &question)?;
        pass_on(&log);
        let findings = self.believe(&answer)?;
        if let Some((cache, key)) = key {
            cache.put(&key, &Kept { answer, log });
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
    fn believe(&self, answer: &str) -> Asked {
        let ids: BTreeSet<&str> = self.rules.keys().map(String::as_str).collect();
        let disbelieved = |bad| self.failure("bad-answer", format!("module `{}` is not believed: {bad}", self.used().name));
        answer::read(answer, &ids, self.project).map_err(disbelieved)
    }

    fn question(&self) -> serde_json::Result<String> {
        let entries = self.rules.keys().filter_map(|id| self.rulebook.rule(id));
        let reads = entries.flat_map(|rule| &rule.description.reads).map(String::as_str);
        serde_json::to_string(&gather::request(self.stage, self.date, self.rules.clone(), reads, self.project))
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
