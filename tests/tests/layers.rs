//! One house under a model code, a state and a county: layers, ordinances, days, through the program.

mod program_support;

use program_support::{Bench, Outcome, answering, finding, said};
use redtag_schema::contract::Outcome as Answer;
use redtag_schema::review::Reviews;
use serde_json::{Value, json};
use std::error::Error;

/// A model code with two rules that are both broken: `hostile/shutoff`, whose parameter `reach` a pack may set, and
/// `hostile/bonding`.
fn bench() -> Result<Bench, Box<dyn Error>> {
    let bench = Bench::new()?;
    bench.project("house.json", "")?;
    let answer =
        json!({"schema": 1, "findings": [finding("shutoff", 0, "correction", "its shutoff is out of reach")]}).to_string();
    let shutoff = with_parameter("shutoff", &answer)?;
    let (_, bonding) = answering("bonding", &[finding("bonding", 1, "correction", "is not bonded")])?;
    bench.pack("model", &[("shutoff", shutoff), ("bonding", bonding)])?;
    Ok(bench)
}

/// The module that always answers the same, with a parameter in its description.
fn with_parameter(name: &str, answer: &str) -> Result<Vec<u8>, Box<dyn Error>> {
    const READS: &str = r#"\"reads\":[\"/equipment\"]"#;
    let parameter = json!([{
        "name": "reach", "purpose": "How far away a shutoff may be.", "kind": {"quantity": "length"},
        "default": "6 ft", "least": "1 ft", "most": "10 ft", "source": "made up for tests",
    }]);
    let parameter = format!("{READS},\\\"parameters\\\":{}", parameter.to_string().replace('"', "\\\""));
    let bytes: String = answer.bytes().map(|byte| format!("\\{byte:02x}")).collect();
    let review = format!(
        "(data (i32.const 65536) \"{bytes}\")
         (func (export \"review\") (param $request i32) (param $size i32) (result i32)
           (call $answer (i32.const 0) (i32.const 65536) (i32.const {})))",
        answer.len()
    );
    let frame = std::fs::read_to_string(redtag_tests::hostile_folder().join("frame.wat"))?;
    assert!(frame.contains(READS), "the frame's description has changed");
    let text = frame.replace(READS, &parameter).replace("@name", name).replace("@review", &review);
    Ok(redtag_tests::guest(name, &text)?)
}

/// A pack of amendments only.
fn layer(bench: &Bench, name: &str, below: &str, more: Value, amendments: Value) -> Outcome {
    let mut manifest = json!({
        "schema": 1, "name": name, "version": "1.0.0", "title": format!("{name}, invented"), "authority": {"name": "Nobody"},
        "stands_on": {"name": below, "version": "^1"}, "contract": "1.0", "amendments": amendments,
    });
    for (field, value) in more.as_object().into_iter().flatten() {
        manifest[field.as_str()] = value.clone();
    }
    bench.write(&format!("{name}/pack.json"), format!("{manifest:#}\n"))?;
    Ok(())
}

fn amendment(rule: &str, change: Value, ordinance: &str) -> Value {
    let mut amendment = json!({"rule": format!("hostile/{rule}")});
    for (field, value) in change.as_object().into_iter().flatten() {
        amendment[field.as_str()] = value.clone();
    }
    amendment["ordinance"] = json!({"document": ordinance, "section": "3"});
    amendment
}

/// A state that relaxes one rule, and a county on it that withdraws the other and moves the shutoff.
fn state_and_county(bench: &Bench) -> Outcome {
    let relax = amendment("shutoff", json!({"change": "relax"}), "State Act 7");
    layer(bench, "state", "model", json!({}), json!([relax]))?;
    let set = json!({"change": "set", "parameter": "reach", "value": "3 ft", "in_force": {"from": "2025-02-01"}});
    let cite = json!({"change": "cite", "instead": true, "citations": [{"document": "County Code", "section": "12.4"}]});
    let amendments = json!([
        amendment("bonding", json!({"change": "withdraw"}), "Ordinance 5"),
        amendment("shutoff", set, "Ordinance 9"),
        amendment("shutoff", cite, "Ordinance 9"),
    ]);
    layer(bench, "county", "state", json!({"in_force": {"from": "2024-01-01", "until": "2026-12-31"}}), amendments)
}

/// The arguments of a review by some packs.
fn by<'a>(command: &[&'a str], packs: &[&'a str]) -> Vec<&'a str> {
    let packs = packs.iter().flat_map(|pack| ["--packs", pack]);
    command.iter().copied().chain(packs).collect()
}

fn review(bench: &Bench, packs: &[&str]) -> Result<(i32, Reviews), Box<dyn Error>> {
    let (code, out, err) = said(&mut bench.redtag(&by(&["review", "house.json", "--format", "json"], packs)));
    assert_eq!(err, "");
    Ok((code, serde_json::from_str(&out)?))
}

#[test]
fn three_layers_give_three_reviews_and_each_difference_names_its_ordinance() -> Outcome {
    let bench = bench()?;
    state_and_county(&bench)?;
    let told = |reviews: &Reviews| {
        let findings = reviews.reviews[0].findings.iter();
        findings.map(|one| (one.rule.clone(), one.outcome, one.because.clone())).collect::<Vec<_>>()
    };
    let (shutoff, bonding) = ("hostile/shutoff".to_owned(), "hostile/bonding".to_owned());

    let (code, model) = review(&bench, &["model"])?;
    assert_eq!(code, 1);
    let as_shipped = [(bonding.clone(), Answer::Correction, vec![]), (shutoff.clone(), Answer::Correction, vec![])];
    assert_eq!(told(&model), as_shipped);

    let (code, state) = review(&bench, &["model", "state"])?;
    assert_eq!(code, 1);
    let relaxed = "a breach is advice: state 1.0.0, State Act 7 section 3".to_owned();
    let under_state = [(bonding, Answer::Correction, vec![]), (shutoff.clone(), Answer::Advice, vec![relaxed.clone()])];
    assert_eq!(told(&state), under_state);

    let (code, county) = review(&bench, &["model", "state", "county"])?;
    assert_eq!(code, 0);
    let set = "reach is 3 ft (was 6 ft): county 1.0.0, Ordinance 9 section 3, since 2025-02-01".to_owned();
    let cites = "cites County Code 12.4 instead: county 1.0.0, Ordinance 9 section 3, since 2024-01-01".to_owned();
    assert_eq!(told(&county), [(shutoff, Answer::Advice, vec![relaxed, set, cites])]);
    assert_eq!(county.reviews[0].findings[0].citations[0].section, "12.4");
    let packs: Vec<&str> = county.reviews[0].packs.iter().map(|pack| pack.name.as_str()).collect();
    assert_eq!(packs, ["model", "state", "county"]);
    Ok(())
}

#[test]
fn the_order_packs_are_named_in_makes_no_difference() -> Outcome {
    let bench = bench()?;
    state_and_county(&bench)?;
    for command in [&["review", "house.json", "--format", "json"][..], &["rulebook", "--as-of", "2025-06-01", "--format", "json"]]
    {
        let first = said(&mut bench.redtag(&by(command, &["model", "state", "county"])));
        assert!(first.1.contains("Ordinance 9"), "{}{}", first.1, first.2);
        for packs in [["county", "state", "model"], ["state", "model", "county"]] {
            assert_eq!(said(&mut bench.redtag(&by(command, &packs))), first);
        }
    }
    Ok(())
}

#[test]
fn the_law_is_that_of_the_day() -> Outcome {
    let bench = bench()?;
    state_and_county(&bench)?;
    let on = |day: &str| {
        let command = ["review", "house.json", "--format", "json", "--as-of", day];
        said(&mut bench.redtag(&by(&command, &["model", "state", "county"])))
    };
    let (_, before, _) = on("2025-01-31");
    let (_, after, _) = on("2025-02-01");
    assert!(!before.contains("reach is 3 ft") && after.contains("reach is 3 ft"), "{before}\n{after}");
    for (day, words) in [("2023-12-31", "is not yet in force on 2023-12-31"), ("2027-01-01", "has lapsed on 2027-01-01")] {
        let (code, out, err) = on(day);
        // The report names the file it refuses and reviews nothing.
        let reports: Value = serde_json::from_str(&out)?;
        assert_eq!((code, reports["reviews"].as_array().map_or(0, Vec::len)), (2, 0));
        let err = unwrapped(&err);
        assert!(err.contains(words) && err.contains("county/pack.json"), "{err}");
    }
    Ok(())
}

/// Lines are wrapped to the width of the screen.
fn unwrapped(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn layers_that_fight_stop_the_review_and_are_both_named() -> Outcome {
    let bench = bench()?;
    for (name, reach) in [("county", "3 ft"), ("utility", "4 ft")] {
        let set = amendment("shutoff", json!({"change": "set", "parameter": "reach", "value": reach}), "Ordinance 1");
        layer(&bench, name, "model", json!({}), json!([set]))?;
    }
    let (code, out, err) = said(&mut bench.redtag(&by(&["review", "house.json"], &["model", "county", "utility"])));
    assert!(code == 2 && out.starts_with("house.json  cannot be reviewed"), "{out}");
    let err = unwrapped(&err);
    assert!(err.contains("county/pack.json:") && err.contains("utility/pack.json:") && err.contains("`reach`"), "{err}");
    Ok(())
}

#[test]
fn a_fault_in_a_layer_is_shown_at_its_line() -> Outcome {
    let bench = bench()?;
    let set = amendment("shutoff", json!({"change": "set", "parameter": "reach", "value": "3 psi"}), "Ordinance 1");
    layer(&bench, "county", "model", json!({}), json!([set]))?;
    let (code, out, err) = said(&mut bench.redtag(&by(&["review", "house.json"], &["model", "county"])));
    assert!(code == 2 && out.starts_with("house.json  cannot be reviewed"), "{out}");
    let err = unwrapped(&err);
    let text = std::fs::read_to_string(bench.path().join("county/pack.json"))?;
    let line = text.lines().position(|line| line.contains("3 psi")).ok_or("the value stands in the manifest")? + 1;
    assert!(err.contains(&format!("county/pack.json:{line}:")) && err.contains("pressure"), "{err}");
    Ok(())
}

#[test]
fn a_changed_byte_stops_the_review_before_any_rule_runs() -> Outcome {
    let bench = bench()?;
    let module = bench.path().join("model/modules/bonding.wasm");
    let mut bytes = std::fs::read(&module)?;
    let last = bytes.len() - 1;
    bytes[last] ^= 1;
    std::fs::write(&module, bytes)?;
    let (code, out, err) = said(&mut bench.redtag(&by(&["review", "house.json"], &["model"])));
    assert_eq!((code, out.as_str()), (2, ""));
    let err = unwrapped(&err);
    assert!(err.contains("modules/bonding.wasm") && err.contains("SHA-256"), "{err}");
    Ok(())
}

#[test]
fn a_folder_and_its_archive_give_the_same_review() -> Outcome {
    let bench = bench()?;
    bench.write("model.zip", redtag_module_builder::seal(&bench.path().join("model"))?)?;
    let by_folder = said(&mut bench.redtag(&by(&["review", "house.json", "--format", "json"], &["model"])));
    let by_archive = said(&mut bench.redtag(&by(&["review", "house.json", "--format", "json"], &["model.zip"])));
    assert_eq!(by_folder.0, 1, "{}", by_folder.2);
    assert_eq!(by_folder, by_archive);
    Ok(())
}
