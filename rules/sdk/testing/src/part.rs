//! A project of which one thing at a time is left out or said differently.
//!
//! Reading a whole house takes many times as long as asking a rule about it. Only the part that changes is read anew; the others
//! stay where they are.

use crate::ask::Family;
use crate::shape::{Fact, put_in, take_out};
use redtag_rule::schema::project::Project;
use serde_json::{Map, Value};
use std::mem::swap;

/// A project as it is written and as it is read.
pub(crate) struct Parts<'a> {
    family: &'a Family,
    document: &'a Value,
    read: Project,
}

impl<'a> Parts<'a> {
    /// Reads a document; nothing where it does not read.
    pub(crate) fn of(family: &'a Family, document: &'a Value) -> Option<Self> {
        let read = (family.module.read)(document.clone()).ok()?;
        Some(Self { family, document, read })
    }

    /// The document.
    pub(crate) fn document(&self) -> &'a Value {
        self.document
    }

    /// The project as it is.
    pub(crate) fn whole(&self) -> &Project {
        &self.read
    }

    /// What is answered about the project without a fact; nothing where it does not read.
    pub(crate) fn without<T>(&mut self, fact: &Fact, answer: impl FnOnce(&Project) -> T) -> Option<T> {
        self.changed(fact, |part| take_out(part, fact), answer)
    }

    /// What is answered about it with something else in the place of a fact; nothing where it does not read.
    pub(crate) fn with<T>(&mut self, fact: &Fact, value: Value, answer: impl FnOnce(&Project) -> T) -> Option<T> {
        self.changed(fact, |part| put_in(part, fact, value), answer)
    }

    fn changed<T>(&mut self, fact: &Fact, change: impl FnOnce(&mut Value), answer: impl FnOnce(&Project) -> T) -> Option<T> {
        let name = fact.pointer.split('/').nth(1)?;
        let mut part = Map::new();
        for field in ["schema", name] {
            if let Some(value) = self.document.get(field) {
                part.insert(field.to_owned(), value.clone());
            }
        }
        let mut part = Value::Object(part);
        change(&mut part);
        let mut part = (self.family.module.read)(part).ok()?;
        exchange(name, &mut self.read, &mut part);
        let answer = answer(&self.read);
        exchange(name, &mut self.read, &mut part);
        Some(answer)
    }
}

/// Exchanges one part of two projects.
fn exchange(name: &str, one: &mut Project, other: &mut Project) {
    macro_rules! parts {
        ($($part:ident),+) => {
            match name {
                $(stringify!($part) => swap(&mut one.$part, &mut other.$part),)+
                name => panic!("the guard does not know the part {name} of a project: name it here"),
            }
        };
    }
    parts!(site, building, spaces, openings, equipment, gas, vents, ducts, exhausts, electrical, raceways, drainage, water);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shape::facts;
    use redtag_rule::Module;
    use serde_json::json;

    #[test]
    fn one_part_is_read_anew_and_put_back() {
        static MODULE: Module = Module { name: "trying", version: "0", entries: &[], read: Project::read };
        let family = Family::new(&MODULE, "");
        let document = json!({"schema": 1, "spaces": [{"id": "a", "kind": "corridor", "story": 1}], "vents": []});
        let mut parts = Parts::of(&family, &document).unwrap();
        let story = |project: &Project| project.spaces.as_ref().unwrap()[0].story;
        let fact = facts(&document).into_iter().find(|fact| fact.pointer == "/spaces/0/story").unwrap();
        assert_eq!(parts.without(&fact, |project| (story(project), project.vents.is_some())), Some((None, true)));
        assert_eq!(parts.with(&fact, json!(7), story), Some(Some(7)));
        assert_eq!(parts.with(&fact, json!("seven"), story), None);
        assert_eq!(story(parts.whole()), Some(1));
    }

    #[test]
    fn every_part_that_rules_are_given_is_known() {
        let all = json!({
            "site": {}, "building": {}, "spaces": [], "openings": [], "equipment": [], "gas": {}, "vents": [], "ducts": [],
            "exhausts": [], "electrical": {}, "raceways": [], "drainage": {}, "water": {}
        });
        let given = crate::shape::parts();
        let known: Vec<&String> = all.as_object().unwrap().keys().collect();
        assert!(given.iter().all(|part| known.contains(&part)), "{given:?}");
        given.iter().for_each(|part| exchange(part, &mut Project::default(), &mut Project::default()));
    }
}
