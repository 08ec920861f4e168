//! The modules of all layers and the rules they describe, before any amendment.

use super::describe::{self, Describe};
use super::rulebook::ModuleUsed;
use super::{Layers, Pack};
use crate::diagnostic::Diagnostic;
use redtag_schema::contract::{Description, RuleDescription};
use redtag_schema::pack::ModuleEntry;
use redtag_schema::review::Failure;
use std::collections::BTreeMap;

/// What the modules hold.
#[derive(Debug, Default)]
pub(super) struct Gathered {
    pub(super) modules: Vec<ModuleUsed>,
    pub(super) rules: BTreeMap<String, Shipped>,
    pub(super) failures: Vec<Failure>,
    pub(super) errors: Vec<Diagnostic>,
    /// The rules of the modules met so far, by digest: two packs with the same module ask it once.
    known: BTreeMap<String, Vec<String>>,
}

/// One rule as its module has it.
#[derive(Debug)]
pub(super) struct Shipped {
    pub(super) description: RuleDescription,
    pub(super) module: usize,
    /// The layers that ship its module, lowest first.
    pub(super) packs: Vec<usize>,
    /// The module's place in the manifest of the first of them.
    pub(super) pointer: String,
}

impl Shipped {
    /// The lowest layer that ships the rule.
    pub(super) fn first(&self) -> usize {
        self.packs.first().copied().unwrap_or_default()
    }
}

/// Asks every module of every layer what it holds.
pub(super) fn gather(layers: &Layers, describe: &dyn Describe) -> Gathered {
    let mut out = Gathered::default();
    for (index, pack) in layers.packs().iter().enumerate() {
        for (at, entry) in pack.manifest().modules.iter().enumerate() {
            out.module(layers, describe, index, &format!("/modules/{at}"), entry);
        }
    }
    out
}

impl Gathered {
    fn module(&mut self, layers: &Layers, describe: &dyn Describe, pack: usize, pointer: &str, entry: &ModuleEntry) {
        let layer = layers.pack(pack);
        let (Some(file), Some(sha256)) = (&entry.file, &entry.sha256) else {
            let message = format!("module `{}` of {} is source, not a component", entry.name, layer.label());
            let complaint = Diagnostic::error("pack-is-source", message).help("build the pack with `redtag pack build`");
            return self.errors.push(layer.locate(complaint, pointer));
        };
        if let Some(known) = self.known.get(sha256) {
            for rule in known {
                if let Some(shipped) = self.rules.get_mut(rule) {
                    shipped.packs.push(pack);
                }
            }
            return;
        }
        let description = describe.describe(layer, entry).and_then(|description| checked(layer, entry, description));
        let description = match description {
            Ok(description) => description,
            Err(failure) => {
                self.known.insert(sha256.clone(), Vec::new());
                return self.failures.push(failure);
            }
        };
        let used = ModuleUsed {
            name: entry.name.clone(),
            version: description.version.clone(),
            pack,
            file: file.clone(),
            sha256: sha256.clone(),
        };
        self.known.insert(sha256.clone(), description.rules.iter().map(|rule| rule.id.clone()).collect());
        self.modules.push(used);
        for rule in description.rules {
            self.rule(layers, pack, pointer, rule);
        }
    }

    fn rule(&mut self, layers: &Layers, pack: usize, pointer: &str, description: RuleDescription) {
        let module = self.modules.len().saturating_sub(1);
        if let Some(other) = self.rules.get(&description.id) {
            let (here, there) = (layers.pack(pack), layers.pack(other.first()));
            let message = format!(
                "rule `{}` is in two modules: `{}` of {} and `{}` of {}",
                description.id,
                self.modules.get(other.module).map_or("", |module| module.name.as_str()),
                there.label(),
                self.modules.get(module).map_or("", |module| module.name.as_str()),
                here.label()
            );
            let mut complaint = Diagnostic::error("rule-in-two-modules", message)
                .expected("every rule id once")
                .help("give the new rule an id of its own and let an amendment `replace` the old one with it");
            complaint.secondary.extend(there.related(&other.pointer, "the other module"));
            return self.errors.push(here.locate(complaint, pointer));
        }
        let shipped = Shipped { module, packs: vec![pack], pointer: pointer.to_owned(), description };
        self.rules.insert(shipped.description.id.clone(), shipped);
    }
}

/// A description the rulebook can use; else the module's own failure.
fn checked(pack: &Pack, entry: &ModuleEntry, description: Description) -> Result<Description, Failure> {
    let complaints = describe::check(&description, entry);
    if complaints.is_empty() {
        return Ok(description);
    }
    Err(Failure {
        module: entry.name.clone(),
        pack: pack.name().to_owned(),
        kind: "bad-description".to_owned(),
        message: complaints.join("; "),
        rules: description.rules.into_iter().map(|rule| rule.id).collect(),
    })
}
