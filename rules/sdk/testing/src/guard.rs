//! The guard: what a project leaves unsaid never passes where something that could stand there fails.
//!
//! Every fact of every project of the family is left out in turn. Where a rule then has neither a correction nor a question
//! about a subject of which it had a correction, or with which it was content, some value of that fact may not give a
//! correction: the rule would have passed what it could not see.

use crate::ask::{Family, ask};
use crate::listed::Listed;
use crate::part::Parts;
use crate::shape::{Fact, Role, facts, ids, values};
use redtag_rule::Rule;
use redtag_rule::schema::contract::{Finding, Outcome, Stage};
use redtag_rule::schema::project::Project;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// A project with the rules to be asked about it.
pub(crate) struct Asked {
    pub(crate) name: String,
    pub(crate) project: Value,
    pub(crate) rules: Vec<&'static Rule>,
    pub(crate) parameters: BTreeMap<String, Value>,
    pub(crate) stage: Stage,
    pub(crate) day: Option<String>,
    /// The facts to leave out, where not all are.
    pub(crate) chosen: Option<BTreeSet<String>>,
}

/// A pass on what is not said.
#[derive(Debug, Clone)]
pub(crate) struct Silence {
    pub(crate) rule: &'static str,
    pub(crate) pattern: String,
    words: String,
}

impl fmt::Display for Silence {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}  {}\n    {}", self.rule, self.pattern, self.words)
    }
}

