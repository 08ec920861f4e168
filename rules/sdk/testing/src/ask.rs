//! Asks the rules of a module natively, about a project as its author writes it.

use crate::cases::{Case, Expected, read_cases};
use crate::differ::differences;
use redtag_rule::schema::contract::{Finding, Level, Outcome, Stage, parts};
use redtag_rule::schema::project::Project;
use redtag_rule::{Inquiry, Module, Rule};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;

/// The day asked about where a case names none; no rule decides by a later one.
const DAY: &str = "2025-06-01";

/// A module with the folder its case files stand in.
pub struct Family {
    pub(crate) module: &'static Module,
    pub(crate) folder: PathBuf,
}

impl Family {
    /// A module, and the folder of its crate.
    pub fn new(module: &'static Module, folder: impl Into<PathBuf>) -> Self {
        Self { module, folder: folder.into() }
    }

    /// Its cases, rule by rule.
    ///
    /// # Errors
    /// In words with file and line: a case file does not read.
    pub fn cases(&self) -> Result<Vec<Case>, String> {
        let mut all = Vec::new();
        for entry in self.module.entries {
            let path = self.folder.join("src/rules").join(format!("{}.md", entry.file));
            let text = std::fs::read_to_string(&path).map_err(|error| format!("{}: {error}", path.display()))?;
            all.extend(read_cases(entry.rule.id, &format!("src/rules/{}.md", entry.file), &text)?);
        }
        Ok(all)
    }

    /// What a case finds that it does not expect, in words; nothing where it holds.
    pub(crate) fn wrong(&self, case: &Case) -> Option<String> {
        let asked: BTreeSet<&str> = case.rules().collect();
        let own = |expected: &&Expected| self.rule(expected.rule.as_deref().unwrap_or(&case.rule)).is_some();
        let expected: Vec<&Expected> = case.expected.iter().filter(own).collect();
        let none = BTreeMap::new();
        let mut found = Vec::new();
        // A pack may hold one of the rules alone: it is then told what it declares, and nothing that its neighbours read.
        let rules = || self.module.entries.iter().map(|entry| entry.rule).filter(|rule| asked.contains(rule.id));
        let declared = parts(rules().flat_map(|rule| rule.reads.iter().copied()), &case.project);
        let read = (self.module.read)(Value::Object(declared)).map_err(|error| error.to_string());
        let differences = match read {
            Err(error) => vec![format!("its project does not read: {error}")],
            Ok(project) => {
                for rule in rules() {
                    let parameters = if rule.id == case.rule { &case.parameters } else { &none };
                    found.extend(ask(rule, &project, parameters, case.stage, case.day.as_deref()));
                }
                differences(&case.rule, &expected, &found)
            }
        };
        let lines = || differences.iter().map(|line| format!("  {line}")).collect::<Vec<_>>().join("\n");
        (!differences.is_empty()).then(|| format!("{}:{}: {}: {}\n{}", case.file, case.line, case.kind, case.title, lines()))
    }

    pub(crate) fn rule(&self, id: &str) -> Option<&'static Rule> {
        self.module.entries.iter().map(|entry| entry.rule).find(|rule| rule.id == id)
    }
}

/// The findings of one rule, at the level it ships with.
pub fn ask(
    rule: &Rule,
    project: &Project,
    parameters: &BTreeMap<String, Value>,
    stage: Stage,
    day: Option<&str>,
) -> Vec<Finding> {
    if !rule.stages.contains(&stage) {
        return Vec::new();
    }
    let mut found = redtag_rule::findings_of(rule, &Inquiry::new(project, parameters, stage, day.unwrap_or(DAY)));
    for finding in &mut found {
        if rule.level == Level::Advice && finding.outcome == Outcome::Correction {
            finding.outcome = Outcome::Advice;
        }
    }
    found
}
