//! The packs of one day resolved: every rule, each of its parameters, and for every value the one who says so.

use super::author::{Author, Ruled};
use super::{nearest, values};
use crate::diagnostic::Diagnostic;
use redtag_schema::contract::{Citation, Level, Outcome, ParameterKind, RuleDescription, RuleInForce};
use redtag_schema::pack::Change;
use redtag_schema::review::{Failure, PackUsed};
use serde::Serialize;
use serde_json::Value;
use std::collections::BTreeMap;

/// What is in force on one day.
#[derive(Debug, Clone, Serialize)]
pub struct Rulebook {
    /// Version of this document; 1.
    pub schema: u32,
    /// The day, `YYYY-MM-DD`.
    pub date: String,
    /// The packs, lowest first.
    pub packs: Vec<PackUsed>,
    /// The modules, in the order of their packs.
    pub modules: Vec<ModuleUsed>,
    /// The rules, sorted by id.
    pub rules: Vec<RuleEntry>,
    /// Modules that could not say what they hold; their rules are missing above.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub failures: Vec<Failure>,
    /// What is hardly meant, though it can be used: an amendment without effect, and the like.
    #[serde(skip)]
    pub notes: Vec<Diagnostic>,
}

/// One module of the rulebook.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ModuleUsed {
    /// Its name.
    pub name: String,
    /// The version it gives itself.
    pub version: String,
    /// Which of the rulebook's packs ships it.
    pub pack: usize,
    /// The component in that pack.
    pub file: String,
    /// SHA-256 of the component.
    pub sha256: String,
}

/// One rule, in force or not.
#[derive(Debug, Clone, Serialize)]
pub struct RuleEntry {
    /// What its module says of it.
    pub description: RuleDescription,
    /// Which of the rulebook's modules holds it.
    pub module: usize,
    /// The pack that ships it.
    pub shipped_by: Author,
    /// In force or not.
    pub state: Ruled<State>,
    /// Required or advice.
    pub level: Ruled<Level>,
    /// The parameters, in the order of the description.
    pub parameters: Vec<ParameterEntry>,
    /// Where it is printed.
    pub citations: Vec<Ruled<Citation>>,
    /// Who grants no variance from it, where somebody does so.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub no_variance: Option<Author>,
    /// What every layer says about it, lowest layer first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub history: Vec<Say>,
}

/// Whether a rule is asked.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum State {
    /// It is asked.
    InForce,
    /// It waits for a pack to adopt it.
    Dormant,
    /// A pack took it out of force.
    Withdrawn,
    /// A pack put another rule in its place.
    Replaced {
        /// The other rule's id.
        with: String,
    },
}

/// One parameter with its value.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ParameterEntry {
    /// Its name.
    pub name: String,
    /// What values it takes.
    pub kind: ParameterKind,
    /// The value as rules get it.
    pub value: Value,
    /// The value in its author's words.
    pub written: String,
    /// The one who says so.
    pub author: Author,
}

/// One layer's say about a rule.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Say {
    /// Who says it.
    pub author: Author,
    /// What is said.
    pub change: Change,
    /// What became of it.
    pub effect: Effect,
}

/// What became of an amendment on the rulebook's day.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Effect {
    /// It holds.
    InEffect,
    /// A pack above says otherwise.
    Overridden {
        /// That pack.
        by: String,
    },
    /// It becomes law later.
    NotYet,
    /// It is law no more.
    Lapsed,
}

impl Rulebook {
    /// A rule by its id, in force or not.
    pub fn rule(&self, id: &str) -> Option<&RuleEntry> {
        let at = self.rules.binary_search_by(|rule| rule.description.id.as_str().cmp(id)).ok()?;
        self.rules.get(at)
    }

    /// The rule id that a misspelled one resembles.
    pub fn nearest(&self, id: &str) -> Option<&str> {
        nearest(id, self.rules.iter().map(|rule| rule.description.id.as_str()))
    }

    /// The rules of a module.
    pub fn rules_of(&self, module: usize) -> impl Iterator<Item = &RuleEntry> {
        self.rules.iter().filter(move |rule| rule.module == module)
    }

    /// What a module is asked: its rules in force with their parameters, by id. Empty: it need not be run.
    pub fn requests_for(&self, module: usize) -> BTreeMap<String, RuleInForce> {
        let in_force = self.rules_of(module).filter(|rule| rule.in_force());
        in_force.map(|rule| (rule.description.id.clone(), rule.request())).collect()
    }
}

impl RuleEntry {
    /// Whether the rule is asked.
    pub fn in_force(&self) -> bool {
        self.state.value == State::InForce
    }

    /// The rule with its parameters, as its module gets it.
    pub fn request(&self) -> RuleInForce {
        let parameters = self.parameters.iter().map(|entry| (entry.name.clone(), entry.value.clone()));
        RuleInForce { parameters: parameters.collect() }
    }

    /// What an answer of the rule's module comes to at the rule's level: a breach of a rule that is advice is advice.
    pub fn settle(&self, outcome: Outcome) -> Outcome {
        match (self.level.value, outcome) {
            (Level::Advice, Outcome::Correction) => Outcome::Advice,
            (_, outcome) => outcome,
        }
    }

    /// The amendments in effect, each in a line with its law: why the rule is not as its module has it.
    pub fn because(&self) -> Vec<String> {
        let in_effect = self.history.iter().filter(|say| say.effect == Effect::InEffect);
        in_effect.map(|say| format!("{}: {}", self.in_words(say), say.author)).collect()
    }

    /// What a parameter was before a layer set it: what the layers below say, or the module.
    fn before(&self, say: &Say, parameter: &str) -> Option<&Value> {
        let below = self.history.iter().take_while(|other| !std::ptr::eq(*other, say));
        let set = below.filter(|other| matches!(other.effect, Effect::InEffect | Effect::Overridden { .. }));
        let set = set.filter_map(|other| match &other.change {
            Change::Set { parameter: name, value } if name == parameter => Some(value),
            _ => None,
        });
        let default = || Some(&self.description.parameters.iter().find(|described| described.name == parameter)?.default);
        set.last().or_else(default)
    }

    /// What one of the rule's layers says, in words, without its law. The say is one of the history.
    pub fn in_words(&self, say: &Say) -> String {
        match &say.change {
            Change::Set { parameter, value } => {
                let before = self.before(say, parameter);
                let before = before.map_or_else(String::new, |before| format!(" (was {})", values::words(before)));
                format!("{parameter} is {}{before}", values::words(value))
            }
            Change::Withdraw => "withdrawn".to_owned(),
            Change::Adopt => "adopted".to_owned(),
            Change::Replace { with } => format!("replaced by {with}"),
            Change::Relax => "a breach is advice".to_owned(),
            Change::Require => "a breach is a correction".to_owned(),
            Change::Cite { citations, instead } => {
                let places: Vec<String> = citations.iter().map(|one| format!("{} {}", one.document, one.section)).collect();
                format!("cites {}{}", places.join(", "), if *instead { " instead" } else { " too" })
            }
        }
    }
}
