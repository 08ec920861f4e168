//! Packs in memory with modules that are only named.

pub(crate) mod opening;

use super::{Origin, Pack};
use crate::diagnostic::Diagnostic;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;

/// A pack whose modules are the texts `component NAME`. Names and digests of files are filled in.
pub(crate) fn try_pack(text: &str) -> Result<Arc<Pack>, Vec<Diagnostic>> {
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

pub(crate) fn component(name: &str) -> Vec<u8> {
    format!("component {name}").into_bytes()
}

/// The same from JSON with the tedious parts left out: each module only by name.
pub(crate) fn pack(mut manifest: Value) -> Arc<Pack> {
    try_pack(&finished(&mut manifest)).unwrap_or_else(|complaints| panic!("{}", lines(&complaints)))
}

pub(crate) fn finished(manifest: &mut Value) -> String {
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

/// The one complaint there is.
pub(crate) fn only<T>(result: Result<T, Vec<Diagnostic>>) -> Diagnostic {
    match result {
        Ok(_) => panic!("nothing was complained about"),
        Err(complaints) => {
            assert_eq!(complaints.len(), 1, "{}", lines(&complaints));
            complaints.into_iter().next().expect("one complaint")
        }
    }
}

/// The one complaint of a list.
pub(crate) fn only_of(complaints: &[Diagnostic]) -> &Diagnostic {
    assert_eq!(complaints.len(), 1, "{}", lines(complaints));
    &complaints[0]
}

pub(crate) fn lines(complaints: &[Diagnostic]) -> String {
    complaints.iter().map(|one| format!("[{}] {}\n", one.code, one.one_line())).collect()
}

/// The text of the line a complaint points at.
pub(crate) fn line_of(complaint: &Diagnostic) -> &str {
    let span = complaint.primary.as_ref().expect("a place");
    &span.file.text()[span.file.line_range(span.start().line)]
}
