//! Case files read and run against a rule that is a closure.

pub(crate) mod faults;

use super::*;
use crate::pack::tests::{finished, line_of, lines, only_of};
use crate::pack::{Origin, Pack};
use crate::rulebook::tests::{Fake, fake};
use crate::rulebook::{Wanted, layers, resolve};
use redtag_schema::contract::{Finding, Missing, Subject, Text};
use redtag_schema::proof::Proof;
use redtag_schema::quantity::{Kind, at_least};
use redtag_schema::rulebook::Rulebook;
use serde_json::json;

const TRAP: &str = r#"# The leg of a trap

Every appliance needs one.

```json project
{ "equipment": [{ "id": "boiler", "leg": "3 in" }] }
```

## Pass: long enough

```json findings
[{ "subject": "boiler", "outcome": "complies", "says": "3 in" }]
```

## Fail: too short

```json change
[{ "op": "replace", "path": "/equipment/0/leg", "value": "2 in" }]
```

```json findings
[{ "subject": "/equipment/0", "outcome": "correction" }]
```

## Boundary: exactly met by two, in other units

```json project
{ "equipment": [{ "id": "heater", "leg": "76.2 mm" }, { "id": "dryer", "kind": "electric" }] }
```

```json findings
[{ "subject": "heater", "outcome": "complies" }]
```

## Unresolved: nobody says how long

```json change
[{ "op": "remove", "path": "/equipment/0/leg" }]
```

```json findings
[{ "subject": "boiler", "outcome": "unresolved", "missing": ["/equipment/0/leg"] }]
```

## Not applicable: no gas

```json change
[{ "op": "add", "path": "/equipment/0/kind", "value": "electric" }]
```

```json findings
[]
```

## Amended: a county wants more

```json parameters
{ "leg": "6 in" }
```

```json setting
{ "stage": "permit", "date": "2025-01-01" }
```

```json findings
[{ "subject": "boiler", "outcome": "correction", "says": "needs 6 in" }]
```
"#;

fn pack_of(files: &[(&str, &str)]) -> Pack {
    let manifest = finished(&mut json!({ "name": "base", "modules": [{ "name": "gas" }], "cases": ["cases"] }));
    let mut all: BTreeMap<String, Vec<u8>> =
        files.iter().map(|(name, text)| ((*name).to_owned(), text.as_bytes().to_vec())).collect();
    all.insert("pack.json".to_owned(), manifest.into_bytes());
    all.insert("modules/gas.wasm".to_owned(), b"component gas".to_vec());
    Pack::from_files(all, Origin::Folder("base".into())).unwrap_or_else(|complaints| panic!("{}", lines(&complaints)))
}

fn book_of(pack: Pack, fake: &Fake) -> (std::sync::Arc<Pack>, Rulebook) {
    let pack = std::sync::Arc::new(pack);
    let layers = layers(std::slice::from_ref(&pack), &[Wanted::any("base")], "2025-06-01").expect("layers");
    let book = resolve(&layers, &fake.descriptions(&layers)).unwrap_or_else(|complaints| panic!("{}", lines(&complaints)));
    (pack, book)
}

/// The rule: every piece of equipment that is not electric has a leg of the parameter's length or more.
fn rule(question: &Question) -> Result<Vec<Finding>, String> {
    let Some(asked) = question.rules.get("gas/trap") else { return Ok(Vec::new()) };
    let needed = asked.parameters["leg"]["si"].as_f64().ok_or("no leg")?;
    let words = |template: String| Text::plain(template);
    let equipment = question.project["equipment"].as_array().ok_or("no equipment")?;
    let find = |(index, one): (usize, &Value)| {
        let pointer = format!("/equipment/{index}");
        let length = one["leg"].as_str().and_then(|leg| Kind::Length.parse(leg).ok());
        let (outcome, summary) = match length {
            _ if one["kind"] == "electric" => (Outcome::NotApplicable, "no gas".to_owned()),
            None => (Outcome::Unresolved, "how long is it?".to_owned()),
            Some(length) if at_least(length, needed) => (Outcome::Complies, format!("has {}", one["leg"])),
            Some(_) => (Outcome::Correction, format!("needs {}", redtag_schema::contract::value_words(&asked.parameters["leg"]))),
        };
        let missing = match outcome {
            Outcome::Unresolved => vec![Missing { pointer: format!("{pointer}/leg"), what: None, example: None }],
            _ => Vec::new(),
        };
        Finding {
            rule: "gas/trap".to_owned(),
            subject: Subject { pointer, id: one["id"].as_str().map(str::to_owned), label: "equipment".to_owned() },
            outcome,
            summary: words(summary),
            worksheet: Vec::new(),
            missing,
            remedies: Vec::new(),
            marks: Vec::new(),
            sections: Vec::new(),
            related: Vec::new(),
        }
    };
    Ok(equipment.iter().enumerate().map(find).collect())
}

