//! The packs of one day resolved: every rule, each of its parameters, and for every value the one who says so.

use crate::contract::{
    Citation, FigureDescription, Level, Outcome, ParameterKind, RuleDescription, RuleInForce, Standing, printed, value_words,
};
use crate::pack::{Change, Ordinance};
use crate::review::{Failure, PackUsed};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use std::collections::BTreeMap;
use std::fmt;

/// What is in force on one day.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
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
    /// The figures their modules declare, sorted by id.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub figures: Vec<FigureEntry>,
    /// Modules that could not say what they hold; their rules are missing above.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub failures: Vec<Failure>,
    /// What is hardly meant, though it can be used, a line each with its place: an amendment without effect, and the like.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub notes: Vec<String>,
}

/// One module of the rulebook.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
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
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
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
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub no_variance: Option<Author>,
    /// What every layer says about it, lowest layer first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub history: Vec<AmendmentInALayer>,
}

/// Whether a rule is asked.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
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

/// One figure of the law, and the rules that read it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct FigureEntry {
    /// What its module says of it.
    pub description: FigureDescription,
    /// The value in its author's words.
    pub written: String,
    /// The one who says so.
    pub author: Author,
    /// The parameters that read it, by rule.
    pub readers: Vec<FigureReader>,
}

/// A parameter that reads a figure.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct FigureReader {
    /// The rule's id.
    pub rule: String,
    /// The parameter's name.
    pub parameter: String,
    /// What it is in that rule, where a pack set it there alone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub differs: Option<String>,
}

/// One parameter with its value.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct ParameterEntry {
    /// Its name.
    pub name: String,
    /// What values it takes.
    pub kind: ParameterKind,
    /// The figure it reads, where other rules may read it too.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub figure: Option<String>,
    /// The value as rules get it.
    pub value: Value,
    /// The value in its author's words.
    pub written: String,
    /// The one who says so.
    pub author: Author,
}

/// One layer's amendment of a rule.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct AmendmentInALayer {
    /// Who makes it.
    pub author: Author,
    /// What it changes.
    pub change: Change,
    /// What became of it.
    pub effect: Effect,
}

/// What became of an amendment on the rulebook's day.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
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

    /// A figure by its id.
    pub fn figure(&self, id: &str) -> Option<&FigureEntry> {
        let at = self.figures.binary_search_by(|figure| figure.description.id.as_str().cmp(id)).ok()?;
        self.figures.get(at)
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

    /// Whether the rule is asked, in words.
    pub fn standing(&self) -> String {
        match &self.state.value {
            State::InForce => "in force".to_owned(),
            State::Dormant => "waits for a pack to adopt it".to_owned(),
            State::Withdrawn => "withdrawn".to_owned(),
            State::Replaced { with } => format!("replaced by {with}"),
        }
    }

    /// What a breach comes to, in a word.
    pub fn level_word(&self) -> &'static str {
        match self.level.value {
            Level::Required => "required",
            Level::Advice => "advice",
        }
    }

    /// Where the rule is printed, in a line.
    pub fn printed(&self) -> String {
        printed(self.citations.iter().map(|one| &one.value))
    }

    /// The amendments in effect, each in a line with its law: why the rule is not as its module has it.
    pub fn because(&self) -> Vec<String> {
        let in_effect = self.history.iter().filter(|amendment| amendment.effect == Effect::InEffect);
        in_effect.map(|amendment| format!("{}: {}", self.in_words(amendment), amendment.author)).collect()
    }

    /// What a parameter was before a layer set it: what the layers below say, or the module.
    fn before(&self, amendment: &AmendmentInALayer, parameter: &str) -> Option<&Value> {
        let below = self.history.iter().take_while(|other| !std::ptr::eq(*other, amendment));
        let set = below.filter(|other| matches!(other.effect, Effect::InEffect | Effect::Overridden { .. }));
        let figure = || self.parameters.iter().find(|entry| entry.name == parameter)?.figure.as_deref();
        let set = set.filter_map(|other| match &other.change {
            Change::Set { parameter: name, value, .. } if name == parameter => Some(value),
            Change::SetFigure { figure: id, value } if figure() == Some(id) => Some(value),
            _ => None,
        });
        let default = || Some(&self.description.parameters.iter().find(|described| described.name == parameter)?.default);
        set.last().or_else(default)
    }

    fn was(&self, amendment: &AmendmentInALayer, parameter: &str) -> String {
        self.before(amendment, parameter).map_or_else(String::new, |before| format!(" (was {})", value_words(before)))
    }

    /// What one of the rule's amendments says, in words, without its law. It is one of the history.
    pub fn in_words(&self, amendment: &AmendmentInALayer) -> String {
        match &amendment.change {
            Change::Set { parameter, value, .. } => {
                format!("{parameter} is {}{}", value_words(value), self.was(amendment, parameter))
            }
            Change::SetFigure { figure, value } => {
                let parameter = self.parameters.iter().find(|entry| entry.figure.as_ref() == Some(figure));
                let was = parameter.map_or_else(String::new, |entry| self.was(amendment, &entry.name));
                format!("figure {figure} is {}{was}", value_words(value))
            }
            Change::Withdraw { .. } => "withdrawn".to_owned(),
            Change::Adopt { .. } => "adopted".to_owned(),
            Change::Replace { with, .. } => format!("replaced by {with}"),
            Change::Relax { .. } => "a breach is advice".to_owned(),
            Change::Require { .. } => "a breach is a correction".to_owned(),
            Change::Cite { citations, instead, .. } => {
                let places: Vec<String> = citations.iter().map(|one| format!("{} {}", one.document, one.section)).collect();
                format!("cites {}{}", places.join(", "), if *instead { " instead" } else { " too" })
            }
        }
    }
}

/// The layer that sets a value, since when, and by which law.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Author {
    /// The pack's name.
    pub pack: String,
    /// The pack's version.
    pub version: String,
    /// Who stands behind the pack.
    pub authority: String,
    /// The law; absent where the rule's own module says so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ordinance: Option<Ordinance>,
    /// First day, `YYYY-MM-DD`; absent: since ever.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub since: Option<String>,
    /// Last day; absent: no end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until: Option<String>,
    /// How sure the author is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub standing: Option<Standing>,
    /// Where the rule's own module takes the value from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
    /// Why, in a line.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reason: Option<String>,
    /// The place in the pack's manifest, a JSON pointer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pointer: Option<String>,
}

impl fmt::Display for Author {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.pack, self.version)?;
        if let Some(ordinance) = &self.ordinance {
            write!(f, ", {}", ordinance.document)?;
            if let Some(section) = &ordinance.section {
                write!(f, " section {section}")?;
            }
        }
        if let Some(source) = &self.source {
            write!(f, ", {source}")?;
        }
        if let Some(since) = &self.since {
            write!(f, ", since {since}")?;
        }
        if self.standing == Some(Standing::FromMemory) {
            write!(f, ", from memory")?;
        }
        Ok(())
    }
}

/// A value and who says so.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema))]
pub struct Ruled<T> {
    /// The value.
    pub value: T,
    /// The one who says so.
    pub author: Author,
}
