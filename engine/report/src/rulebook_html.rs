//! What is in force, as one HTML file to browse and to print: no scripts, nothing loaded from anywhere.

mod markdown;

use super::clean;
use super::count::plural;
use super::rulebook::stages;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use redtag_schema::contract::{Citation, Standing, value_words};
use redtag_schema::review::NOTICE;
use redtag_schema::rulebook::{AmendmentInALayer, Author, Effect, ParameterEntry, RuleEntry, Rulebook};
use sha2::{Digest as _, Sha256};

const STYLE: &str = include_str!("rulebook_html/style.css");

/// The rulebook as a book: its layers, what they change, then every rule.
pub fn render(rulebook: &Rulebook) -> String {
    let top = rulebook.packs.last().map_or("no pack", |pack| pack.title.as_str());
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(policy());
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="referrer" content="no-referrer";
                title { "Rulebook: " (top) ", the law of " (rulebook.date) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                header {
                    h1 { "Rulebook" }
                    p.day { "The law of " (rulebook.date) }
                    (layers(rulebook))
                    p.notice { (NOTICE) }
                }
                nav aria-label="Rules" { (contents(rulebook)) }
                main {
                    (changes(rulebook))
                    @for rule in &rulebook.rules { (section(rule)) }
                }
            }
        }
    };
    // What a pack says is shown without control and direction marks, which could make it read as something else.
    page.into_string().lines().map(|line| clean(line).into_owned() + "\n").collect()
}

/// Nothing but this page's own style: its digest names it.
fn policy() -> String {
    let digest = data_encoding::BASE64.encode(&Sha256::digest(STYLE.as_bytes()));
    format!("default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'")
}

fn layers(rulebook: &Rulebook) -> Markup {
    html! {
        h2 { "Layers" }
        ol.layers {
            @for pack in &rulebook.packs {
                li { b { (pack.title) } " " span.faint { (pack.name) " " (pack.version) } br; span.digest { "SHA-256 " (pack.digest) } }
            }
        }
        @for failure in &rulebook.failures { p.failure { b { "Module failed: " } (failure.message) } }
    }
}

fn contents(rulebook: &Rulebook) -> Markup {
    html! {
        h2 { "Rules" }
        ul {
            @for rule in &rulebook.rules {
                li {
                    a href={ "#" (anchor(rule)) } { (rule.description.title) }
                    @for mark in marks(rule) { " " span.mark { (mark) } }
                }
            }
        }
    }
}

/// What is not as the rule's own module has it, in words.
fn marks(rule: &RuleEntry) -> Vec<String> {
    let mut words = Vec::new();
    if !rule.in_force() {
        words.push(rule.standing());
    }
    let layers: std::collections::BTreeSet<&str> = changing(rule).map(|say| say.author.pack.as_str()).collect();
    if !layers.is_empty() {
        words.push(format!("changed by {}", layers.into_iter().collect::<Vec<_>>().join(", ")));
    }
    words
}

fn changing(rule: &RuleEntry) -> impl Iterator<Item = &AmendmentInALayer> {
    rule.history.iter().filter(|say| say.effect == Effect::InEffect)
}

fn anchor(rule: &RuleEntry) -> String {
    rule.description.id.replace('/', ".")
}

/// Every amendment in effect in one table.
fn changes(rulebook: &Rulebook) -> Markup {
    let count = rulebook.rules.iter().flat_map(changing).count();
    html! {
        section {
            h2 { "What differs from the base" }
            @if count == 0 {
                p { "Nothing: every rule is as the pack that ships it has it." }
            } @else {
                p { (plural(count, "amendment is", "amendments are")) " in effect." }
                table {
                    thead { tr { th scope="col" { "Rule" } th scope="col" { "Change" } th scope="col" { "Law" } } }
                    tbody {
                        @for rule in &rulebook.rules {
                            @for say in changing(rule) {
                                tr {
                                    td { a href={ "#" (anchor(rule)) } { (rule.description.id) } }
                                    td { (rule.in_words(say)) @if let Some(reason) = &say.author.reason { br; span.faint { (reason) } } }
                                    td { (law(&say.author)) }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn section(rule: &RuleEntry) -> Markup {
    let described = &rule.description;
    html! {
        section.rule id=(anchor(rule)) {
            h2 { (described.title) }
            p.id { code { (described.id) } @for mark in marks(rule) { " " span.mark { (mark) } } }
            p {
                b { (rule.standing()) } ", " (rule.level_word()) ", asked at " (stages(&described.stages))
                "; from " (rule.shipped_by.pack) " " (rule.shipped_by.version) "."
                @if rule.state.author.ordinance.is_some() { " " span.law { (rule.standing()) ": " (law(&rule.state.author)) } }
            }
            div.purpose { (markdown::to_html(&described.purpose)) }
            (citations(rule))
            @if !rule.parameters.is_empty() { (parameters(rule)) }
            @if let Some(author) = &rule.no_variance { p { b { "No variance is granted" } " from this rule: " (law(author)) } }
            @if !rule.history.is_empty() { (history(rule)) }
        }
    }
}

fn citations(rule: &RuleEntry) -> Markup {
    html! {
        h3 { "Where it is printed" }
        ul.citations {
            @for one in &rule.citations {
                li {
                    (place(&one.value))
                    @if one.value.standing == Standing::FromMemory { " " span.memory { "from memory" } }
                    @if one.author.ordinance.is_some() { " " span.mark { "changed" } " " span.law { (law(&one.author)) } }
                }
            }
        }
    }
}

fn place(citation: &Citation) -> String {
    let edition = citation.edition.as_ref().map(|edition| format!(" {edition}")).unwrap_or_default();
    format!("{}{edition} {}", citation.document, citation.section)
}

fn parameters(rule: &RuleEntry) -> Markup {
    html! {
        h3 { "Parameters" }
        table.parameters {
            thead { tr { th scope="col" { "Name" } th scope="col" { "Value" } th scope="col" { "Who says so" } } }
            tbody { @for one in &rule.parameters { (parameter(rule, one)) } }
        }
    }
}

fn parameter(rule: &RuleEntry, one: &ParameterEntry) -> Markup {
    let described = rule.description.parameters.iter().find(|described| described.name == one.name);
    let changed = one.author.ordinance.is_some();
    html! {
        tr.changed[changed] {
            td { code { (one.name) } @if let Some(described) = described { br; span.faint { (described.purpose) } } }
            td {
                b { (one.written) }
                @if changed {
                    br; span.mark { "changed" }
                    @if let Some(described) = described { " " span.faint { "base: " (value_words(&described.default)) } }
                }
            }
            td { (law(&one.author)) @if let Some(reason) = &one.author.reason { br; span.faint { (reason) } } }
        }
    }
}

/// Who says so: the ordinance with its days, or the source the module gives.
fn law(author: &Author) -> Markup {
    html! {
        (author.to_string())
        @if let Some(until) = &author.until { ", until " (until) }
    }
}

/// Every layer's say, in effect or not.
fn history(rule: &RuleEntry) -> Markup {
    html! {
        h3 { "What each layer says" }
        ul.history {
            @for say in &rule.history {
                li {
                    span.mark { (effect(&say.effect)) } " " (rule.in_words(say)) ": " span.law { (law(&say.author)) }
                }
            }
        }
    }
}

fn effect(effect: &Effect) -> String {
    match effect {
        Effect::InEffect => "in effect".to_owned(),
        Effect::Overridden { by } => format!("overridden by {by}"),
        Effect::NotYet => "not yet law".to_owned(),
        Effect::Lapsed => "lapsed".to_owned(),
    }
}
