//! A module: its rules, its description, its answer to a request.

use crate::{Inquiry, Parameter, Rule};
use redtag_schema::contract::{
    Answer, Description, FigureDescription, Finding, ParameterDescription, Request, RuleDescription, SCHEMA,
};
use redtag_schema::project::{Project, ReadError};
use serde_json::Value;
use std::collections::BTreeMap;

/// One rule with what its file says of it.
pub struct Entry {
    /// The file's name without its ending.
    pub file: &'static str,
    /// The file's doc comment.
    pub purpose: &'static str,
    /// The text of the case file beside it; empty where there is none.
    pub cases: &'static str,
    /// The rule.
    pub rule: &'static Rule,
}

/// A rule module.
pub struct Module {
    /// Its name.
    pub name: &'static str,
    /// Its version.
    pub version: &'static str,
    /// Its rules, sorted by file name.
    pub entries: &'static [Entry],
    /// Reads the parts of a project its rules declare, and leaves the code for the others out of the module.
    pub read: fn(Value) -> Result<Project, ReadError>,
}

/// What the module says of itself, as JSON.
pub fn describe(module: &Module) -> String {
    let mut rules: Vec<RuleDescription> = module.entries.iter().map(|entry| describe_rule(module.name, entry)).collect();
    rules.sort_by(|a, b| a.id.cmp(&b.id));
    let figures = figures(&rules);
    let (module, version) = (module.name.to_owned(), module.version.to_owned());
    let description = Description { schema: SCHEMA, module, version, rules, figures };
    serde_json::to_string(&description).unwrap_or_default()
}

/// The figures the parameters of some rules read, each once.
pub(crate) fn figures(rules: &[RuleDescription]) -> Vec<FigureDescription> {
    let mut figures: BTreeMap<String, FigureDescription> = BTreeMap::new();
    for parameter in rules.iter().flat_map(|rule| &rule.parameters) {
        let Some(id) = &parameter.figure else { continue };
        let one = parameter.clone();
        figures.entry(id.clone()).or_insert_with(|| FigureDescription {
            id: id.clone(),
            purpose: one.purpose,
            kind: one.kind,
            default: one.default,
            least: one.least,
            most: one.most,
            choices: one.choices,
            source: one.source,
        });
    }
    figures.into_values().collect()
}

pub(crate) fn describe_rule(module: &str, entry: &Entry) -> RuleDescription {
    let rule = entry.rule;
    let described = |parameter: &&dyn Parameter| {
        let parameter = parameter.describe();
        ParameterDescription { figure: parameter.figure.as_ref().map(|figure| format!("{module}/{figure}")), ..parameter }
    };
    RuleDescription {
        id: rule.id.to_owned(),
        title: rule.title.to_owned(),
        purpose: entry.purpose.to_owned(),
        stages: rule.stages.to_vec(),
        level: rule.level,
        adopted: rule.adopted,
        citations: rule.citations(),
        parameters: rule.parameters.iter().map(described).collect(),
        reads: rule.reads.iter().map(|&pointer| pointer.to_owned()).collect(),
    }
}

/// Answers a request, both as JSON.
///
/// # Errors
/// In words for a person: the request is not one, or the project in it has another shape than this module knows.
pub fn answer(module: &Module, request: &str) -> Result<String, String> {
    let request: Request = serde_json::from_str(request).map_err(|error| format!("the request could not be read: {error}"))?;
    let project = (module.read)(Value::Object(request.project))
        .map_err(|error| format!("the project in the request has a shape this module does not know: {error}"))?;
    // An instance answers one call and goes. The code that frees a whole project, piece by piece, would be the largest function
    // of the module, larger than a host compiles.
    let project = std::mem::ManuallyDrop::new(project);
    // Never dropped: the instance ends with the answer, and the code that would take so broad a document apart is one function
    // twice as long as a module may have (measured: 122,912 bytes of 65,536).
    let project: &'static Project = Box::leak(Box::new(project));
    let mut findings = Vec::new();
    for entry in module.entries {
        let Some(in_force) = request.rules.get(entry.rule.id) else { continue };
        refuse_unreadable(entry.rule, &in_force.parameters)?;
        let inquiry = Inquiry::new(project, &in_force.parameters, request.stage, &request.date);
        findings.extend(findings_of(entry.rule, &inquiry));
    }
    serde_json::to_string(&Answer { schema: SCHEMA, findings })
        .map_err(|error| format!("the answer could not be written: {error}"))
}

