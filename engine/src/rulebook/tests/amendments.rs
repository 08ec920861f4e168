//! What amendments do, and who is the author of what.

use super::*;
use crate::diagnostic::Code;
use redtag_schema::contract::{Level, Outcome};
use redtag_schema::rulebook::{Effect, RuleEntry, State};

#[test]
fn without_amendments_the_module_speaks_through_its_pack() {
    let book = resolved(&[base()], &["base"]);
    let ids: Vec<&str> = book.rules.iter().map(|rule| rule.description.id.as_str()).collect();
    assert_eq!(ids, ["drain/conduit", "drain/slope", "gas/below-grade", "gas/opening-size", "gas/trap"]);
    let trap = book.rule("gas/trap").expect("there");
    let leg = &trap.parameters[0];
    assert_eq!(leg.value["unit"], "m");
    assert!((leg.value["si"].as_f64().expect("a number") - 3.0 * 0.0254).abs() < 1e-12);
    assert_eq!((leg.written.as_str(), leg.author.pack.as_str(), leg.author.source.as_deref()), ("3 in", "base", Some("a table")));
    assert_eq!(book.rule("drain/conduit").map(|rule| &rule.state.value), Some(&State::Dormant));
    assert!(trap.because().is_empty());
    let drain = book.modules.iter().position(|module| module.name == "drain").expect("there");
    assert_eq!(book.requests_for(drain).into_keys().collect::<Vec<_>>(), ["drain/slope"], "a dormant rule is not asked");
    assert_eq!(crate::rulebook::nearest_rule(&book, "gas/trp"), Some("gas/trap"));
}

#[test]
fn an_amendment_says_who_since_when_and_by_which_ordinance() {
    let county = pack(json!({
        "name": "county", "version": "2.1.0", "stands_on": { "name": "base", "version": "^1" }, "in_force": { "from": "2024-01-01" },
        "amendments": [{
            "rule": "gas/trap", "change": "set", "parameter": "leg", "value": "6 in", "standing": "from-memory",
            "in_force": { "from": "2024-07-01" }, "ordinance": { "document": "Ordinance 12", "section": "4" }, "reason": "rust"
        }],
        "no_variance": ["gas/trap"],
    }));
    let book = resolved(&[county, base()], &["county"]);
    let trap = book.rule("gas/trap").expect("there");
    let author = &trap.parameters[0].author;
    assert_eq!(author.to_string(), "county 2.1.0, Ordinance 12 section 4, since 2024-07-01, from memory");
    assert_eq!((author.reason.as_deref(), author.pointer.as_deref()), (Some("rust"), Some("/amendments/0")));
    assert_eq!(trap.because(), ["leg is 6 in (was 3 in): county 2.1.0, Ordinance 12 section 4, since 2024-07-01, from memory"]);
    assert_eq!(trap.no_variance.as_ref().map(|author| author.pack.as_str()), Some("county"));
    assert_eq!(trap.request().parameters["leg"]["written"], "6 in");
}

#[test]
fn amendments_hold_within_their_own_period() {
    let amendment = |value: &str, from: &str, until: &str| json!({ "rule": "gas/trap", "change": "set", "parameter": "leg", "value": value, "in_force": { "from": from, "until": until } });
    let county = on_base(
        "county",
        json!([
            amendment("4 in", "2023-01-01", "2024-12-31"),
            amendment("5 in", "2025-01-01", "2025-12-31"),
            amendment("6 in", "2026-01-01", "2026-12-31"),
        ]),
    );
    let book = resolved(&[base(), county], &["county"]);
    let trap = book.rule("gas/trap").expect("there");
    assert_eq!(trap.parameters[0].written, "5 in");
    let effects: Vec<&Effect> = trap.history.iter().map(|say| &say.effect).collect();
    assert_eq!(effects, [&Effect::Lapsed, &Effect::InEffect, &Effect::NotYet]);
}

