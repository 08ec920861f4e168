//! What the rules of a run are about, for the formats that say it.

use redtag_schema::contract::{Level, printed};
use redtag_schema::review::{Review, ReviewedFinding};
use redtag_schema::rulebook::{RuleEntry, Rulebook};
use std::collections::BTreeMap;

/// The rules of a run by id.
pub type RuleTexts = BTreeMap<String, RuleText>;

/// What a rule is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RuleText {
    /// One line.
    pub title: String,
    /// What is required, why, how it is measured, how it is fixed: Markdown.
    pub purpose: String,
    /// Where it is printed, in words.
    pub printed: String,
    /// Whether a breach is a correction or advice.
    pub level: Level,
    /// The module that holds it.
    pub module: String,
    /// The pack that ships it.
    pub pack: String,
}

/// What the rules with a finding in the review are about.
pub fn rule_texts(review: &Review, rulebook: &Rulebook) -> RuleTexts {
    let known = |finding: &ReviewedFinding| rulebook.rule(&finding.rule);
    let text = |rule: &RuleEntry| RuleText {
        title: rule.description.title.clone(),
        purpose: rule.description.purpose.clone(),
        printed: printed(rule.citations.iter().map(|cited| &cited.value)),
        level: rule.level.value,
        module: rulebook.modules.get(rule.module).map(|module| module.name.clone()).unwrap_or_default(),
        pack: rule.shipped_by.pack.clone(),
    };
    review.findings.iter().filter_map(known).map(|rule| (rule.description.id.clone(), text(rule))).collect()
}
