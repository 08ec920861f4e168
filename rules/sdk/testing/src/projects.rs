//! The projects a family is tried on: those of its cases, and whole houses.

use crate::ask::Family;
use crate::guard::Asked;
use crate::shape::{Fact, facts};
use redtag_rule::Rule;
use redtag_rule::schema::contract::Stage;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// Every project of the family's cases, once, and every demo house.
pub(crate) fn asked(family: &Family) -> Result<Vec<Asked>, String> {
    let full = in_full();
    let all: Vec<&'static Rule> = family.module.entries.iter().map(|entry| entry.rule).collect();
    let mut asked = Vec::new();
    let mut left_out: BTreeMap<String, usize> = BTreeMap::new();
    for path in house_files(&family.folder)? {
        let text = std::fs::read_to_string(&path).map_err(|error| format!("{}: {error}", path.display()))?;
        let project: Value = serde_json::from_str(&text).map_err(|error| format!("{}: {error}", path.display()))?;
        let chosen = (!full).then(|| chosen(&project, &mut left_out));
        asked.push(Asked {
            name: path.file_name().unwrap_or_default().to_string_lossy().into_owned(),
            project,
            rules: all.clone(),
            parameters: BTreeMap::new(),
            stage: Stage::Final,
            day: None,
            chosen,
        });
    }
    let mut seen = BTreeSet::new();
    for case in family.cases()? {
        let Some(rule) = family.rule(&case.rule) else { continue };
        if !seen.insert(format!("{}{}{:?}{:?}{:?}", case.rule, case.project, case.parameters, case.stage, case.day)) {
            continue;
        }
        // What a case sets is set for its own rule, so the others are asked about it only where it sets nothing.
        let rules = if full && case.parameters.is_empty() { all.clone() } else { vec![rule] };
        asked.push(Asked {
            name: format!("{}:{}", case.file, case.line),
            project: case.project,
            rules,
            parameters: case.parameters,
            stage: case.stage,
            day: case.day,
            chosen: None,
        });
    }
    Ok(asked)
}

/// Whether every fact of everything is asked for.
pub(crate) fn in_full() -> bool {
    std::env::var("REDTAG_GUARD").is_ok_and(|how| how == "full")
}

/// Leaves out only some facts of the cases: of each pattern six over all cases of a rule, spread over them. Neighbours differ in
/// little, so that every so many of them is taken and not the first.
pub(crate) fn sample(asked: &mut [Asked]) {
    const EACH: usize = 6;
    let mut counts: BTreeMap<(&str, String), usize> = BTreeMap::new();
    let of_case = |one: &Asked| one.chosen.is_none().then(|| one.rules.first().map(|rule| rule.id)).flatten();
    let seen: Vec<(&str, Vec<Fact>)> = asked.iter().filter_map(|one| Some((of_case(one)?, facts(&one.project)))).collect();
    for (rule, fact) in seen.iter().flat_map(|(rule, facts)| facts.iter().map(move |fact| (rule, fact))) {
        *counts.entry((*rule, fact.pattern.clone())).or_default() += 1;
    }
    let mut left_out: BTreeMap<(&str, String), usize> = BTreeMap::new();
    let cases = asked.iter_mut().filter(|one| of_case(one).is_some());
    for (one, (rule, facts)) in cases.zip(&seen) {
        let mut chosen = BTreeSet::new();
        for fact in facts {
            let key = (*rule, fact.pattern.clone());
            let (count, number) = (counts.get(&key).copied().unwrap_or(1), left_out.entry(key).or_default());
            if *number % count.div_ceil(EACH) == 0 {
                chosen.insert(fact.pointer.clone());
            }
            *number += 1;
        }
        one.chosen = Some(chosen);
    }
}

/// The facts of a house to leave out where not all are: of each pattern two over all houses.
fn chosen(project: &Value, left_out: &mut BTreeMap<String, usize>) -> BTreeSet<String> {
    let mut new = |fact: &Fact| {
        let count = left_out.entry(fact.pattern.clone()).or_default();
        *count += 1;
        *count <= 2
    };
    facts(project).into_iter().filter(|fact| new(fact)).map(|fact| fact.pointer).collect()
}

/// The demo houses of the repository a module stands in.
fn house_files(module: &Path) -> Result<Vec<std::path::PathBuf>, String> {
    let Some(folder) = module.ancestors().map(|above| above.join("examples/houses")).find(|folder| folder.is_dir()) else {
        return Ok(Vec::new());
    };
    let complain = |error: std::io::Error| format!("{}: {error}", folder.display());
    let mut files = Vec::new();
    for entry in std::fs::read_dir(&folder).map_err(complain)? {
        let path = entry.map_err(complain)?.path();
        if path.extension().is_some_and(|ending| ending == "json") {
            files.push(path);
        }
    }
    // What is broken shows most: a house comes before its corrected form.
    files.sort_by_key(|path| (path.to_string_lossy().contains("-corrected"), path.clone()));
    Ok(files)
}