#[test]
fn the_upper_layer_decides_and_the_lower_say_stays_in_the_history() {
    let set = |value: &str| json!([{ "rule": "gas/trap", "change": "set", "parameter": "leg", "value": value }]);
    let packs = [on("state", "county", set("6 in")), base(), on_base("state", set("4 in"))];
    let book = resolved(&packs, &["county"]);
    let trap = book.rule("gas/trap").expect("there");
    assert_eq!((trap.parameters[0].written.as_str(), trap.parameters[0].author.pack.as_str()), ("6 in", "county"));
    assert_eq!(trap.history.len(), 2);
    assert_eq!(trap.history[0].effect, Effect::Overridden { by: "county".to_owned() });
    assert_eq!(trap.because().len(), 1);
}

#[test]
fn withdraw_adopt_replace_relax_and_require() {
    let county = pack(json!({
        "name": "county", "stands_on": { "name": "base", "version": "^1" }, "modules": [{ "name": "county-gas" }],
        "amendments": [
            { "rule": "gas/below-grade", "change": "withdraw", "ordinance": { "document": "O 1" } },
            { "rule": "drain/conduit", "change": "adopt", "ordinance": { "document": "O 2" } },
            { "rule": "gas/opening-size", "change": "replace", "with": "county-gas/opening-size", "ordinance": { "document": "O 3" } },
            { "rule": "gas/trap", "change": "relax", "ordinance": { "document": "O 4" } },
            { "rule": "drain/slope", "change": "require", "ordinance": { "document": "O 5" } },
        ],
    }));
    let book = resolved(&[base(), county], &["county"]);
    let state = |id: &str| book.rule(id).map(|rule| rule.state.value.clone()).expect("there");
    assert_eq!(state("gas/below-grade"), State::Withdrawn);
    assert_eq!(state("drain/conduit"), State::InForce);
    assert_eq!(state("gas/opening-size"), State::Replaced { with: "county-gas/opening-size".to_owned() });
    assert_eq!(state("county-gas/opening-size"), State::InForce);
    let trap = book.rule("gas/trap").expect("there");
    assert_eq!(
        (trap.level.value, trap.settle(Outcome::Correction), trap.settle(Outcome::Complies)),
        (Level::Advice, Outcome::Advice, Outcome::Complies)
    );
    let slope = book.rule("drain/slope").expect("there");
    assert_eq!((slope.level.value, slope.settle(Outcome::Correction)), (Level::Required, Outcome::Correction));
    assert!(book.notes.is_empty(), "{:?}", book.notes);
}

#[test]
fn citations_beside_and_instead() {
    let cite = |section: &str, instead: bool| json!({ "rule": "gas/trap", "change": "cite", "instead": instead, "citations": [{ "document": "County Code", "section": section }] });
    let sections = |packs: &[Arc<Pack>], wanted: &[&str]| {
        let book = resolved(packs, wanted);
        let rule = book.rule("gas/trap").expect("there");
        rule.citations.iter().map(|one| format!("{}:{}", one.author.pack, one.value.section)).collect::<Vec<_>>()
    };
    let state = on_base("state", json!([cite("7", false)]));
    assert_eq!(sections(&[base(), state.clone()], &["state"]), ["base:1.1", "state:7"]);
    let county = on("state", "county", json!([cite("9", true), cite("10", false)]));
    assert_eq!(sections(&[base(), state.clone(), county], &["county"]), ["county:9", "county:10"]);
    // A pack beside the one that sets the list keeps what it set beside it.
    let utility = on_base("utility", json!([cite("9", true)]));
    assert_eq!(sections(&[base(), state, utility], &["state", "utility"]), ["utility:9", "state:7"]);
}

#[test]
fn a_pack_may_amend_its_own_rules_and_an_upper_pack_may_take_back() {
    let base = pack(json!({
        "name": "base", "modules": [{ "name": "drain" }],
        "amendments": [{ "rule": "drain/slope", "change": "withdraw", "ordinance": { "document": "O" } }],
    }));
    let county = on_base("county", json!([{ "rule": "drain/slope", "change": "adopt" }]));
    let book = resolved(&[base, county], &["county"]);
    assert!(book.rule("drain/slope").is_some_and(RuleEntry::in_force));
    assert!(book.notes.is_empty(), "{:?}", book.notes);
}

