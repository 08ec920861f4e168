//! What modules say of themselves: read against the contract's schema, held to what a rulebook can rely on.

use super::values;
use crate::pack::{Pack, is_kebab};
use redtag_schema::contract::{Description, FigureDescription, ParameterDescription, RuleDescription, SCHEMA};
use redtag_schema::pack::ModuleEntry;
use redtag_schema::review::Failure;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, LazyLock};

/// What the modules of some packs say of themselves, by the SHA-256 of the component; for a module that could not say, why.
#[derive(Debug, Clone, Default)]
pub struct Descriptions(BTreeMap<String, Described>);

/// What one module says of itself.
pub(super) type Described = Result<Arc<Description>, Refused>;

/// Why a module is of no use: without the pack, which differs by who asks.
#[derive(Debug, Clone)]
pub struct Refused {
    /// A stable word.
    pub kind: &'static str,
    /// In words.
    pub message: String,
    /// The rules it says it has, where it could say.
    pub rules: Vec<String>,
}

impl Refused {
    /// A module that does not get as far as to name its rules.
    pub fn new(kind: &'static str, message: impl Into<String>) -> Self {
        Self { kind, message: message.into(), rules: Vec::new() }
    }
}

impl Descriptions {
    /// Notes what a module says.
    pub fn insert(&mut self, sha256: &str, described: Result<Arc<Description>, Refused>) {
        self.0.insert(sha256.to_owned(), described);
    }

    /// The description of a module of a pack.
    ///
    /// # Errors
    /// The module's failure: its rules are then not in the rulebook, the others are.
    pub fn of(&self, pack: &Pack, entry: &ModuleEntry) -> Result<Arc<Description>, Failure> {
        let described = entry.sha256.as_ref().and_then(|sha256| self.0.get(sha256)).cloned();
        let unasked = || Err(Refused::new("internal", format!("module `{}` was never asked what it holds", entry.name)));
        described.unwrap_or_else(unasked).and_then(|description| named(description, entry)).map_err(|refused| Failure {
            module: entry.name.clone(),
            pack: pack.name().to_owned(),
            kind: refused.kind.to_owned(),
            message: refused.message,
            rules: refused.rules,
        })
    }
}

/// The manifest and the module must agree on its name.
fn named(description: Arc<Description>, entry: &ModuleEntry) -> Described {
    if description.module == entry.name {
        return Ok(description);
    }
    let message = format!("the module calls itself `{}`, the manifest calls it `{}`", description.module, entry.name);
    Err(Refused { rules: rule_ids(&description), ..Refused::new("bad-description", message) })
}

/// A description a rulebook can use.
///
/// # Errors
/// What cannot be used in it, in words for the module's author.
pub fn usable(description: Description) -> Result<Description, Refused> {
    let complaints = check(&description);
    if complaints.is_empty() {
        return Ok(description);
    }
    Err(Refused { rules: rule_ids(&description), ..Refused::new("bad-description", complaints.join("; ")) })
}

fn rule_ids(description: &Description) -> Vec<String> {
    description.rules.iter().map(|rule| rule.id.clone()).collect()
}

/// Reads what a module answered to `describe`.
///
/// # Errors
/// In words for the module's author: not JSON, or not a description; each complaint with its JSON pointer.
pub fn read_description(text: &str) -> Result<Description, String> {
    static VALIDATOR: LazyLock<Result<jsonschema::Validator, String>> = LazyLock::new(|| {
        let schema = schemars::schema_for!(Description).to_value();
        jsonschema::validator_for(&schema).map_err(|error| error.to_string())
    });
    const SHOWN: usize = 5;
    let value: serde_json::Value = serde_json::from_str(text).map_err(|error| format!("the description is not JSON: {error}"))?;
    let validator = VALIDATOR.as_ref().map_err(|error| format!("the schema of descriptions cannot be used: {error}"))?;
    let complaints: Vec<String> =
        validator.iter_errors(&value).take(SHOWN).map(|error| format!("{error} (at {})", error.instance_path())).collect();
    if !complaints.is_empty() {
        return Err(format!("the description is not what the contract asks for: {}", complaints.join("; ")));
    }
    serde_json::from_value(value).map_err(|error| format!("the description is not what the contract asks for: {error}"))
}

