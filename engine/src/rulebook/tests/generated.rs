//! Five hundred packs with random faults: each a clear complaint, none a panic.

use super::*;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

const SOUND: &str = r#"{
  "schema": 1,
  "name": "county",
  "version": "1.2.3",
  "title": "A county",
  "authority": { "name": "Nobody" },
  "stands_on": { "name": "base", "version": "^1" },
  "in_force": { "from": "2024-01-01", "until": "2027-12-31" },
  "contract": "1.0",
  "modules": [],
  "amendments": [
    { "rule": "gas/trap", "change": "set", "parameter": "leg", "value": "6 in", "ordinance": { "document": "O 1", "section": "1" } },
    { "rule": "gas/trap", "change": "set", "parameter": "materials", "value": ["iron", "csst"], "ordinance": { "document": "O 2" } },
    { "rule": "gas/below-grade", "change": "withdraw", "ordinance": { "document": "O 3" }, "in_force": { "from": "2024-06-01" } },
    { "rule": "gas/opening-size", "change": "replace", "with": "gas/trap", "ordinance": { "document": "O 4" } },
    { "rule": "drain/slope", "change": "cite", "citations": [{ "document": "Code", "section": "9" }], "ordinance": { "document": "O 5" } }
  ],
  "no_variance": ["gas/trap"]
}"#;