#[test]
pub(crate) fn layers_side_by_side_that_amend_one_thing_are_a_conflict_naming_both() {
    let set = |value: &str| json!([{ "rule": "gas/trap", "change": "set", "parameter": "leg", "value": value }]);
    // Even when they agree: the value would have two authors.
    for value in ["4 in", "5 in"] {
        let packs = [base(), on_base("county", set("4 in")), on_base("utility", set(value))];
        let complaint = only(try_rulebook(&packs, &["county", "utility"]));
        assert_eq!(complaint.code, Code::Conflict);
        assert_eq!(
            complaint.message,
            "pack `county` 1.0.0 and pack `utility` 1.0.0 fight over parameter `leg` of rule `gas/trap`"
        );
        assert!(complaint.one_line().starts_with("county/pack.json:"), "{}", complaint.one_line());
        assert_eq!(complaint.secondary[0].span.file.name(), "utility/pack.json");
    }
    let force = |change: &str| json!([{ "rule": "gas/trap", "change": change }]);
    let packs = [base(), on_base("county", force("withdraw")), on_base("utility", force("adopt"))];
    assert_eq!(only(try_rulebook(&packs, &["county", "utility"])).code, Code::Conflict);
    let packs = [base(), on_base("county", force("relax")), on_base("utility", set("5 in"))];
    assert!(try_rulebook(&packs, &["county", "utility"]).is_ok(), "different things of one rule do not meet");
}

#[test]
pub(crate) fn a_rule_of_a_pack_beside_is_out_of_reach() {
    let utility = pack(json!({ "name": "utility", "modules": [{ "name": "drain" }] }));
    let gas = pack(json!({ "name": "base", "modules": [{ "name": "gas" }] }));
    let county = on_base("county", json!([{ "rule": "drain/slope", "change": "require" }]));
    let complaint = only(try_rulebook(&[gas, utility, county], &["county", "utility"]));
    assert_eq!(complaint.code, Code::NotBelow);
    assert_eq!(complaint.secondary[0].span.file.name(), "utility/pack.json");
}

#[test]
pub(crate) fn one_rule_in_two_modules_is_an_error_and_one_module_in_two_packs_is_not() {
    let mut fake = fake();
    let mut copy = fake.0["gas"].clone();
    copy.module = "gas-copy".to_owned();
    fake.0.insert("gas-copy".to_owned(), copy);
    let other = pack(json!({ "name": "other", "modules": [{ "name": "gas-copy" }] }));
    let layers = try_layers(&[base(), other], &["base", "other"]).expect("layers");
    let complaints = book(&layers, &fake).expect_err("a clash");
    assert_eq!(complaints.len(), 3);
    assert!(
        complaints.iter().all(|one| one.code == Code::RuleInTwoModules && one.secondary.len() == 1),
        "{}",
        lines(&complaints)
    );
    let twin = pack(json!({ "name": "twin", "modules": [{ "name": "gas" }] }));
    let book = resolved(&[base(), twin], &["base", "twin"]);
    assert_eq!(book.modules.len(), 2);
}

#[test]
pub(crate) fn what_changes_nothing_is_a_note() {
    let state = on_base("state", json!([{ "rule": "gas/opening-size", "change": "withdraw" }]));
    let county = on(
        "state",
        "county",
        json!([
            { "rule": "gas/trap", "change": "adopt" },
            { "rule": "drain/slope", "change": "relax" },
            { "rule": "gas/below-grade", "change": "require" },
            { "rule": "gas/opening-size", "change": "withdraw" },
        ]),
    );
    let book = resolved(&[base(), state, county], &["county"]);
    assert_eq!(book.notes.len(), 4, "{:?}", book.notes);
    assert!(book.notes.iter().all(|note| note.contains(" already (")), "{:?}", book.notes);
    let county = on_base(
        "county",
        json!([{ "rule": "gas/trap", "change": "withdraw" }, { "rule": "gas/trap", "change": "set", "parameter": "leg", "value": "4 in" }]),
    );
    let book = resolved(&[base(), county], &["county"]);
    assert_eq!(book.notes.len(), 1, "{:?}", book.notes);
    // A state cannot know what a county will take out: its parameter is no remark.
    let state = on_base("state", json!([{ "rule": "gas/trap", "change": "set", "parameter": "leg", "value": "4 in" }]));
    let county = on("state", "county", json!([{ "rule": "gas/trap", "change": "withdraw" }]));
    let book = resolved(&[base(), state, county], &["county"]);
    assert!(book.notes.is_empty(), "{:?}", book.notes);
}

