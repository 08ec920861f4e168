//! Layers of packs in memory, and descriptions given by the test.

pub(crate) mod amendments;
pub(crate) mod faulty_manifests;
pub(crate) mod figures;
mod generated;
mod order;
pub(crate) mod places;

use super::{Layers, Wanted, layers, resolve};
use crate::diagnostic::Diagnostic;
use crate::modules::{Descriptions, Refused, usable};
use crate::pack::tests::{finished, line_of, lines, only, pack, try_pack};
use crate::pack::{Origin, Pack};
use redtag_schema::contract::Description;
use redtag_schema::rulebook::Rulebook;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Descriptions by module name.
#[derive(Default)]
pub(crate) struct Fake(pub(crate) BTreeMap<String, Description>);

impl Fake {
    /// What the modules of the layers say of themselves; those the test has no description of failed.
    pub(crate) fn descriptions(&self, layers: &Layers) -> Descriptions {
        let mut out = Descriptions::default();
        for entry in layers.packs().iter().flat_map(|pack| &pack.manifest().modules) {
            let description = self.0.get(&entry.name).cloned();
            let failed = || Refused::new("out-of-fuel", "it did not finish");
            let described = description.ok_or_else(failed).and_then(usable).map(Arc::new);
            out.insert(entry.sha256.as_deref().expect("a digest"), described);
        }
        out
    }
}

/// Two modules: `gas` with parameters of every kind, `drain` with a dormant rule and one that is advice.
pub(crate) fn fake() -> Fake {
    let rule = |id: &str, more: Value| {
        let mut rule = json!({
            "id": id, "title": "A rule", "purpose": "For tests.", "stages": ["permit", "final"], "reads": ["/equipment"],
            "citations": [{ "document": "IFGC", "edition": "2021", "section": "1.1" }],
        });
        for (field, value) in more.as_object().into_iter().flatten() {
            rule[field.as_str()] = value.clone();
        }
        rule
    };
    let parameter = |name: &str, kind: Value, default: Value, more: Value| {
        let mut parameter =
            json!({ "name": name, "purpose": "For tests.", "kind": kind, "default": default, "source": "a table" });
        for (field, value) in more.as_object().into_iter().flatten() {
            parameter[field.as_str()] = value.clone();
        }
        parameter
    };
    let gas = json!({ "schema": 1, "module": "gas", "version": "1.0.0", "rules": [
        rule("gas/below-grade", json!({})),
        rule("gas/opening-size", json!({})),
        rule("gas/trap", json!({ "parameters": [
            parameter("leg", json!({ "quantity": "length" }), json!("3 in"), json!({ "least": "1 in", "most": "12 in" })),
            parameter("share", json!("number"), json!(0.5), json!({ "least": 0, "most": 1 })),
            parameter("capped", json!("flag"), json!(true), json!({})),
            parameter("place", json!("choice"), json!("inlet"), json!({ "choices": ["inlet", "riser"] })),
            parameter("materials", json!("choices"), json!(["iron"]), json!({ "choices": ["iron", "copper", "csst"] })),
        ] })),
    ] });
    let drain = json!({ "schema": 1, "module": "drain", "version": "1.0.0", "rules": [
        rule("drain/conduit", json!({ "adopted": false })),
        rule("drain/slope", json!({ "level": "advice" })),
    ] });
    let read = |value: Value| serde_json::from_value::<Description>(value).expect("a description");
    let other =
        json!({ "schema": 1, "module": "county-gas", "version": "1.0.0", "rules": [rule("county-gas/opening-size", json!({}))] });
    Fake([read(gas), read(drain), read(other)].into_iter().map(|one| (one.module.clone(), one)).collect())
}

/// The base of the tests.
pub(super) fn base() -> Arc<Pack> {
    pack(json!({ "name": "base", "modules": [{ "name": "gas" }, { "name": "drain" }] }))
}

/// A pack on the base, with amendments that lack their ordinances.
pub(super) fn on_base(name: &str, amendments: Value) -> Arc<Pack> {
    on("base", name, amendments)
}

pub(super) fn on(below: &str, name: &str, mut amendments: Value) -> Arc<Pack> {
    for amendment in amendments.as_array_mut().into_iter().flatten() {
        if amendment.get("ordinance").is_none() {
            amendment["ordinance"] = json!({ "document": format!("Ordinance of {name}"), "section": "4" });
        }
    }
    pack(json!({ "name": name, "stands_on": { "name": below, "version": "^1" }, "amendments": amendments }))
}

pub(super) const DAY: &str = "2025-06-01";

pub(super) fn try_layers(packs: &[Arc<Pack>], wanted: &[&str]) -> Result<Layers, Vec<Diagnostic>> {
    let wanted: Vec<Wanted> = wanted.iter().map(|name| Wanted::any(*name)).collect();
    layers(packs, &wanted, DAY)
}

/// The rulebook of layers whose modules the fake describes.
pub(super) fn book(layers: &Layers, fake: &Fake) -> Result<Rulebook, Vec<Diagnostic>> {
    resolve(layers, &fake.descriptions(layers))
}

pub(super) fn try_rulebook(packs: &[Arc<Pack>], wanted: &[&str]) -> Result<Rulebook, Vec<Diagnostic>> {
    book(&try_layers(packs, wanted)?, &fake())
}

pub(super) fn resolved(packs: &[Arc<Pack>], wanted: &[&str]) -> Rulebook {
    try_rulebook(packs, wanted).unwrap_or_else(|complaints| panic!("{}", lines(&complaints)))
}