/// A value that was set and does not read is never passed over for the default: the whole module fails, and says why.
fn refuse_unreadable(rule: &Rule, set: &BTreeMap<String, Value>) -> Result<(), String> {
    let wrong = rule.parameters.iter().find_map(|parameter| {
        let value = set.get(parameter.name())?;
        (!parameter.takes(value))
            .then(|| format!("{}: parameter {} is set to {value}, which it does not take", rule.id, parameter.name()))
    });
    wrong.map_or(Ok(()), Err)
}

/// What a rule finds, with its id, and what it asks of lists that are missing.
pub fn findings_of(rule: &Rule, inquiry: &Inquiry) -> Vec<Finding> {
    let mut findings = crate::unsaid::asked(inquiry.project().get(), || (rule.check)(inquiry));
    for finding in &mut findings {
        finding.rule = rule.id.to_owned();
    }
    findings
}

/// Makes a crate a rule module: `redtag_rule::module!("combustion-air");` is its whole `lib.rs`. The rules are the files of
/// `src/rules/`, listed by the crate's build script.
#[macro_export]
macro_rules! module {
    // Nothing is known to pass on what is not said: the guard holds that with every run of the tests.
    ($name:literal, guarded) => {
        $crate::module!($name);

        #[cfg(test)]
        mod guarded {
            #[test]
            fn nothing_passes_unsaid() {
                ::redtag_rule_testing::assert_nothing_passes_unsaid(&super::MODULE, env!("CARGO_MANIFEST_DIR"));
            }
        }
    };
    ($name:literal) => {
        include!(concat!(env!("OUT_DIR"), "/rules.rs"));

        /// The parts of a project its rules declare.
        struct Declared;

        impl $crate::schema::project::Parts for Declared {
            const READS: &'static [&'static [&'static str]] = READS;
        }

        /// This module.
        pub static MODULE: $crate::Module = $crate::Module {
            name: $name,
            version: env!("CARGO_PKG_VERSION"),
            entries: RULES,
            read: $crate::schema::project::Project::read_parts::<Declared>,
        };

        #[cfg(target_arch = "wasm32")]
        mod component {
            struct Guest;
            impl $crate::component::Guest for Guest {
                fn describe() -> String {
                    $crate::component::report_panics();
                    $crate::describe(&super::MODULE)
                }
                fn review(request: String) -> Result<String, String> {
                    $crate::component::report_panics();
                    $crate::answer(&super::MODULE, &request)
                }
            }
            $crate::component::export!(Guest with_types_in $crate::component);
        }

        #[cfg(test)]
        mod registry {
            #[test]
            fn every_rule_is_whole() {
                $crate::testing::assert_whole(&super::MODULE);
            }

            #[test]
            fn every_case_finds_what_it_expects() {
                ::redtag_rule_testing::assert_cases(&super::MODULE, env!("CARGO_MANIFEST_DIR"));
            }

            #[test]
            #[ignore = "while something is known to pass, and longer than a run of tests: cargo test -p redtag-FAMILY -- --ignored nothing_passes_unsaid"]
            fn nothing_passes_unsaid() {
                ::redtag_rule_testing::assert_nothing_passes_unsaid(&super::MODULE, env!("CARGO_MANIFEST_DIR"));
            }

            #[test]
            fn every_cure_cures() {
                ::redtag_rule_testing::assert_cures_cure(&super::MODULE, env!("CARGO_MANIFEST_DIR"));
            }
        }
    };
}
