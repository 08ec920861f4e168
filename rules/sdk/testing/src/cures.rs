//! Cures that cure: every remedy that can be tried is tried.

use crate::ask::{Family, ask};
use crate::guard::Asked;
use redtag_rule::schema::contract::{Finding, Outcome, Remedy};
use redtag_rule::schema::quantity::System;
use serde_json::Value;
use std::collections::BTreeSet;

/// What became of the remedies of a family.
#[derive(Debug, Default)]
pub(crate) struct Tried {
    pub(crate) count: usize,
    pub(crate) failed: Vec<String>,
}

/// A rule and what it is about.
type Corrections = BTreeSet<(&'static str, String)>;

/// Tries every remedy with a patch in every project: the patch fits, the project still reads, that correction is gone or
/// has a fault less, and the family finds nothing new to correct.
pub(crate) fn try_all(family: &Family, asked: &[Asked]) -> Tried {
    let mut tried = Tried::default();
    for one in asked {
        let Some(findings) = findings(family, one, &one.project) else { continue };
        let before = corrections(&findings);
        for (rule, finding) in findings.iter().filter(|(_, finding)| finding.outcome == Outcome::Correction) {
            for remedy in finding.remedies.iter().filter(|remedy| !remedy.patch.is_empty()) {
                tried.count += 1;
                if let Err(words) = try_one(family, one, (rule, finding), remedy, &before) {
                    let cure = remedy.words.print(System::UsCustomary);
                    let patch = Value::Array(remedy.patch.clone());
                    let line = format!("{rule}: {}: {}: \"{cure}\" {patch}\n    {words}", one.name, subject(finding));
                    tried.failed.push(line);
                }
            }
        }
    }
    tried
}

fn try_one(
    family: &Family,
    asked: &Asked,
    (rule, finding): (&'static str, &Finding),
    remedy: &Remedy,
    before: &Corrections,
) -> Result<(), String> {
    let mut project = asked.project.clone();
    let patch: json_patch::Patch =
        serde_json::from_value(Value::Array(remedy.patch.clone())).map_err(|error| format!("is no JSON Patch: {error}"))?;
    json_patch::patch(&mut project, &patch).map_err(|error| format!("cannot be made: {error}"))?;
    let after = findings(family, asked, &project).ok_or("the project does not read any more")?;
    let now = corrections(&after);
    let cured = (rule, subject(finding));
    let still = after.iter().find(|(id, found)| *id == rule && subject(found) == cured.1 && found.outcome == Outcome::Correction);
    if let Some((_, still)) = still.filter(|(_, still)| !fewer(still, finding)) {
        return Err(format!("it is still a correction: {}", still.summary.print(System::UsCustomary)));
    }
    let new: Vec<String> = now.difference(before).map(|(rule, subject)| format!("{rule} about {subject}")).collect();
    if new.is_empty() { Ok(()) } else { Err(format!("now there is {}", new.join(", "))) }
}

/// Whether a finding has lost one of several faults and gained none: a cure of one fault need not cure the others.
fn fewer(now: &Finding, before: &Finding) -> bool {
    let faults = |finding: &Finding| -> BTreeSet<String> {
        finding.summary.print(System::UsCustomary).split("; ").map(str::to_owned).collect()
    };
    let (now, before) = (faults(now), faults(before));
    now.len() < before.len() && now.is_subset(&before)
}

/// What the whole family finds; a case's parameters are its own rule's.
fn findings(family: &Family, asked: &Asked, project: &Value) -> Option<Vec<(&'static str, Finding)>> {
    let project = (family.module.read)(project.clone()).ok()?;
    let none = std::collections::BTreeMap::new();
    let mut all = Vec::new();
    for rule in family.module.entries.iter().map(|entry| entry.rule) {
        let own = asked.rules.len() == 1 && asked.rules[0].id == rule.id;
        let parameters = if own { &asked.parameters } else { &none };
        let found = ask(rule, &project, parameters, asked.stage, asked.day.as_deref());
        all.extend(found.into_iter().map(|finding| (rule.id, finding)));
    }
    Some(all)
}

fn corrections(findings: &[(&'static str, Finding)]) -> Corrections {
    let broken = findings.iter().filter(|(_, finding)| finding.outcome == Outcome::Correction);
    broken.map(|(rule, finding)| (*rule, subject(finding))).collect()
}

fn subject(finding: &Finding) -> String {
    finding.subject.id.clone().unwrap_or_else(|| finding.subject.pointer.clone())
}