/// What became of the cases of some files.
pub(crate) struct Ran {
    proof: Proof,
    pub(crate) complaints: Vec<Diagnostic>,
}

impl Ran {
    /// Whether every case could be read and found what it expects.
    fn holds(&self) -> bool {
        self.complaints.is_empty() && self.proof.holds()
    }
}

pub(crate) fn report(files: &[(&str, &str)]) -> Ran {
    let (pack, book) = book_of(pack_of(files), &fake());
    let cases = load(&pack, &book);
    Ran { proof: run_cases(&pack, &cases, &book, &rule), complaints: cases.complaints }
}

#[test]
fn a_file_of_every_kind_of_case_holds() {
    let report = report(&[("cases/gas/trap.md", TRAP)]);
    assert!(report.complaints.is_empty(), "{}", lines(&report.complaints));
    let wrong: Vec<_> = report.proof.results.iter().filter(|result| !result.holds()).collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert_eq!(report.proof.results.len(), 6);
    assert!(report.holds());
    assert_eq!((report.proof.results[1].line, report.proof.results[1].file.as_str()), (15, "base/cases/gas/trap.md"));
    let gaps: Vec<_> = report.proof.gaps.iter().map(|gap| (gap.rule.as_str(), gap.kinds.len())).collect();
    assert_eq!(gaps, [("gas/below-grade", 5), ("gas/opening-size", 5)], "the rules without cases lack every kind");
}

