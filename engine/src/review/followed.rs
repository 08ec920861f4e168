//! What is the same thing in two states of a project: ids that were renamed are followed by what they name, and a place is told by
//! the ids on its way, so that a reordered list stays what it was.

use serde_json::{Map, Value};
use std::collections::BTreeMap;

/// Ids of an earlier state by what they are called now.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Followed {
    renamed: BTreeMap<String, String>,
}

/// Something with an id.
struct Named<'v> {
    /// Its list, without numbers: `/spaces/*/openings`.
    list: String,
    pointer: String,
    kind: Option<&'v str>,
    /// All of it but its id.
    content: String,
}

impl Followed {
    /// Follows ids from one state to a later one. A thing whose id is gone is the thing with a fresh id that says the same, or
    /// the one of its kind that stands at its place.
    pub fn between(before: &Value, now: &Value) -> Self {
        let (before, now) = (named(before), named(now));
        let gone = before.iter().filter(|(id, _)| !now.contains_key(*id)).collect::<Vec<_>>();
        let mut fresh: BTreeMap<&str, &Named> =
            now.iter().filter(|(id, _)| !before.contains_key(*id)).map(|(id, one)| (*id, one)).collect();
        let mut renamed = BTreeMap::new();
        let says_the_same = |old: &Named, new: &Named| old.list == new.list && old.content == new.content;
        let stands_there = |old: &Named, new: &Named| old.pointer == new.pointer && old.kind == new.kind;
        for same in [&says_the_same as &dyn Fn(&Named, &Named) -> bool, &stands_there] {
            for (id, old) in &gone {
                if renamed.contains_key(**id) {
                    continue;
                }
                let found = fresh.iter().find(|(_, new)| same(old, new)).map(|(new, _)| *new);
                if let Some(new) = found {
                    fresh.remove(new);
                    renamed.insert((**id).to_owned(), new.to_owned());
                }
            }
        }
        Self { renamed }
    }

    /// The ids that were renamed.
    pub fn renamed(&self) -> &BTreeMap<String, String> {
        &self.renamed
    }

    /// What an earlier id is now.
    pub fn id<'a>(&'a self, id: &'a str) -> &'a str {
        self.renamed.get(id).map_or(id, String::as_str)
    }

    /// Earlier words with the ids of now.
    pub fn words(&self, words: &str) -> String {
        let mut words = words.to_owned();
        for (old, new) in &self.renamed {
            words = words.replace(&format!("\"{old}\""), &format!("\"{new}\""));
        }
        words
    }

    /// An earlier place, told by ids of now.
    pub fn place(&self, project: &Value, pointer: &str) -> String {
        by_ids(project, pointer, &|id| self.id(id))
    }
}

/// A place told by ids where its way leads through things that have one: `/equipment/b-1/plate`.
pub fn by_ids<'a>(project: &'a Value, pointer: &str, called: &dyn Fn(&'a str) -> &'a str) -> String {
    let (mut here, mut told) = (Some(project), String::new());
    for token in pointer.split('/').skip(1) {
        let name = token.replace("~1", "/").replace("~0", "~");
        let in_list = here.is_some_and(Value::is_array);
        here = here.and_then(|value| match value {
            Value::Array(items) => items.get(name.parse::<usize>().ok()?),
            _ => value.get(&name),
        });
        let id = here.filter(|_| in_list).and_then(|value| value.get("id")?.as_str());
        told.push('/');
        match id {
            Some(id) => told.push_str(called(id)),
            None => told.push_str(token),
        }
    }
    told
}

fn named(project: &Value) -> BTreeMap<&str, Named<'_>> {
    let mut all = BTreeMap::new();
    walk(project, "", "", &mut all);
    all
}

fn walk<'v>(value: &'v Value, list: &str, pointer: &str, all: &mut BTreeMap<&'v str, Named<'v>>) {
    match value {
        Value::Array(items) => {
            for (at, item) in items.iter().enumerate() {
                walk(item, &format!("{list}/*"), &format!("{pointer}/{at}"), all);
            }
        }
        Value::Object(fields) => {
            if let Some(id) = fields.get("id").and_then(Value::as_str) {
                let kind = fields.get("kind").and_then(Value::as_str);
                all.entry(id).or_insert(Named {
                    list: list.to_owned(),
                    pointer: pointer.to_owned(),
                    kind,
                    content: rest(fields),
                });
            }
            for (name, inner) in fields {
                walk(inner, &format!("{list}/{name}"), &format!("{pointer}/{name}"), all);
            }
        }
        _ => {}
    }
}

fn rest(fields: &Map<String, Value>) -> String {
    let kept: BTreeMap<&String, &Value> = fields.iter().filter(|(name, _)| *name != "id").collect();
    serde_json::to_string(&kept).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn a_renamed_thing_is_known_by_what_it_is_or_where_it_stands() {
        let before = json!({"equipment": [
            {"id": "a", "kind": "boiler", "input": "9"}, {"id": "b", "kind": "pump"}, {"id": "c", "kind": "pump", "input": "1"}, {"id": "e"}]});
        let now = json!({"equipment": [
            {"id": "x", "kind": "pump", "input": "1"}, {"id": "y", "kind": "pump", "head": "3"}, {"id": "z", "kind": "boiler", "input": "9"}, {"id": "e"}]});
        let followed = Followed::between(&before, &now);
        let renamed: Vec<_> = followed.renamed().iter().map(|(old, new)| (old.as_str(), new.as_str())).collect();
        assert_eq!(renamed, [("a", "z"), ("b", "y"), ("c", "x")]);
        assert_eq!(followed.words("boiler \"a\" and \"e\""), "boiler \"z\" and \"e\"");
        assert_eq!(followed.place(&before, "/equipment/0/input"), "/equipment/z/input");
        assert_eq!(by_ids(&now, "/equipment/2/input", &|id| id), "/equipment/z/input");
    }

    #[test]
    fn another_kind_in_its_place_is_another_thing() {
        let before = json!({"equipment": [{"id": "a", "kind": "boiler"}]});
        let now = json!({"equipment": [{"id": "b", "kind": "pump"}]});
        assert!(Followed::between(&before, &now).renamed().is_empty());
    }
}