#[test]
pub(crate) fn a_replacement_that_a_layer_above_withdraws_is_a_note() {
    let state = on_base("state", json!([{ "rule": "gas/trap", "change": "replace", "with": "gas/opening-size" }]));
    let county = on("state", "county", json!([{ "rule": "gas/opening-size", "change": "withdraw" }]));
    let book = resolved(&[base(), state, county], &["county"]);
    assert!(book.notes.iter().any(|note| note.contains("which county withdraws")), "{:?}", book.notes);
}

#[test]
fn what_a_parameter_was_is_what_the_layer_below_says() {
    let set = |value: &str| json!([{ "rule": "gas/trap", "change": "set", "parameter": "leg", "value": value }]);
    let (state, county) = (on_base("state", set("4 in")), on("state", "county", set("3 in")));
    let book = resolved(&[base(), state, county], &["county"]);
    let because = book.rule("gas/trap").unwrap().because();
    assert!(because.len() == 1 && because[0].starts_with("leg is 3 in (was 4 in): county"), "{because:?}");
}

#[test]
pub(crate) fn replacements_that_lead_in_a_circle_are_told() {
    let county = on_base(
        "county",
        json!([
            { "rule": "gas/trap", "change": "replace", "with": "gas/opening-size" },
            { "rule": "gas/opening-size", "change": "replace", "with": "gas/trap" },
        ]),
    );
    let complaints = try_rulebook(&[base(), county], &["county"]).expect_err("a circle");
    assert!(complaints.iter().all(|one| one.code == Code::ReplacedInACircle), "{}", lines(&complaints));
    assert_eq!(complaints.len(), 2);
}

#[test]
fn a_module_that_fails_is_named_and_the_rest_goes_on() {
    let mut fake = fake();
    fake.0.remove("gas");
    let county =
        on_base("county", json!([{ "rule": "gas/trap", "change": "withdraw" }, { "rule": "drain/conduit", "change": "adopt" }]));
    let layers = try_layers(&[base(), county], &["county"]).expect("layers");
    let book = book(&layers, &fake).unwrap_or_else(|complaints| panic!("{}", lines(&complaints)));
    assert_eq!(book.failures.len(), 1);
    assert_eq!((book.failures[0].module.as_str(), book.failures[0].kind.as_str()), ("gas", "out-of-fuel"));
    assert!(book.rule("drain/conduit").is_some_and(RuleEntry::in_force));
}

#[test]
fn a_description_that_cannot_be_used_is_the_modules_failure() {
    type Spoil = fn(&mut Description);
    let spoil: [(&str, Spoil); 6] = [
        ("is not a rule id", |one| one.rules[0].id = "Gas".to_owned()),
        ("described twice", |one| one.rules[1].id = one.rules[0].id.clone()),
        ("not a JSON pointer", |one| one.rules[0].reads = vec!["equipment".to_owned()]),
        ("calls itself", |one| one.module = "gaz".to_owned()),
        ("does not read", |one| one.rules[2].parameters[0].default = json!("3 psi")),
        ("does not read", |one| one.rules[2].parameters[0].most = Some(json!("2 in"))),
    ];
    for (says, change) in spoil {
        let mut fake = fake();
        change(fake.0.get_mut("gas").expect("there"));
        let book = book(&try_layers(&[base()], &["base"]).expect("layers"), &fake).expect("a rulebook");
        assert_eq!(book.failures.len(), 1);
        assert!(book.failures[0].message.contains(says), "{}", book.failures[0].message);
        assert!(book.rules.iter().all(|rule| rule.description.id.starts_with("drain/")));
    }
}
