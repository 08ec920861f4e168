//! The modules of all layers and the rules they describe, before any amendment.

use super::Layers;
use crate::diagnostic::{Code, Diagnostic};
use crate::modules::Descriptions;
use redtag_schema::contract::{FigureDescription, RuleDescription};
use redtag_schema::pack::ModuleEntry;
use redtag_schema::review::Failure;
use redtag_schema::rulebook::ModuleUsed;
use std::collections::BTreeMap;

/// What the modules hold.
#[derive(Debug, Default)]
pub(super) struct AsShipped {
    pub(super) modules: Vec<ModuleUsed>,
    pub(super) rules: BTreeMap<String, RuleAsShipped>,
    pub(super) figures: BTreeMap<String, FigureAsShipped>,
    pub(super) failures: Vec<Failure>,
    pub(super) errors: Vec<Diagnostic>,
    /// The rules and figures of the modules met so far, by digest: two packs with the same module ask it once.
    known: BTreeMap<String, Vec<String>>,
}

/// One figure as its module has it.
#[derive(Debug)]
pub(super) struct FigureAsShipped {
    pub(super) description: FigureDescription,
    pub(super) origin: Origin,
}

/// Who ships a thing of a module.
#[derive(Debug)]
pub(super) struct Origin {
    /// The layers that ship the module, lowest first.
    pub(super) packs: Vec<usize>,
    /// The module's place in the manifest of the first of them.
    pub(super) pointer: String,
}

impl Origin {
    /// The lowest layer that ships it.
    pub(super) fn first(&self) -> usize {
        self.packs.first().copied().unwrap_or_default()
    }
}

/// One rule as its module has it.
#[derive(Debug)]
pub(super) struct RuleAsShipped {
    pub(super) description: RuleDescription,
    pub(super) module: usize,
    pub(super) origin: Origin,
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
    /// The rules that read a figure, each with the parameter that does.
    pub(super) fn readers<'a>(&'a self, figure: &str) -> impl Iterator<Item = (&'a str, &'a str)> {
        self.rules.iter().flat_map(move |(id, rule)| {
            let reads = rule.description.parameters.iter().filter(move |one| one.figure.as_deref() == Some(figure));
            reads.map(move |one| (id.as_str(), one.name.as_str()))
        })
    }

    fn module(&mut self, layers: &Layers, descriptions: &Descriptions, pack: usize, pointer: &str, entry: &ModuleEntry) {
        let layer = layers.pack(pack);
        let (Some(file), Some(sha256)) = (&entry.file, &entry.sha256) else {
            let message = format!("module `{}` of {} is source, not a component", entry.name, layer.label());
            let complaint = Diagnostic::error(Code::PackIsSource, message).help("build the pack with `redtag pack build`");
            return self.errors.push(layer.locate(complaint, pointer));
        };
        if let Some(known) = self.known.get(sha256) {
            for rule in &known.clone() {
                let rule_origin = self.rules.get_mut(rule).map(|shipped| &mut shipped.origin);
                let origin = rule_origin.or_else(|| self.figures.get_mut(rule).map(|shipped| &mut shipped.origin));
                if let Some(origin) = origin {
                    origin.packs.push(pack);
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
        let figures = description.figures.iter().map(|figure| figure.id.clone());
        self.known.insert(sha256.clone(), description.rules.iter().map(|rule| rule.id.clone()).chain(figures).collect());
        self.modules.push(used);
        for rule in &description.rules {
            self.rule(layers, pack, pointer, rule.clone());
        }
        for figure in &description.figures {
            let origin = Origin { packs: vec![pack], pointer: pointer.to_owned() };
            // A module of the same name in another pack brings its rules too, and those are complained about.
            let shipped = FigureAsShipped { description: figure.clone(), origin };
            self.figures.entry(figure.id.clone()).or_insert(shipped);
        }
    }

    fn rule(&mut self, layers: &Layers, pack: usize, pointer: &str, description: RuleDescription) {
        let module = self.modules.len().saturating_sub(1);
        if let Some(other) = self.rules.get(&description.id) {
            let (here, there) = (layers.pack(pack), layers.pack(other.origin.first()));
            let message = format!(
                "rule `{}` is in two modules: `{}` of {} and `{}` of {}",
                description.id,
                self.modules.get(other.module).map_or("", |module| module.name.as_str()),
                there.label(),
                self.modules.get(module).map_or("", |module| module.name.as_str()),
                here.label()
            );
            let mut complaint = Diagnostic::error(Code::RuleInTwoModules, message)
                .expected("every rule id once")
                .help("give the new rule an id of its own and let an amendment `replace` the old one with it");
            complaint.secondary.extend(there.related(&other.origin.pointer, "the other module"));
            return self.errors.push(here.locate(complaint, pointer));
        }
        let origin = Origin { packs: vec![pack], pointer: pointer.to_owned() };
        let shipped = RuleAsShipped { module, origin, description };
        self.rules.insert(shipped.description.id.clone(), shipped);
    }
}
