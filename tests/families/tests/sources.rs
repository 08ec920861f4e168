//! In a review stand sections of codes and named standards. Where a figure was seen (a city's print of a code, a web host, a forum,
//! a course) belongs to a rule's page.

use redtag_families_tests::{FAMILIES, case_projects, houses, review};
use std::collections::BTreeSet;

/// Words that name a host, a gathering place, or a city whose code was read.
const FOREIGN: &[&str] = &[
    ".com",
    ".org",
    ".net",
    ".gov",
    "://",
    "www.",
    "forum",
    "quiz",
    "Chicago",
    "Baltimore",
    "Rapid City",
    "Redwood City",
    "King County",
    "Seattle",
    "Los Angeles",
    "New York City",
];

#[test]
fn no_review_names_a_host_a_forum_or_a_city() {
    let projects: Vec<_> = houses().into_iter().chain(case_projects()).collect();
    let (mut looked_at, mut foreign) = (0, BTreeSet::new());
    for (name, project) in &projects {
        for finding in review(project).unwrap_or_default() {
            let steps = finding.worksheet.iter().filter_map(|step| step.source.clone());
            for source in steps.chain(finding.sections) {
                looked_at += 1;
                if FOREIGN.iter().any(|word| source.contains(word)) {
                    foreign.insert(format!("{} in {name}: {source}", finding.rule));
                }
            }
        }
    }
    assert!(looked_at > 10_000, "only {looked_at} sources were looked at");
    assert!(foreign.is_empty(), "{foreign:#?}");
}

#[test]
fn no_rule_cites_a_host_or_a_city() {
    for entry in FAMILIES.iter().flat_map(|(module, _)| module.entries) {
        for (code, _, section, _) in entry.rule.citations {
            assert!(
                !FOREIGN.iter().any(|word| code.contains(word) || section.contains(word)),
                "{}: {code} {section}",
                entry.rule.id
            );
        }
    }
}
