//! The question put to one module: its rules in force and the parts of the project they read, nothing more.

use crate::store::Name;
use redtag_schema::contract::{ALWAYS, Request, RuleInForce, SCHEMA, Stage, copy_part, parts};
use serde_json::{Map, Value};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Mutex, PoisonError};

/// The question about a project.
pub fn request<'a>(
    stage: Stage,
    date: &str,
    rules: BTreeMap<String, RuleInForce>,
    reads: impl IntoIterator<Item = &'a str>,
    project: &Value,
) -> Request {
    Request { schema: SCHEMA, stage, date: date.to_owned(), rules, project: parts(reads, project) }
}

/// The parts of a project by their pointers, each hashed once however many modules read it.
pub struct Parts<'a> {
    project: &'a Value,
    hashes: Mutex<BTreeMap<String, Name>>,
}

impl<'a> Parts<'a> {
    /// The parts of a project in canonical form.
    pub fn new(project: &'a Value) -> Self {
        Self { project, hashes: Mutex::default() }
    }

    /// The project.
    pub fn project(&self) -> &'a Value {
        self.project
    }

    /// A name for the parts that pointers lead to: the same for two projects only where all of these parts are the same bytes.
    pub fn name<'b>(&self, reads: impl IntoIterator<Item = &'b str>) -> Name {
        let pointers: BTreeSet<&str> = reads.into_iter().chain(ALWAYS).collect();
        let mut hashes = self.hashes.lock().unwrap_or_else(PoisonError::into_inner);
        let mut parts: Vec<(&str, Name)> = Vec::with_capacity(pointers.len());
        for pointer in pointers {
            if !hashes.contains_key(pointer) {
                hashes.insert(pointer.to_owned(), self.hash(pointer));
            }
            parts.extend(hashes.get(pointer).map(|hash| (pointer, *hash)));
        }
        Name::of(parts.iter().flat_map(|(pointer, hash)| [pointer.as_bytes(), hash.as_bytes()]))
    }

    /// The part as it would be sent: an object on the way that is empty is not one that is not there.
    fn hash(&self, pointer: &str) -> Name {
        let mut part = Value::Object(Map::new());
        copy_part(self.project, &mut part, pointer);
        Name::of([part.to_string().as_bytes()])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn taken(reads: &[&str]) -> Value {
        let project = json!({
            "schema": 1, "name": "x", "site": {"elevation": 1, "snow": 2, "fuel": {"kind": "lp", "heat": 3}},
            "equipment": [{"id": "a"}, {"id": "b"}], "gas": {}, "a/b": 4,
        });
        Value::Object(parts(reads.iter().copied(), &project))
    }

    #[test]
    fn only_what_is_read_is_sent() {
        assert_eq!(taken(&[]), json!({"schema": 1, "name": "x"}));
        assert_eq!(
            taken(&["/equipment", "/nothing"]),
            json!({"schema": 1, "name": "x", "equipment": [{"id": "a"}, {"id": "b"}]})
        );
        assert_eq!(taken(&["/site/fuel/kind"])["site"], json!({"fuel": {"kind": "lp"}}));
        assert_eq!(taken(&["/a~1b"])["a/b"], json!(4));
    }

    #[test]
    fn a_part_and_a_part_of_it_make_the_part() {
        let whole = json!({"elevation": 1, "snow": 2, "fuel": {"kind": "lp", "heat": 3}});
        assert_eq!(taken(&["/site/fuel", "/site", "/site/snow"])["site"], whole);
        assert_eq!(taken(&["/equipment/1/id"])["equipment"], json!([{"id": "a"}, {"id": "b"}]));
        assert_eq!(taken(&[""])["site"], whole);
    }

    #[test]
    fn the_order_of_pointers_changes_no_byte() {
        assert_eq!(taken(&["/site", "/equipment"]).to_string(), taken(&["/equipment", "/site"]).to_string());
    }

    fn name(project: &Value, reads: &[&str]) -> Name {
        Parts::new(project).name(reads.iter().copied())
    }

    /// Two projects get one name exactly where the parts sent are the same.
    #[test]
    fn the_name_follows_what_is_sent() {
        let projects = [
            json!({"schema": 1, "name": "x", "gas": {"a": 1}, "equipment": [{"id": "a"}]}),
            json!({"schema": 1, "name": "x", "gas": {"a": 1}, "equipment": [{"id": "b"}]}),
            json!({"schema": 1, "name": "x", "gas": {"a": 2}, "equipment": [{"id": "a"}]}),
            json!({"schema": 1, "name": "x", "gas": {}, "equipment": [{"id": "a"}]}),
            json!({"schema": 1, "name": "x", "equipment": [{"id": "a"}]}),
            json!({"schema": 1, "name": "x", "gas": null, "equipment": []}),
            json!({"schema": 1, "name": "y"}),
            json!({"schema": 1, "name": "x", "gas": [1]}),
        ];
        let reads: [&[&str]; 6] = [&[], &["/gas"], &["/gas/a"], &["/equipment"], &["/equipment/0/id"], &["/gas", "/equipment"]];
        for reads in reads {
            for (left, right) in projects.iter().flat_map(|left| projects.iter().map(move |right| (left, right))) {
                let sent = |project| Value::Object(parts(reads.iter().copied(), project)).to_string();
                let same = name(left, reads) == name(right, reads);
                assert_eq!(same, sent(left) == sent(right), "{reads:?} {left} {right}");
            }
        }
    }
}