#[test]
fn differences_are_told_in_words_with_the_line() {
    let wrong = [
        (
            r#""complies", "says": "3 in""#,
            r#""correction""#,
            "line 12: expected correction about boiler; found complies of gas/trap about boiler: has \"3 in\"",
        ),
        (
            r#""says": "3 in""#,
            r#""says": "4 in""#,
            "line 12: expected complies about boiler that says \"4 in\"; it says: has \"3 in\"",
        ),
        (
            r#"["/equipment/0/leg"]"#,
            r#"[]"#,
            "expected unresolved about boiler with missing nothing; missing are /equipment/0/leg",
        ),
        (r#""subject": "heater""#, r#""subject": "heatr""#, "expected complies about heatr; findings are about dryer, heater"),
        (
            r#"{ "id": "dryer", "kind": "electric" }"#,
            r#"{ "id": "dryer", "leg": "1 in" }"#,
            "not expected: correction of gas/trap about dryer: needs 3 in",
        ),
        (
            r#"{ "equipment": [{ "id": "boiler""#,
            r#"{ "equipment": 7, "more": [{ "id": "boiler""#,
            "the case could not be run: no equipment",
        ),
    ];
    for (from, to, says) in wrong {
        let text = TRAP.replacen(from, to, 1).replace("## Pass", "## Boundary");
        let report = report(&[("cases/gas/trap.md", &text)]);
        let all: Vec<&String> = report.proof.results.iter().flat_map(|result| &result.differences).collect();
        assert!(all.iter().any(|difference| difference.contains(says)), "{to}: {all:#?}\n{}", lines(&report.complaints));
        assert!(!report.holds());
    }
}

#[test]
fn a_list_of_generated_cases_says_the_same() {
    let list = json!([
        { "kind": "pass", "title": "generated", "rule": "gas/trap", "project": { "equipment": [{ "id": "a", "leg": "3 in" }] },
          "findings": [{ "subject": "a", "outcome": "complies" }] },
        { "kind": "fail", "title": "generated", "rule": "gas/trap", "project": { "equipment": [{ "id": "a", "leg": "3 in" }] },
          "change": [{ "op": "replace", "path": "/equipment/0/leg", "value": "1 in" }], "parameters": { "leg": "2 in" },
          "findings": [{ "subject": "a", "outcome": "correction", "says": "needs 2 in" }] },
    ]);
    let text = serde_json::to_string_pretty(&list).expect("JSON");
    let sound = report(&[("cases/gas/generated.json", &text)]);
    assert!(sound.holds(), "{:#?} {}", sound.proof.results, lines(&sound.complaints));
    assert_eq!(sound.proof.results.len(), 2);
    let faulty = report(&[("cases/gas/generated.json", &text.replace("\"2 in\"", "\"2 psi\""))]);
    let complaint = only_of(&faulty.complaints);
    assert!(line_of(complaint).contains("2 psi"), "{}", lines(&faulty.complaints));
}

#[test]
fn a_parameter_no_case_notices_is_told() {
    let (pack, book) = book_of(pack_of(&[("cases/gas/trap.md", TRAP)]), &fake());
    let cases = load(&pack, &book);
    let unnoticed = perturb(&cases, &book, &rule);
    let names: Vec<&str> = unnoticed.iter().map(|one| one.parameter.as_str()).collect();
    assert_eq!(names, ["share", "capped", "place", "materials"], "the rule reads `leg` and nothing else");
    let share = &unnoticed[0];
    assert_eq!((share.rule.as_str(), share.value.as_str()), ("gas/trap", "0.5"));
    assert_eq!(share.tried, ["0.3333333333333333", "0.75"]);
    // A case that is far from the limit does not notice it.
    let far = "## Pass: far from it\n```json project\n{ \"equipment\": [{ \"id\": \"a\", \"leg\": \"30 in\" }] }\n```\n\
               ```json findings\n[{ \"subject\": \"a\", \"outcome\": \"complies\" }]\n```\n";
    let (pack, book) = book_of(pack_of(&[("cases/gas/trap.md", far)]), &fake());
    assert!(perturb(&load(&pack, &book), &book, &rule).iter().any(|one| one.parameter == "leg"));
}

#[test]
fn a_rule_at_the_level_of_advice_is_proven_at_that_level() {
    let mut fake = fake();
    let gas = fake.0.get_mut("gas").expect("there");
    gas.rules.iter_mut().for_each(|rule| rule.level = redtag_schema::contract::Level::Advice);
    let text = TRAP.replace("correction", "advice");
    let (pack, book) = book_of(pack_of(&[("cases/gas/trap.md", &text)]), &fake);
    let proof = run_cases(&pack, &load(&pack, &book), &book, &rule);
    assert!(proof.holds(), "{:#?}", proof.results);
}

#[test]
fn a_rule_not_asked_at_a_stage_finds_nothing() {
    let text = "## Not applicable: too early\n```json project\n{ \"equipment\": [{ \"id\": \"a\", \"leg\": \"1 in\" }] }\n```\n\
                ```json setting\n{ \"stage\": \"rough-in\" }\n```\n```json findings\n[]\n```\n";
    let report = report(&[("cases/gas/trap.md", text)]);
    assert!(report.holds(), "{:#?} {}", report.proof.results, lines(&report.complaints));
}

#[test]
fn findings_about_one_subject_are_paired_as_they_fit() {
    let finding = |summary: &str| Finding { summary: Text::plain(summary), ..found() };
    let expected = |says: Option<&str>| {
        let one = Expected {
            subject: "a".to_owned(),
            outcome: Outcome::Complies,
            says: says.map(str::to_owned),
            missing: None,
            rule: None,
        };
        let file = std::sync::Arc::new(crate::diagnostic::SourceFile::new("x", ""));
        (one, Span::new(&file, 0..0))
    };
    let both = [finding("first"), finding("second")];
    for wanted in [[expected(None), expected(Some("first"))], [expected(Some("first")), expected(None)]] {
        assert_eq!(differ::differences("gas/trap", &wanted, &both), Vec::<String>::new());
    }
    assert_eq!(differ::differences("gas/trap", &[expected(Some("first"))], &both).len(), 1);
}

fn found() -> Finding {
    Finding {
        rule: "gas/trap".to_owned(),
        subject: Subject { pointer: "/equipment/0".to_owned(), id: Some("a".to_owned()), label: "a".to_owned() },
        outcome: Outcome::Complies,
        summary: Text::default(),
        worksheet: Vec::new(),
        missing: Vec::new(),
        remedies: Vec::new(),
        marks: Vec::new(),
        sections: Vec::new(),
        related: Vec::new(),
    }
}

#[test]
fn a_path_names_its_rule() {
    assert_eq!(rule_of_path("cases/combustion-air/free_area.md"), "combustion-air/free-area");
    assert_eq!(rule_of_path("trap.md"), "/trap");
}