/// Slips a person makes: a place, and what may stand there by mistake. The values are JSON.
const SLIPS: &[(&str, &[&str])] = &[
    ("/amendments/0/value", &[r#""6 psi""#, r#""13 in""#, r#""six in""#, "true", "6"]),
    ("/amendments/0/parameter", &[r#""legs""#, r#""share""#, r#""place""#, r#""materials""#]),
    ("/amendments/0/rule", &[r#""gas/trp""#, r#""drain/slope""#, r#""Gas Trap""#]),
    ("/amendments/1/value", &[r#"["iron", "iron"]"#, r#"["irn"]"#, r#""iron""#]),
    ("/amendments/1/parameter", &[r#""leg""#]),
    ("/amendments/2/in_force", &[r#"{ "until": "2023-01-01" }"#, r#"{ "from": "2026-01-01", "until": "2025-01-01" }"#]),
    ("/amendments/2/rule", &[r#""gas/opening-size""#]),
    ("/amendments/3/with", &[r#""gas/opening-size""#, r#""drain/conduit""#, r#""gas/trp""#, r#""gas/below-grade""#]),
    ("/amendments/4/citations", &["[]"]),
    ("/no_variance/0", &[r#""gas/trp""#]),
    ("/name", &[r#""County Pack""#, r#""base""#]),
    ("/version", &[r#""1.2""#, r#""next""#]),
    ("/stands_on", &["null", r#"{ "name": "bass", "version": "^1" }"#, r#"{ "name": "base", "version": "^2" }"#]),
    ("/stands_on/version", &[r#""one""#]),
    ("/in_force", &[r#"{ "from": "2026-01-01" }"#, r#"{ "until": "2024-12-31" }"#, r#"{ "from": "2025-02-30" }"#]),
    ("/contract", &[r#""2.0""#, r#""1.0.0.0""#]),
    ("/modules", &[r#"[{ "name": "gas", "source": "../gas" }]"#, r#"[{ "name": "gas", "file": "/gas.wasm", "sha256": "0" }]"#]),
    ("/cases", &[r#"["cases"]"#, r#"["../cases"]"#]),
];

fn slip() -> impl Strategy<Value = (&'static str, Value)> {
    use proptest::prelude::*;
    (any::<prop::sample::Index>(), any::<prop::sample::Index>()).prop_map(|(place, value)| {
        let (place, values) = place.get(SLIPS);
        (*place, serde_json::from_str(values[value.index(values.len())]).expect("JSON"))
    })
}

/// A value that is hardly right anywhere.
fn junk() -> impl Strategy<Value = Value> {
    use proptest::prelude::*;
    prop_oneof![
        Just(Value::Null),
        Just(json!(-1)),
        Just(json!(1e308)),
        Just(json!("")),
        Just(json!("9999-99-99")),
        Just(json!([])),
        Just(json!({})),
        Just(json!("../../etc")),
        "[a-z0-9/ .^-]{0,12}".prop_map(Value::from),
        "\\PC{0,8}".prop_map(Value::from),
        any::<bool>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
    ]
}

/// A fault: a place (by number), what to do there, with what.
type Fault = (usize, u8, Value);

fn pointers(value: &Value, at: &str, out: &mut Vec<String>) {
    out.push(at.to_owned());
    let children: Vec<(String, &Value)> = match value {
        Value::Object(fields) => fields.iter().map(|(name, value)| (name.clone(), value)).collect(),
        Value::Array(items) => items.iter().enumerate().map(|(index, value)| (index.to_string(), value)).collect(),
        _ => Vec::new(),
    };
    for (name, child) in children {
        pointers(child, &format!("{at}/{name}"), out);
    }
}

fn spoilt(faults: &[Fault]) -> Value {
    let mut manifest = sound();
    for (place, what, junk) in faults {
        let mut all = Vec::new();
        pointers(&manifest, "", &mut all);
        let pointer = all[1 + place % (all.len() - 1).max(1)].clone();
        let (parent, name) = pointer.rsplit_once('/').expect("a pointer below the root");
        match (manifest.pointer_mut(parent), what % 4) {
            (Some(Value::Object(fields)), 0) => drop(fields.shift_remove(name)),
            (Some(Value::Object(fields)), 1) => drop(fields.insert(format!("{name}x"), junk.clone())),
            (Some(Value::Array(items)), 0 | 1) => items.push(junk.clone()),
            _ => *manifest.pointer_mut(&pointer).expect("there") = junk.clone(),
        }
        if !manifest.is_object() || manifest.as_object().is_some_and(serde_json::Map::is_empty) {
            break;
        }
    }
    manifest
}

fn sound() -> Value {
    serde_json::from_str(SOUND).expect("JSON")
}

/// A manifest with slips.
fn slipped(slips: &[(&str, Value)]) -> Value {
    let mut manifest = sound();
    for (place, value) in slips {
        let (parent, name) = place.rsplit_once('/').expect("a pointer below the root");
        match manifest.pointer_mut(parent) {
            Some(Value::Object(fields)) => drop(fields.insert(name.to_owned(), value.clone())),
            Some(Value::Array(items)) => items[0] = value.clone(),
            _ => {}
        }
    }
    manifest
}

#[test]
fn five_hundred_faulty_packs_are_answered_and_none_panics() {
    use proptest::prelude::*;
    let mut runner = TestRunner::new_with_rng(Config::default(), TestRng::from_seed(RngAlgorithm::ChaCha, &[7; 32]));
    let faults = prop::collection::vec((any::<usize>(), any::<u8>(), junk()), 1..4);
    let slips = prop::collection::vec(slip(), 1..3);
    let (mut refused, mut taken) = (0, 0);
    let mut codes = std::collections::BTreeSet::new();
    for number in 0..500 {
        let manifest = if number % 2 == 0 {
            slipped(&slips.new_tree(&mut runner).expect("a tree").current())
        } else {
            spoilt(&faults.new_tree(&mut runner).expect("a tree").current())
        };
        let text = if number % 4 < 2 { manifest.to_string() } else { serde_json::to_string_pretty(&manifest).expect("JSON") };
        // Every tenth is cut short: not JSON any more.
        let text = if number % 10 == 9 { text.chars().take(text.chars().count() / 2).collect() } else { text };
        let name = manifest["name"].as_str().unwrap_or("county").to_owned();
        let result = try_pack(&text).and_then(|pack| try_rulebook(&[base(), pack], &[&name]));
        match result {
            Ok(_) => taken += 1,
            Err(complaints) => {
                refused += 1;
                codes.extend(complaints.iter().map(|one| one.code.word().to_owned()));
                clear(&complaints, &text);
            }
        }
    }
    assert!(refused > 300, "{refused} refused, {taken} taken: the faults are too mild to show anything");
    assert!(codes.len() > 30, "too few kinds of complaints were met: {codes:?}");
}

/// A clear complaint: it is an error, says something, points into the manifest, and never blames redtag itself.
fn clear(complaints: &[Diagnostic], text: &str) {
    assert!(complaints.iter().any(Diagnostic::is_error), "refused without an error: {text}");
    for complaint in complaints {
        let shown = complaint.render(crate::diagnostic::Paint::Plain);
        assert!(complaint.message.len() > 10, "{shown}");
        assert_ne!(complaint.code.word(), "reader-disagrees", "{shown}\n{text}");
        let placed = complaint.primary.is_some() || matches!(complaint.code.word(), "missing-pack" | "more-complaints");
        assert!(placed, "no place: {shown}\n{text}");
    }
}
