//! Every fact the corrected boatyard could leave unsaid is left out in turn: no rule falls silent unless something is asked.
#![expect(clippy::print_stdout, reason = "figures for whoever runs it by hand")]

use redtag_families_tests::{houses, readers, review, review_by};
use redtag_rule::schema::contract::{Finding, Outcome};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// What may be left out although a rule then says nothing and nothing is asked, each with why.
const SILENT: &[(&str, &str)] = &[
    (
        "/electrical/loads/2/starting",
        "a motor of a plate below a start that matters; motors without a start are asked where one is large",
    ),
    ("/equipment/0/service/depth", "the maker's depth; the 30 in of the code are asked all the same"),
    ("/equipment/5/service/depth", "the maker's depth; the 30 in of the code are asked all the same"),
    ("/equipment/0/service/pulls", "what has to be pulled out is the maker's to say"),
    ("/equipment/0/service/pulls/0", "what has to be pulled out is the maker's to say"),
    ("/equipment/22/service", "what has to be pulled out is the maker's to say"),
    ("/equipment/22/service/pulls", "what has to be pulled out is the maker's to say"),
    ("/equipment/22/service/pulls/0", "what has to be pulled out is the maker's to say"),
    ("/equipment/3/electrical", "its receptacle is judged with those of the laundry"),
    ("/equipment/4/electrical", "its receptacle is judged with those of the laundry"),
    ("/vents/0/appliance_removed", "a new vent has lost no appliance; asked of everybody it would be noise"),
    ("/vents/1/appliance_removed", "a new vent has lost no appliance; asked of everybody it would be noise"),
    ("/spaces/0/assemblies/0/layers/1", "the layers that are listed are the wall's"),
    ("/spaces/0/assemblies/1/layers/1", "the layers that are listed are the wall's"),
    ("/spaces/0/assemblies/3/layers/1", "the layers that are listed are the wall's"),
    ("/spaces/0/assemblies/2/fire_rating", "no rating is asked of this wall; where one is, its lack is asked"),
    ("/spaces/2/assemblies/0/fire_rating", "no rating is asked of this ceiling; where one is, its lack is asked"),
];

/// What should ask and does not yet; only shrinks.
const KNOWN: &[(&str, &str)] = &[
    ("/equipment/5/electrical", "to be mended: a disconnect is asked of a heater whose wiring is not said"),
    ("/raceways/1/conductors/0", "to be mended: the ampacity of a raceway whose only conductors are not listed"),
    ("/spaces/2/assemblies", "to be mended: the work list of a workshop without walls"),
    ("/spaces/8/foam_plastic", "to be mended: whether there is foam in a crawl space"),
    ("/spaces/9/foam_plastic", "to be mended: whether there is foam in an attic"),
    ("/water/valves/2", "to be mended: a check valve nobody lists closes the system all the same"),
    ("/water/valves/2/serves", "to be mended: what a check valve serves"),
    ("/water/valves/2/serves/0", "to be mended: what a check valve serves"),
];

/// What is no fact of the house for rules.
const NOT_FOR_RULES: [&str; 8] = ["$schema", "schema", "name", "stage", "application_date", "packs", "variances", "notes"];

/// Every place that could be left out, from the outside in. What must be there is found out by leaving it out.
fn places(value: &Value, at: &str, all: &mut Vec<String>) {
    match value {
        Value::Object(fields) => {
            for (name, inner) in fields {
                let top = at.is_empty() && NOT_FOR_RULES.contains(&name.as_str());
                if top || ["note", "id", "kind"].contains(&name.as_str()) {
                    continue;
                }
                all.push(format!("{at}/{name}"));
                places(inner, &format!("{at}/{name}"), all);
            }
        }
        // The corners of an outline are one fact together.
        Value::Array(items) if items.iter().all(|item| item.get("x").is_some() && item.get("id").is_none()) => {}
        Value::Array(items) => {
            for (index, inner) in items.iter().enumerate() {
                all.push(format!("{at}/{index}"));
                places(inner, &format!("{at}/{index}"), all);
            }
        }
        _ => {}
    }
}

fn without(project: &Value, pointer: &str) -> Option<(Value, Value)> {
    let (parent, last) = pointer.rsplit_once('/')?;
    let mut project = project.clone();
    let taken = match project.pointer_mut(parent)? {
        Value::Object(fields) => fields.shift_remove(last)?,
        Value::Array(items) => items.remove(last.parse().ok()?),
        _ => return None,
    };
    Some((project, taken))
}

