//! What a review did not look at, and which lists nobody gave: silence is said, never left to be taken for a pass.

use crate::document::{join, marked};
use crate::review::{Assignment, ProjectSchema};
use redtag_schema::contract::Outcome;
use redtag_schema::review::{
    IdleFamily, NotLookedAt, Place, Review, ReviewedFinding, SilentEquipment, Unread, UnreadFact, UnsaidList,
};
use redtag_schema::rulebook::{RuleEntry, Rulebook};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

/// What of a project the program itself reads.
const OURS: [&str; 7] = ["/$schema", "/schema", "/name", "/stage", "/application_date", "/packs", "/variances"];

/// Says in the review what it did not look at and what it was not told.
pub(super) fn look(review: &mut Review, assignment: &Assignment, schema: &Value) {
    let descriptive = descriptive(&assignment.document.canonical, schema);
    let look = Look { assignment, schema: ProjectSchema::new(schema), asked: asked(assignment), descriptive };
    review.unsaid = look.unsaid(review);
    review.not_looked_at =
        NotLookedAt { equipment: look.equipment(review), families: look.families(review), facts: look.facts() };
}

/// How the schema marks what is there for people.
const DESCRIPTIVE: &str = "x-descriptive";

/// The places of a project that are there for people.
fn descriptive(project: &Value, schema: &Value) -> BTreeSet<String> {
    static MARKS: OnceLock<bool> = OnceLock::new();
    let any = *MARKS.get_or_init(|| schema.to_string().contains(DESCRIPTIVE));
    if any { marked(project, schema, DESCRIPTIVE).into_iter().collect() } else { BTreeSet::new() }
}

/// The rules that were asked.
fn asked<'a>(assignment: &Assignment<'a>) -> Vec<&'a RuleEntry> {
    let Assignment { rulebook, stage, .. } = *assignment;
    rulebook.rules.iter().filter(|rule| rule.in_force() && rule.description.stages.contains(&stage)).collect()
}

struct Look<'a> {
    assignment: &'a Assignment<'a>,
    schema: ProjectSchema<'a>,
    asked: Vec<&'a RuleEntry>,
    descriptive: BTreeSet<String>,
}