/// What a rulebook cannot use in a description, in words for the module's author.
fn check(description: &Description) -> Vec<String> {
    let mut out = Vec::new();
    if description.schema != SCHEMA {
        out.push(format!("the description is of schema {}, this redtag reads schema {SCHEMA}", description.schema));
    }
    check_size(description, &mut out);
    if !out.is_empty() {
        return out;
    }
    if description.rules.is_empty() {
        out.push("the module has no rules".to_owned());
    }
    check_figures(description, &mut out);
    let mut ids = BTreeSet::new();
    for rule in &description.rules {
        if !ids.insert(&rule.id) {
            out.push(format!("rule `{}` is described twice", rule.id));
        }
        check_rule(rule, &mut out);
    }
    out
}

/// The most rules of one module, the longest title, the longest other text and the most of all of it: what a module says of a rule
/// stands beside each of its findings.
const RULES: usize = 1_000;
const TITLE: usize = 400;
const TEXT: usize = 32 << 10;
const ALL: usize = 4 << 20;

fn check_size(description: &Description, out: &mut Vec<String>) {
    if description.rules.len() > RULES {
        out.push(format!("the module describes {} rules, {RULES} are the most", description.rules.len()));
        return;
    }
    let value = serde_json::to_value(description).unwrap_or_default();
    let (longest, all) = longest_text(&value);
    if longest > TEXT {
        out.push(format!("the description holds a text of {longest} bytes, {TEXT} are the most"));
    }
    if all > ALL {
        out.push(format!("the texts of the description come to {all} bytes, {ALL} are the most"));
    }
    for rule in &description.rules {
        if rule.title.len() > TITLE {
            out.push(format!("the title of a rule has {} bytes, {TITLE} are the most", rule.title.len()));
            return;
        }
    }
}

/// The longest text of a value and the sum of all, in bytes.
fn longest_text(value: &serde_json::Value) -> (usize, usize) {
    use serde_json::Value;
    let sum = |values: &mut dyn Iterator<Item = &Value>| {
        values.map(longest_text).fold((0, 0), |(longest, all), (one, many)| (longest.max(one), all + many))
    };
    match value {
        Value::String(text) => (text.len(), text.len()),
        Value::Array(items) => sum(&mut items.iter()),
        Value::Object(fields) => sum(&mut fields.values()),
        _ => (0, 0),
    }
}

/// Figures are the module's own, each once, read by a rule, and the same wherever they are read.
fn check_figures(description: &Description, out: &mut Vec<String>) {
    let mut figures: BTreeMap<&str, &FigureDescription> = BTreeMap::new();
    for figure in &description.figures {
        let id = figure.id.as_str();
        if !is_rule_id(id) || id.split('/').next() != Some(description.module.as_str()) {
            out.push(format!(
                "`{id}` is not the id of a figure of this module: expected such as `{}/rating`",
                description.module
            ));
        }
        if figures.insert(id, figure).is_some() {
            out.push(format!("figure `{id}` is described twice"));
        }
        check_parameter("figure", id, &figure.as_parameter(id), out);
    }
    let mut unread: BTreeSet<&str> = figures.keys().copied().collect();
    for (rule, parameter) in description.rules.iter().flat_map(|rule| rule.parameters.iter().map(move |one| (&rule.id, one))) {
        let Some(id) = parameter.figure.as_deref() else { continue };
        unread.remove(id);
        let name = &parameter.name;
        match figures.get(id) {
            None => {
                out.push(format!("rule `{rule}`: parameter `{name}` reads figure `{id}`, which the module does not describe"))
            }
            Some(figure) if !same_value(figure, parameter) => {
                out.push(format!("rule `{rule}`: parameter `{name}` takes other values than figure `{id}`, which it reads"));
            }
            Some(_) => {}
        }
    }
    out.extend(unread.into_iter().map(|id| format!("no rule reads figure `{id}`")));
}

