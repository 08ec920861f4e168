//! The modules of all layers and the rules they describe, before any amendment.

use super::Layers;
use crate::diagnostic::Diagnostic;
use crate::modules::Descriptions;
use redtag_schema::contract::RuleDescription;
use redtag_schema::pack::ModuleEntry;
use redtag_schema::review::Failure;
use redtag_schema::rulebook::ModuleUsed;
use std::collections::BTreeMap;

/// What the modules hold.
#[derive(Debug, Default)]
pub(super) struct AsShipped {
    pub(super) modules: Vec<ModuleUsed>,
    pub(super) rules: BTreeMap<String, RuleAsShipped>,
    pub(super) failures: Vec<Failure>,
    pub(super) errors: Vec<Diagnostic>,
    /// The rules of the modules met so far, by digest: two packs with the same module ask it once.
    known: BTreeMap<String, Vec<String>>,
}

/// One rule as its module has it.
#[derive(Debug)]
pub(super) struct RuleAsShipped {
    pub(super) description: RuleDescription,
    pub(super) module: usize,
    /// The layers that ship its module, lowest first.
    pub(super) packs: Vec<usize>,
    /// The module's place in the manifest of the first of them.
    pub(super) pointer: String,
}

impl RuleAsShipped {
    /// The lowest layer that ships the rule.
    pub(super) fn first(&self) -> usize {
        self.packs.first().copied().unwrap_or_default()
    }
}

/// The rules of every module of every layer.
pub(super) fn as_shipped(layers: &Layers, descriptions: &Descriptions) -> AsShipped {
    let mut out = AsShipped::default();
    for (index, pack) in layers.packs().iter().enumerate() {
        for (at, entry) in pack.manifest().modules.iter().enumerate() {
            out.module(layers, descriptions, index, &format!("/modules/{at}"), entry);
        }
    }
    out
}

impl AsShipped {
    fn module(&mut self, layers: &Layers, descriptions: &Descriptions, pack: usize, pointer: &str, entry: &ModuleEntry) {
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
        let description = match descriptions.of(layer, entry) {
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
        for rule in &description.rules {
            self.rule(layers, pack, pointer, rule.clone());
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
        let shipped = RuleAsShipped { module, packs: vec![pack], pointer: pointer.to_owned(), description };
        self.rules.insert(shipped.description.id.clone(), shipped);
    }
}
