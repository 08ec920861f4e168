//! Packs in memory with modules that are only named, and descriptions given by the test.

mod amendments;
mod faulty_manifests;
mod generated;
mod opening;
mod order;
mod places;

use super::{Describe, Layers, Origin, Pack, Rulebook, Wanted, layers, rulebook};
use crate::diagnostic::Diagnostic;
use redtag_schema::contract::Description;
use redtag_schema::pack::ModuleEntry;
use redtag_schema::review::Failure;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;

/// A pack whose modules are the texts `component NAME`. Names and digests of files are filled in.
pub(super) fn try_pack(text: &str) -> Result<Arc<Pack>, Vec<Diagnostic>> {
    let mut files = BTreeMap::new();
    let value: Value = serde_json::from_str(text).unwrap_or_default();
    for module in value["modules"].as_array().into_iter().flatten() {
        if let (Some(file), Some(name)) = (module["file"].as_str(), module["name"].as_str()) {
            files.insert(file.to_owned(), component(name));
        }
    }
    files.insert(super::MANIFEST.to_owned(), text.as_bytes().to_vec());
    let name = value["name"].as_str().unwrap_or("unnamed");
    Pack::from_files(files, Origin::Folder(PathBuf::from(name))).map(Arc::new)
}

fn component(name: &str) -> Vec<u8> {
    format!("component {name}").into_bytes()
}

/// The same from JSON with the tedious parts left out: each module only by name.
pub(super) fn pack(mut manifest: Value) -> Arc<Pack> {
    try_pack(&finished(&mut manifest)).unwrap_or_else(|complaints| panic!("{}", lines(&complaints)))
}

pub(in crate::pack) fn finished(manifest: &mut Value) -> String {
    let defaults =
        json!({ "schema": 1, "version": "1.0.0", "title": "A pack", "authority": { "name": "Nobody" }, "contract": "1.0" });
    for (field, value) in defaults.as_object().into_iter().flatten() {
        if manifest.get(field).is_none() {
            manifest[field.as_str()] = value.clone();
        }
    }
    for module in manifest["modules"].as_array_mut().into_iter().flatten() {
        if let Some(name) = module["name"].as_str().map(str::to_owned) {
            module["file"] = json!(format!("modules/{name}.wasm"));
            module["sha256"] = json!(redtag_module_builder::digest(&component(&name)));
        }
    }
    if manifest["modules"].is_null() {
        manifest["modules"] = json!([]);
    }
    serde_json::to_string_pretty(manifest).expect("a manifest is JSON")
}

/// Descriptions by module name.
#[derive(Default)]
pub(in crate::pack) struct Fake(pub(in crate::pack) BTreeMap<String, Description>);

impl Describe for Fake {
    fn describe(&self, pack: &Pack, module: &ModuleEntry) -> Result<Description, Failure> {
        self.0.get(&module.name).cloned().ok_or_else(|| Failure {
            module: module.name.clone(),
            pack: pack.name().to_owned(),
            kind: "out-of-fuel".to_owned(),
            message: "it did not finish".to_owned(),
            rules: Vec::new(),
        })
    }
}

/// Two modules: `gas` with parameters of every kind, `drain` with a dormant rule and one that is advice.
pub(in crate::pack) fn fake() -> Fake {
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

pub(super) fn try_rulebook(packs: &[Arc<Pack>], wanted: &[&str]) -> Result<Rulebook, Vec<Diagnostic>> {
    rulebook(&try_layers(packs, wanted)?, &fake())
}

pub(super) fn resolved(packs: &[Arc<Pack>], wanted: &[&str]) -> Rulebook {
    try_rulebook(packs, wanted).unwrap_or_else(|complaints| panic!("{}", lines(&complaints)))
}

/// The one complaint there is.
pub(super) fn only<T>(result: Result<T, Vec<Diagnostic>>) -> Diagnostic {
    match result {
        Ok(_) => panic!("nothing was complained about"),
        Err(complaints) => {
            assert_eq!(complaints.len(), 1, "{}", lines(&complaints));
            complaints.into_iter().next().expect("one complaint")
        }
    }
}

/// The one complaint of a list.
pub(in crate::pack) fn only_of(complaints: &[Diagnostic]) -> &Diagnostic {
    assert_eq!(complaints.len(), 1, "{}", lines(complaints));
    &complaints[0]
}

pub(in crate::pack) fn lines(complaints: &[Diagnostic]) -> String {
    complaints.iter().map(|one| format!("[{}] {}\n", one.code, one.one_line())).collect()
}

/// The text of the line a complaint points at.
pub(in crate::pack) fn line_of(complaint: &Diagnostic) -> &str {
    let span = complaint.primary.as_ref().expect("a place");
    &span.file.text()[span.file.line_range(span.start().line)]
}