fn same_value(figure: &FigureDescription, parameter: &ParameterDescription) -> bool {
    let FigureDescription { kind, default, least, most, choices, .. } = figure;
    (kind, default, least, most, choices)
        == (&parameter.kind, &parameter.default, &parameter.least, &parameter.most, &parameter.choices)
}

fn check_rule(rule: &RuleDescription, out: &mut Vec<String>) {
    let id = &rule.id;
    if !is_rule_id(id) {
        out.push(format!("`{id}` is not a rule id: expected `family/topic` in small letters, digits and single hyphens"));
    }
    if rule.stages.is_empty() {
        out.push(format!("rule `{id}` is asked at no stage"));
    }
    for pointer in &rule.reads {
        if !is_pointer(pointer) {
            out.push(format!("rule `{id}` reads `{pointer}`, which is not a JSON pointer (expected such as `/equipment`)"));
        }
    }
    let mut names = BTreeSet::new();
    for parameter in &rule.parameters {
        if !names.insert(&parameter.name) {
            out.push(format!("rule `{id}` has two parameters named `{}`", parameter.name));
        }
        check_parameter("rule", id, parameter, out);
    }
}

fn check_parameter(what: &str, id: &str, parameter: &ParameterDescription, out: &mut Vec<String>) {
    let unbounded = ParameterDescription { least: None, most: None, ..parameter.clone() };
    for (bound_of, bound) in [("least", &parameter.least), ("greatest", &parameter.most)] {
        let Some(bound) = bound else { continue };
        if let Err(error) = values::read(&unbounded, bound) {
            out.push(format!("{what} `{id}`: the {bound_of} value does not read: {}", error.message));
            return;
        }
    }
    if let Err(error) = values::read(parameter, &parameter.default) {
        out.push(format!(
            "{what} `{id}`: the default of a parameter does not read: {} (expected {})",
            error.message, error.expected
        ));
    }
}

/// Whether a text is `family/topic`.
pub fn is_rule_id(id: &str) -> bool {
    id.split_once('/').is_some_and(|(family, topic)| is_kebab(family) && is_kebab(topic))
}

/// RFC 6901: empty, or parts that each begin with a slash; `~` only as `~0` or `~1`.
fn is_pointer(text: &str) -> bool {
    (text.is_empty() || text.starts_with('/'))
        && text.split('~').skip(1).all(|rest| rest.starts_with('0') || rest.starts_with('1'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rule_ids_are_family_and_topic() {
        for good in ["combustion-air/volume", "gas/lp-below-grade", "a1/b2"] {
            assert!(is_rule_id(good), "{good}");
        }
        for bad in ["", "gas", "gas/", "/x", "Gas/x", "gas/x/y", "gas/a--b", "gas/-a", "gas/a-", "gas/a_b", "1/a"] {
            assert!(!is_rule_id(bad), "{bad}");
        }
    }

    #[test]
    fn pointers_follow_the_standard() {
        for good in ["", "/", "/a/0", "/a~1b/~0"] {
            assert!(is_pointer(good), "{good}");
        }
        for bad in ["a", "/a~2", "/a~"] {
            assert!(!is_pointer(bad), "{bad}");
        }
    }

    #[test]
    fn a_description_that_is_none_is_told_where() {
        let error = read_description(r#"{"schema":1,"module":"a","version":"1","rules":[{"id":7}]}"#).unwrap_err();
        assert!(error.contains("/rules/0"), "{error}");
        assert!(read_description("[").unwrap_err().contains("not JSON"));
    }
}