impl Look<'_> {
    fn project(&self) -> &Value {
        &self.assignment.document.canonical
    }

    fn place(&self, pointer: &str) -> Place {
        let document = self.assignment.document;
        let range = document.spans.value(pointer).unwrap_or_else(|| document.spans.nearest(pointer));
        crate::diagnostic::Span::new(&document.source, range).place()
    }

    /// The lists that unresolved findings wait for and that are not there, each once.
    fn unsaid(&self, review: &Review) -> Vec<UnsaidList> {
        let mut lists: BTreeMap<&str, UnsaidList> = BTreeMap::new();
        for finding in review.findings.iter().filter(|finding| finding.outcome == Outcome::Unresolved) {
            for fact in &finding.missing {
                if !self.is_unsaid_list(&fact.pointer) {
                    continue;
                }
                let list = lists.entry(&fact.pointer).or_insert_with(|| UnsaidList {
                    pointer: fact.pointer.clone(),
                    what: self.schema.wanted(&fact.pointer, self.project()).what,
                    place: fact.place,
                    rules: Vec::new(),
                    families: Vec::new(),
                });
                insert(&mut list.rules, &finding.rule);
                insert(&mut list.families, finding.rule.split('/').next().unwrap_or_default());
            }
        }
        lists.into_values().collect()
    }

    fn is_unsaid_list(&self, pointer: &str) -> bool {
        self.project().pointer(pointer).is_none() && self.schema.is_list(pointer, self.project())
    }

    /// The equipment of which no rule spoke. That a rule does not apply to it says nothing of it.
    fn equipment(&self, review: &Review) -> Vec<SilentEquipment> {
        let spoken = spoken_of(&review.findings);
        let list = self.project().get("equipment").and_then(Value::as_array);
        let silent = list.into_iter().flatten().enumerate().filter(|(at, _)| !spoken.contains(at));
        silent.map(|(at, equipment)| self.silent(at, equipment)).collect()
    }

    fn silent(&self, at: usize, equipment: &Value) -> SilentEquipment {
        let pointer = join("/equipment", &at.to_string());
        let typed = self.assignment.document.project.equipment.as_ref().and_then(|list| list.get(at));
        let why = typed.and_then(|one| one.kind.nature().nothing_asked).map(str::to_owned);
        let words = |name: &str| equipment.get(name).and_then(Value::as_str).map(str::to_owned);
        let (id, kind) = (words("id"), words("kind"));
        let kind = kind.map_or_else(|| "equipment of a kind not said".to_owned(), |kind| kind.replace('-', " "));
        let label = id.as_ref().map_or_else(|| kind.clone(), |id| format!("{kind} \"{id}\""));
        SilentEquipment { place: self.place(&pointer), pointer, id, label, why }
    }

    /// The families of which every finding says that it does not apply, or that found nothing at all.
    fn families(&self, review: &Review) -> Vec<IdleFamily> {
        let rulebook: &Rulebook = self.assignment.rulebook;
        let failed: BTreeSet<&str> = review.failures.iter().map(|failure| failure.module.as_str()).collect();
        let mut families = Vec::new();
        for (at, module) in rulebook.modules.iter().enumerate() {
            let rules: BTreeSet<&str> =
                self.asked.iter().filter(|rule| rule.module == at).map(|rule| rule.description.id.as_str()).collect();
            if failed.contains(module.name.as_str()) {
                continue;
            }
            let of_it = || review.findings.iter().filter(|finding| rules.contains(finding.rule.as_str()));
            if of_it().any(|finding| finding.outcome != Outcome::NotApplicable) {
                continue;
            }
            let mut why = Vec::new();
            of_it().for_each(|finding| insert(&mut why, &finding.message));
            if rules.is_empty() {
                why.push(format!("none of its rules is asked at {}", self.assignment.stage.word()));
            }
            families.push(IdleFamily { family: module.name.clone(), rules: rules.len(), why });
        }
        families
    }

    /// The facts that decided nothing: what no rule that was asked reads, and what is there for people.
    fn facts(&self) -> Vec<UnreadFact> {
        let reads = self.asked.iter().flat_map(|rule| &rule.description.reads).map(String::as_str);
        let reads: BTreeSet<&str> = reads.chain(OURS).collect();
        let mut facts = Vec::new();
        self.walk(self.project(), String::new(), &reads, false, &mut facts);
        facts
    }

    /// Looks for the uppermost values that nobody reads. Under a part that a rule reads only the marks of the schema tell.
    fn walk(&self, value: &Value, pointer: String, reads: &BTreeSet<&str>, read: bool, facts: &mut Vec<UnreadFact>) {
        let read = read || reads.contains(pointer.as_str());
        let note = |why, facts: &mut Vec<UnreadFact>| {
            facts.push(UnreadFact { place: self.place(&pointer), pointer: pointer.clone(), why });
        };
        if !OURS.contains(&pointer.as_str()) && self.descriptive.contains(&pointer) {
            return note(Unread::Descriptive, facts);
        }
        let below = |read: &&str| read.strip_prefix(pointer.as_str()).is_some_and(|rest| rest.starts_with('/'));
        if !read && !reads.iter().any(below) {
            return note(Unread::NoRuleReadsIt, facts);
        }
        if OURS.contains(&pointer.as_str()) {
            return;
        }
        match value {
            Value::Object(fields) => {
                fields.iter().for_each(|(name, inner)| self.walk(inner, join(&pointer, name), reads, read, facts));
            }
            Value::Array(items) => items
                .iter()
                .enumerate()
                .for_each(|(at, inner)| self.walk(inner, join(&pointer, &at.to_string()), reads, read, facts)),
            _ => {}
        }
    }
}

/// The numbers of the equipment that findings speak of.
fn spoken_of(findings: &[ReviewedFinding]) -> BTreeSet<usize> {
    let number = |pointer: &str| pointer.strip_prefix("/equipment/")?.split('/').next()?.parse().ok();
    let told = findings.iter().filter(|finding| finding.outcome != Outcome::NotApplicable);
    told.flat_map(|finding| finding.related.iter().chain([&finding.subject.pointer])).filter_map(|one| number(one)).collect()
}

fn insert(list: &mut Vec<String>, word: &str) {
    if !list.iter().any(|known| known == word) {
        list.push(word.to_owned());
    }
}