fn ids(value: &Value, all: &mut BTreeSet<String>) {
    match value {
        Value::Object(fields) => {
            all.extend(fields.get("id").and_then(Value::as_str).map(str::to_owned));
            fields.values().for_each(|inner| ids(inner, all));
        }
        Value::Array(items) => items.iter().for_each(|inner| ids(inner, all)),
        _ => {}
    }
}

/// Whether anything still refers to an id: the document is then refused before any rule is asked.
fn refers(value: &Value, gone: &BTreeSet<String>) -> bool {
    match value {
        Value::Object(fields) => fields.iter().any(|(name, inner)| name != "id" && refers(inner, gone)),
        Value::Array(items) => items.iter().any(|inner| refers(inner, gone)),
        Value::String(text) => gone.contains(text),
        _ => false,
    }
}

type Said = BTreeMap<(String, String), Outcome>;

/// What rules say of the things of the house that have ids: places in lists move when one is left out.
fn said(found: &[Finding]) -> Said {
    let speaks = |finding: &&Finding| finding.outcome != Outcome::NotApplicable;
    let of = |finding: &Finding| Some(((finding.rule.clone(), finding.subject.id.clone()?), finding.outcome));
    found.iter().filter(speaks).filter_map(of).collect()
}

/// The rules that said something of a thing that is still there, and now say nothing.
fn fallen_silent(before: &Said, after: &Said, (rules, gone): (&BTreeSet<&str>, &BTreeSet<String>)) -> Vec<String> {
    let asked = before.keys().filter(|(rule, subject)| rules.contains(rule.as_str()) && !gone.contains(subject));
    let silent = asked.filter(|key| !after.contains_key(*key));
    silent.map(|(rule, subject)| format!("{rule} of {subject}")).collect()
}

struct Figures {
    tried: usize,
    refused: usize,
    asked: usize,
    silent: BTreeMap<String, Vec<String>>,
}

fn knock_out(house: &Value) -> Figures {
    let before = said(&review(house).expect("the house reads"));
    let mut all = Vec::new();
    places(house, "", &mut all);
    let (next, figures) = (AtomicUsize::new(0), Mutex::new(Figures { tried: 0, refused: 0, asked: 0, silent: BTreeMap::new() }));
    let work = || {
        while let Some(pointer) = all.get(next.fetch_add(1, Ordering::Relaxed)) {
            let Some((rest, taken)) = without(house, pointer) else { continue };
            let mut gone = BTreeSet::new();
            ids(&taken, &mut gone);
            // Only rules that read the place can say something else.
            let rules = readers(pointer);
            let found = if refers(&rest, &gone) { None } else { review_by(&rest, &rules) };
            let mut figures = figures.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
            let Some(found) = found else {
                figures.refused += 1;
                continue;
            };
            figures.tried += 1;
            if found.iter().any(|finding| matches!(finding.outcome, Outcome::Unresolved | Outcome::Correction)) {
                figures.asked += 1;
                continue;
            }
            let silent = fallen_silent(&before, &said(&found), (&rules, &gone));
            if !silent.is_empty() {
                figures.silent.insert(pointer.clone(), silent);
            }
        }
    };
    let workers = std::thread::available_parallelism().map_or(1, usize::from);
    std::thread::scope(|scope| (0..workers).for_each(|_| drop(scope.spawn(work))));
    figures.into_inner().unwrap_or_else(std::sync::PoisonError::into_inner)
}

#[test]
#[ignore = "takes minutes: cargo test -p redtag-families-tests --test knock_out -- --ignored"]
fn no_rule_falls_silent_with_nothing_asked() {
    let house = houses().into_iter().find(|(name, _)| name == "boatyard-corrected.json").expect("the corrected boatyard").1;
    let mut figures = knock_out(&house);
    println!(
        "{} facts left out, {} more refused; after {} something is asked or corrected, after {} a rule is silent and nothing is",
        figures.tried,
        figures.refused,
        figures.asked,
        figures.silent.len()
    );
    let listed = || SILENT.iter().chain(KNOWN).map(|(pointer, _)| *pointer);
    let mended: Vec<&str> = listed().filter(|pointer| !figures.silent.contains_key(*pointer)).collect();
    figures.silent.retain(|pointer, _| !listed().any(|known| known == pointer));
    assert!(mended.is_empty(), "these ask now: take them off the lists: {mended:?}");
    assert!(figures.tried > 900, "only {} facts were left out", figures.tried);
    let lines: Vec<String> = figures.silent.iter().map(|(pointer, rules)| format!("{pointer}: {}", rules.join(", "))).collect();
    assert!(lines.is_empty(), "after these a rule falls silent and nothing is asked:\n{}", lines.join("\n"));
}
