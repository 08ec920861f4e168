//! What is not said never passes: every fact of the walls of the demo room, taken away alone and with others.

use proptest::prelude::*;
use redtag_fire_separation::MODULE;
use redtag_rule::Inquiry;
use redtag_rule::schema::contract::{Finding, Outcome, Stage};
use redtag_rule::schema::project::Project;
use serde_json::Value;
use std::collections::BTreeMap;

const BARE: &str = include_str!("../../../examples/houses/board-room.json");
const LINED: &str = include_str!("../../../examples/houses/board-room-corrected.json");

type Answers = BTreeMap<(String, String), Finding>;

fn read(text: &str) -> Value {
    serde_json::from_str(text).expect("the demo room is JSON")
}

fn answers(project: &Value) -> Answers {
    let project: Project = serde_json::from_value(project.clone()).expect("the demo room reads");
    let none = BTreeMap::new();
    let inquiry = Inquiry::new(&project, &none, Stage::Final, "2025-03-03");
    let of = |entry: &redtag_rule::Entry| {
        let rule = entry.rule.id.to_owned();
        (entry.rule.check)(&inquiry).into_iter().map(move |finding| ((rule.clone(), finding.subject.pointer.clone()), finding))
    };
    MODULE.entries.iter().flat_map(of).collect()
}

/// Every field below the walls that may be left out.
fn facts(project: &Value) -> Vec<String> {
    let mut found = Vec::new();
    for space in 0..project["spaces"].as_array().map_or(0, Vec::len) {
        walk(&project["spaces"][space]["assemblies"], format!("/spaces/{space}/assemblies"), &mut found);
    }
    found
}

fn walk(value: &Value, pointer: String, found: &mut Vec<String>) {
    match value {
        Value::Object(fields) => {
            for (name, inner) in fields {
                let here = format!("{pointer}/{name}");
                // A record is not one without its id and kind; a point is not one without both numbers.
                if !matches!(name.as_str(), "id" | "kind" | "x" | "y") {
                    found.push(here.clone());
                }
                walk(inner, here, found);
            }
        }
        Value::Array(items) => {
            items.iter().enumerate().for_each(|(index, inner)| walk(inner, format!("{pointer}/{index}"), found));
        }
        _ => {}
    }
}

fn without(project: &Value, pointer: &str) -> Value {
    let mut project = project.clone();
    let (parent, name) = pointer.rsplit_once('/').expect("a pointer has a parent");
    if let Some(Value::Object(fields)) = project.pointer_mut(parent) {
        fields.shift_remove(name);
    }
    project
}

fn names(finding: &Finding, pointer: &str) -> bool {
    finding.outcome == Outcome::Unresolved
        && finding.missing.iter().any(|missing| missing.pointer.starts_with(pointer) || pointer.starts_with(&missing.pointer))
}

/// What was refused or open may not pass once a fact is gone; where it is not asked any more, something names the fact.
fn sound(before: &Answers, after: &Answers, gone: &[&str]) -> Result<(), String> {
    let named = after.values().any(|finding| gone.iter().any(|pointer| names(finding, pointer)));
    for (key, old) in before.iter().filter(|(_, old)| matches!(old.outcome, Outcome::Correction | Outcome::Unresolved)) {
        match after.get(key).map(|new| new.outcome) {
            Some(Outcome::Complies) => return Err(format!("{key:?} passes without {gone:?}")),
            Some(outcome) if outcome == old.outcome => {}
            _ if named => {}
            other => return Err(format!("{key:?} is {other:?} without {gone:?}, and nothing names it")),
        }
    }
    Ok(())
}

#[test]
fn no_fact_taken_from_a_wall_makes_it_pass() {
    let room = read(BARE);
    let before = answers(&room);
    let facts = facts(&room);
    assert!(facts.len() > 100, "{} facts", facts.len());
    for fact in &facts {
        let after = answers(&without(&room, fact));
        assert_eq!(sound(&before, &after, &[fact]), Ok(()));
    }
}

#[test]
fn framing_and_what_lies_beyond_are_named_when_they_are_gone() {
    for text in [BARE, LINED] {
        let room = read(text);
        for fact in ["/framing", "/framing/material", "/beyond"] {
            for wall in 0..2 {
                let gone = format!("/spaces/0/assemblies/{wall}{fact}");
                let after = answers(&without(&room, &gone));
                let about = |finding: &&Finding| finding.subject.pointer == format!("/spaces/0/assemblies/{wall}");
                let named = after.values().filter(about).any(|finding| names(finding, &gone));
                assert!(named, "{gone} is not named");
                // Whatever the garage asks of the wall is open without what lies beyond it.
                let garage = after.get(&("fire-separation/garage-separation".into(), format!("/spaces/0/assemblies/{wall}")));
                let passes = garage.is_some_and(|finding| finding.outcome == Outcome::Complies);
                assert!(!passes, "{gone}: the separation passes");
            }
        }
    }
}

#[test]
fn a_lined_room_without_a_fact_is_open_or_passes_and_is_never_refused() {
    let room = read(LINED);
    for fact in facts(&room) {
        let after = answers(&without(&room, &fact));
        for (key, finding) in &after {
            assert_ne!(finding.outcome, Outcome::Correction, "{key:?} without {fact}");
            if finding.outcome == Outcome::Unresolved {
                assert!(names(finding, &fact), "{key:?} without {fact} names {:?}", finding.missing);
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    #[test]
    fn no_facts_taken_together_make_a_wall_pass(chosen in proptest::collection::vec(any::<prop::sample::Index>(), 2..7)) {
        let room = read(BARE);
        let before = answers(&room);
        let all = facts(&room);
        let gone: Vec<&str> = chosen.iter().map(|index| all[index.index(all.len())].as_str()).collect();
        let after = answers(&gone.iter().fold(room.clone(), |room, fact| without(&room, fact)));
        prop_assert_eq!(sound(&before, &after, &gone), Ok(()));
    }
}
