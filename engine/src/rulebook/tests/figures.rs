//! Figures: set once, read everywhere; set in one rule, told.

use super::*;
use crate::diagnostic::Code;
use redtag_schema::rulebook::RuleEntry;

/// A module with a figure that two rules read.
fn walls() -> Fake {
    let figure = json!({
        "id": "walls/rating", "purpose": "For tests.", "kind": { "quantity": "duration" }, "default": "1 h", "source": "a table",
    });
    let reading = |name: &str| {
        let mut parameter = figure.clone();
        let fields = parameter.as_object_mut().expect("an object");
        fields.shift_remove("id");
        fields.insert("name".to_owned(), json!(name));
        fields.insert("figure".to_owned(), json!("walls/rating"));
        parameter
    };
    let rule = |id: &str, name: &str| json!({ "id": id, "title": "A rule", "purpose": "For tests.", "stages": ["final"], "parameters": [reading(name)] });
    let module = json!({ "schema": 1, "module": "walls", "version": "1.0.0", "figures": [figure],
        "rules": [rule("walls/firestop", "needed"), rule("walls/wall", "rating")] });
    let description: Description = serde_json::from_value(module).expect("a description");
    Fake(BTreeMap::from([("walls".to_owned(), description)]))
}

fn below() -> Arc<Pack> {
    pack(json!({ "name": "base", "modules": [{ "name": "walls" }] }))
}

fn resolved_with(amendments: &[Value]) -> Result<Rulebook, Vec<Diagnostic>> {
    let mut packs = vec![below()];
    let mut under = "base".to_owned();
    for (number, amendments) in amendments.iter().enumerate() {
        let name = format!("layer-{number}");
        packs.push(on(&under, &name, amendments.clone()));
        under = name;
    }
    book(&try_layers(&packs, &[&under])?, &walls())
}

fn resolved(amendments: &[Value]) -> Rulebook {
    resolved_with(amendments).unwrap_or_else(|complaints| panic!("{}", lines(&complaints)))
}

fn values(book: &Rulebook) -> Vec<&str> {
    book.rules.iter().map(|rule: &RuleEntry| rule.parameters[0].written.as_str()).collect()
}

fn set_figure(value: &str) -> Value {
    json!({ "change": "set-figure", "figure": "walls/rating", "value": value })
}

fn set_rule(rule: &str, parameter: &str, value: &str) -> Value {
    json!({ "change": "set", "rule": rule, "parameter": parameter, "value": value })
}

#[test]
fn a_figure_is_set_once_in_every_rule_that_reads_it() {
    let book = resolved(&[json!([set_figure("2 h")])]);
    assert_eq!(values(&book), ["2 h", "2 h"]);
    assert!(book.notes.is_empty(), "{:?}", book.notes);
    let figure = book.figure("walls/rating").expect("the figure");
    assert_eq!((figure.written.as_str(), figure.author.pack.as_str()), ("2 h", "layer-0"));
    assert_eq!(figure.readers.len(), 2);
    let why = book.rule("walls/firestop").expect("the rule").because();
    assert_eq!(why, ["figure walls/rating is 2 h (was 1 h): layer-0 1.0.0, Ordinance of layer-0 section 4"]);
}

#[test]
pub(crate) fn who_sets_one_of_several_twins_is_told_which_stay() {
    let book = resolved(&[json!([set_rule("walls/wall", "rating", "2 h")])]);
    assert_eq!(values(&book), ["1 h", "2 h"]);
    let [note] = book.notes.as_slice() else { panic!("{:?}", book.notes) };
    assert!(note.contains("`walls/rating`") && note.contains("`walls/firestop` (1 h)"), "{note}");
    let figure = book.figure("walls/rating").expect("the figure");
    assert_eq!(figure.readers[1].differs.as_deref(), Some("2 h"));
    // Both set by rule, to one value: nothing is left behind.
    let both = json!([set_rule("walls/wall", "rating", "2 h"), set_rule("walls/firestop", "needed", "2 h")]);
    assert!(resolved(&[both]).notes.is_empty());
}

#[test]
fn a_layer_above_decides_whether_it_speaks_of_the_figure_or_of_a_rule() {
    let up = resolved(&[json!([set_rule("walls/wall", "rating", "3 h")]), json!([set_figure("2 h")])]);
    assert_eq!(values(&up), ["2 h", "2 h"]);
    let down = resolved(&[json!([set_figure("2 h")]), json!([set_rule("walls/wall", "rating", "3 h")])]);
    assert_eq!(values(&down), ["2 h", "3 h"]);
    assert_eq!(down.notes.len(), 1, "{:?}", down.notes);
    assert_eq!(down.rule("walls/wall").expect("the rule").because().len(), 1);
}

#[test]
fn one_pack_does_not_say_both() {
    let both = json!([set_figure("2 h"), set_rule("walls/wall", "rating", "3 h")]);
    let complaint = only(resolved_with(&[both]));
    assert_eq!(complaint.code, Code::AmendedTwice);
    let twice = on_base("county", json!([set_figure("2 h")]));
    assert_eq!(twice.manifest().amendments.len(), 1);
    let mut manifest = json!({ "name": "county", "stands_on": { "name": "base", "version": "^1" }, "amendments": [
        { "change": "set-figure", "figure": "walls/rating", "value": "2 h", "ordinance": { "document": "O" } },
        { "change": "set-figure", "figure": "walls/rating", "value": "3 h", "ordinance": { "document": "O" } },
    ] });
    assert_eq!(only(try_pack(&finished(&mut manifest))).code, Code::AmendedTwice);
}

#[test]
pub(crate) fn a_figure_that_is_not_there_or_takes_no_such_value_is_told() {
    let unknown = json!([{ "change": "set-figure", "figure": "walls/ratings", "value": "2 h" }]);
    let complaint = only(resolved_with(&[unknown]));
    assert_eq!((complaint.code.word(), complaint.help.as_deref()), ("unknown-figure", Some("did you mean `walls/rating`?")));
    assert_eq!(only(resolved_with(&[json!([set_figure("2 in")])])).code, Code::WrongDimension);
}

#[test]
fn a_module_whose_figures_and_parameters_part_is_not_used() {
    type Spoil = fn(&mut Description);
    let cases: [(&str, Spoil); 5] = [
        ("does not describe", |one| one.figures.clear()),
        ("other values than", |one| one.rules[0].parameters[0].default = json!("2 h")),
        ("no rule reads", |one| one.rules.iter_mut().for_each(|rule| rule.parameters[0].figure = None)),
        ("described twice", |one| one.figures.push(one.figures[0].clone())),
        ("not the id of a figure", |one| one.figures[0].id = "rating".to_owned()),
    ];
    for (says, spoil) in cases {
        let mut fake = walls();
        spoil(fake.0.get_mut("walls").expect("the module"));
        let book = book(&try_layers(&[below()], &["base"]).expect("layers"), &fake).expect("a rulebook");
        assert!(book.failures[0].message.contains(says), "{says}: {}", book.failures[0].message);
    }
}