/// What the guard saw.
#[derive(Debug, Default)]
pub(crate) struct Seen {
    /// Rules asked about a project without one of its facts.
    pub(crate) pairs: usize,
    /// Of those, answers that asked for nothing where there had been a correction or a pass.
    pub(crate) passes: usize,
    /// Values tried in the place of what was left out.
    pub(crate) tried: usize,
    /// Rules and patterns that pass where another rule of the family asks for the very fact: the review is not silent about it.
    pub(crate) asked_elsewhere: BTreeSet<(&'static str, String)>,
    /// One for each rule and pattern.
    pub(crate) found: BTreeMap<(&'static str, String), Silence>,
}

impl Seen {
    fn add(&mut self, other: Self) {
        self.pairs += other.pairs;
        self.passes += other.passes;
        self.tried += other.tried;
        self.asked_elsewhere.extend(other.asked_elsewhere);
        for (key, silence) in other.found {
            self.found.entry(key).or_insert(silence);
        }
    }
}

/// What a rule says about one subject.
#[derive(Debug, Default, Clone, Copy)]
struct Said {
    correction: bool,
    unresolved: bool,
    complies: bool,
}

type Answers = BTreeMap<(&'static str, String), Said>;

impl Asked {
    fn answers(&self, rules: &[&'static Rule], project: &Project) -> Vec<(&'static str, Finding)> {
        let mut all = Vec::new();
        for rule in rules {
            let found = ask(rule, project, &self.parameters, self.stage, self.day.as_deref());
            found.iter().for_each(|finding| assert_numbers(rule, finding, &self.name));
            all.extend(found.into_iter().map(|finding| (rule.id, finding)));
        }
        all
    }

    /// Leaves out every fact in turn.
    pub(crate) fn guard(&self, family: &Family) -> Seen {
        let mut seen = Seen::default();
        let project = declared(family, &self.project);
        let ids = ids(&project);
        let Some(mut parts) = Parts::of(family, &project) else { return seen };
        let before = by_subject(&self.answers(&self.rules, parts.whole()), None);
        let chosen = |fact: &Fact| self.chosen.as_ref().is_none_or(|chosen| chosen.contains(&fact.pointer));
        for fact in facts(&project).into_iter().filter(chosen) {
            let unknown: Vec<&'static Rule> = self
                .rules
                .iter()
                .copied()
                .filter(|rule| reads(rule, &fact.pointer))
                .filter(|rule| !seen.found.contains_key(&(rule.id, fact.pattern.clone())))
                .collect();
            if !unknown.is_empty() {
                self.leave_out(family, (&mut parts, &ids), &fact, &unknown, &before, &mut seen);
            }
        }
        seen
    }

    fn leave_out(
        &self,
        family: &Family,
        (parts, ids): (&mut Parts, &BTreeMap<String, Vec<String>>),
        fact: &Fact,
        rules: &[&'static Rule],
        before: &Answers,
        seen: &mut Seen,
    ) {
        let found = parts.without(fact, |project| self.answers(rules, project)).unwrap_or_default();
        let after = by_subject(&found, (fact.role == Role::Element).then_some(fact));
        for rule in rules {
            seen.pairs += 1;
            if found.iter().any(|(id, finding)| *id == rule.id && asks_for(finding, fact)) {
                continue;
            }
            let mut passing: BTreeMap<&str, Said> = BTreeMap::new();
            for ((_, subject), was) in before.range((rule.id, String::new())..).take_while(|((id, _), _)| *id == rule.id) {
                let now = after.get(&(rule.id, subject.clone())).copied().unwrap_or_default();
                let gone = fact.role == Role::Element && inside(parts.document(), subject, &fact.pointer);
                if (was.correction || was.complies) && !now.correction && !now.unresolved && !gone {
                    passing.insert(subject, *was);
                }
            }
            if !passing.is_empty() {
                seen.passes += 1;
                self.try_values(family, (parts, ids), fact, rule, &passing, seen);
            }
        }
    }

    fn try_values(
        &self,
        family: &Family,
        (parts, ids): (&mut Parts, &BTreeMap<String, Vec<String>>),
        fact: &Fact,
        rule: &'static Rule,
        passing: &BTreeMap<&str, Said>,
        seen: &mut Seen,
    ) {
        let Some(was) = parts.document().pointer(&fact.pointer).cloned() else { return };
        let all: Vec<&'static Rule> = family.module.entries.iter().map(|entry| entry.rule).collect();
        let mut note = |parts: &mut Parts, subject: &str, value: &Value| {
            let review = parts.without(fact, |project| self.answers(&all, project)).unwrap_or_default();
            if review.iter().any(|(_, finding)| asks_for(finding, fact)) {
                seen.asked_elsewhere.insert((rule.id, fact.pattern.clone()));
                return;
            }
            let value: String = value.to_string().chars().take(120).collect();
            let words = format!("{}: {subject}, without {}; a correction with {value}", self.name, fact.pointer);
            let silence = Silence { rule: rule.id, pattern: fact.pattern.clone(), words };
            seen.found.insert((rule.id, fact.pattern.clone()), silence);
        };
        if let Some((subject, _)) = passing.iter().find(|(_, said)| said.correction) {
            return note(parts, subject, &was);
        }
        for value in values(fact, &was, ids).into_iter().skip(1) {
            seen.tried += 1;
            let found = parts.with(fact, value.clone(), |project| self.answers(&[rule], project)).unwrap_or_default();
            let answers = by_subject(&found, None);
            if let Some(subject) =
                passing.keys().find(|subject| answers.get(&(rule.id, (**subject).to_owned())).is_some_and(|said| said.correction))
            {
                return note(parts, subject, &value);
            }
        }
    }
}

/// No amount a rule says is no number, whatever is left out.
fn assert_numbers(rule: &Rule, finding: &Finding, project: &str) {
    let mut amounts = finding.worksheet.iter().flat_map(|step| &step.text.amounts).chain(&finding.summary.amounts);
    assert!(amounts.all(|amount| amount.si.is_finite()), "{project}: {} says what is no number: {finding:?}", rule.id);
}

/// What the rules of a module declare they read, and nothing else.
fn declared(family: &Family, project: &Value) -> Value {
    let mut project = project.clone();
    let rules = || family.module.entries.iter().map(|entry| entry.rule);
    if let Some(fields) = project.as_object_mut() {
        fields.retain(|name, _| name == "schema" || rules().any(|rule| reads(rule, &format!("/{name}"))));
    }
    project
}

/// Whether a place lies in or around what a rule declares.
pub fn reads(rule: &Rule, pointer: &str) -> bool {
    rule.reads.iter().any(|part| lies_in(part, pointer) || lies_in(pointer, part))
}

fn lies_in(inner: &str, outer: &str) -> bool {
    inner.strip_prefix(outer).is_some_and(|rest| rest.is_empty() || rest.starts_with('/'))
}

/// Whether a question names the fact, what holds it, or a part of it; of one of a list, whether the list is whole.
fn asks_for(finding: &Finding, fact: &Fact) -> bool {
    let pointer = fact.pointer.as_str();
    let list = pointer.rsplit_once('/').filter(|_| fact.role == Role::Element).map(|(list, _)| format!("{list}_complete"));
    // Whether something burns is asked together with what it burns and how.
    let burns = pointer.strip_suffix("fuel_burning").map(|above| format!("{above}burns_fuel"));
    let instead = |missing: &str| [&list, &burns].into_iter().flatten().any(|other| other == missing);
    let named = |missing: &str| lies_in(missing, pointer) || lies_in(pointer, missing) || instead(missing);
    finding.outcome == Outcome::Unresolved
        && finding.missing.iter().any(|missing| !missing.pointer.is_empty() && named(&missing.pointer))
}

/// Whether a subject stands in a place, by its pointer or by its id.
fn inside(project: &Value, subject: &str, pointer: &str) -> bool {
    fn holds(value: &Value, id: &str) -> bool {
        match value {
            Value::Object(fields) => {
                fields.get("id").is_some_and(|own| own == id) || fields.values().any(|inner| holds(inner, id))
            }
            Value::Array(items) => items.iter().any(|inner| holds(inner, id)),
            _ => false,
        }
    }
    lies_in(subject, pointer) || project.pointer(pointer).is_some_and(|value| holds(value, subject))
}

/// Answers by rule and subject. Without an element of a list those behind it have moved up; they are called by their old place.
fn by_subject(found: &[(&'static str, Finding)], gone: Option<&Fact>) -> Answers {
    let mut answers = Answers::new();
    for (rule, finding) in found {
        let subject = finding.subject.id.clone().unwrap_or_else(|| old_place(&finding.subject.pointer, gone));
        let said = answers.entry((*rule, subject)).or_default();
        said.correction |= finding.outcome == Outcome::Correction;
        said.unresolved |= finding.outcome == Outcome::Unresolved;
        said.complies |= finding.outcome == Outcome::Complies;
    }
    answers
}

fn old_place(pointer: &str, gone: Option<&Fact>) -> String {
    let moved = || {
        let (list, index) = gone?.pointer.rsplit_once('/')?;
        let rest = pointer.strip_prefix(list)?.strip_prefix('/')?;
        let (now, below) = rest.split_once('/').map_or((rest, String::new()), |(now, below)| (now, format!("/{below}")));
        let (now, index): (usize, usize) = (now.parse().ok()?, index.parse().ok()?);
        Some(format!("{list}/{}{below}", if now >= index { now + 1 } else { now }))
    };
    moved().unwrap_or_else(|| pointer.to_owned())
}

/// Guards all projects, several at a time.
pub(crate) fn guard_all(family: &Family, asked: &[Asked]) -> Seen {
    let (next, seen) = (AtomicUsize::new(0), Mutex::new(BTreeMap::new()));
    let work = || {
        while let Some((index, one)) = {
            let index = next.fetch_add(1, Ordering::Relaxed);
            asked.get(index).map(|one| (index, one))
        } {
            let of_one = one.guard(family);
            seen.lock().unwrap_or_else(std::sync::PoisonError::into_inner).insert(index, of_one);
        }
    };
    let workers = std::thread::available_parallelism().map_or(1, usize::from);
    std::thread::scope(|scope| (0..workers).for_each(|_| drop(scope.spawn(work))));
    let mut all = Seen::default();
    seen.into_inner().unwrap_or_default().into_values().for_each(|one| all.add(one));
    all
}

/// Holds what was seen against the family's list, and says what does not fit.
pub(crate) fn verdict(seen: &Seen, listed: &Listed) -> Result<String, String> {
    let found: Vec<&Silence> = seen.found.values().filter(|silence| !listed.allows(silence.rule, &silence.pattern)).collect();
    let new: Vec<String> =
        found.iter().filter(|silence| !listed.knows(silence.rule, &silence.pattern)).map(|silence| silence.to_string()).collect();
    let still: BTreeSet<(&str, &str)> = found.iter().map(|silence| (silence.rule, silence.pattern.as_str())).collect();
    let mended: Vec<String> =
        listed.known().filter(|known| !still.contains(known)).map(|(rule, pattern)| format!("{rule}  {pattern}")).collect();
    let figures = format!(
        "{} pairs of rule and unsaid fact, {} passes or silences, {} values tried: {} rules pass a fact that another of the family asks \
         for; {} pass one unseen, of them {} with a reason, {} known",
        seen.pairs,
        seen.passes,
        seen.tried,
        seen.asked_elsewhere.len(),
        seen.found.len(),
        seen.found.len() - found.len(),
        found.len() - new.len()
    );
    if !new.is_empty() {
        return Err(format!(
            "{figures}\n\nThese pass on what is not said, and are in no list:\n\n{}\n\nAsk for the fact, or give a reason a plan reviewer would accept in unsaid.json under \"accepted\".",
            new.join("\n")
        ));
    }
    // A run that leaves out a part of the facts may miss one that still passes.
    if !mended.is_empty() {
        return Err(format!(
            "{figures}\n\nThese are known in unsaid.json and no longer pass unseen. Take them off (REDTAG_BLESS=1 does):\n\n{}",
            mended.join("\n")
        ));
    }
    Ok(figures)
}
