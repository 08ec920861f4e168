//! The formats a repository's gate reads: SARIF, JUnit, annotations, code quality, the Markdown summary.
//!
//! What they look like is held on a demo house under a pack that never changes; that they are sound, on all demo houses under the
//! base pack. SARIF is held against the schema of OASIS, `tests/fixtures/sarif-2.1.0.schema.json` (the committee's schema of
//! SARIF 2.1.0, `$id` inside, as the crate serde-sarif 0.8.0 ships it). The checks by programs that are not ours are in
//! `tests/outside/`.

mod program_support;

use program_support::{Bench, Outcome, answering, said};
use redtag_schema::contract::Outcome as Answer;
use redtag_schema::review::{ReviewedFinding, Reviews};
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

type Faulty<T> = Result<T, Box<dyn std::error::Error>>;

fn repository() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn house(name: &str) -> Faulty<String> {
    Ok(std::fs::read_to_string(repository().join("examples/houses").join(name))?)
}

/// A bench with the boatyard and a pack of three modules: one answers in each way there is, one fails.
fn frozen() -> Faulty<Bench> {
    let bench = Bench::new()?;
    let mut project: Value = serde_json::from_str(&house("boatyard.json")?)?;
    let fields = project.as_object_mut().ok_or("the house is no object")?;
    // The house stands under the frozen pack alone, whatever it names, and its wording may change.
    fields.retain(|name, _| !["$schema", "packs", "variances", "notes"].contains(&name.as_str()));
    fields.insert("name".to_owned(), "Boatyard dwelling".into());
    bench.write("houses/boatyard.json", format!("{project:#}\n"))?;
    let at = |id: &str| -> Faulty<usize> {
        let items = project["equipment"].as_array().ok_or("the house has no equipment")?;
        Ok(items.iter().position(|item| item["id"] == id).ok_or(format!("the house has no {id}"))?)
    };
    let finding = |id: &str, label: &str, outcome: &str, summary: Value| -> Faulty<Value> {
        let subject = json!({"pointer": format!("/equipment/{}", at(id)?), "id": id, "label": label});
        Ok(json!({"rule": "hostile/house", "outcome": outcome, "subject": subject, "summary": summary}))
    };
    let length = |si: f64| json!({"kind": "length", "si": si});
    let mut correction = finding(
        "boiler",
        "Boiler",
        "correction",
        json!({"template": "{0} in front, {1} is needed", "amounts": [length(0.5334), length(0.762)]}),
    )?;
    correction["worksheet"] = json!([
        {"label": "in front", "text": {"template": "{0} is at least {1}", "amounts": [length(0.5334), length(0.762)]}, "holds": false, "source": "made up for tests"}
    ]);
    correction["remedies"] = json!([
        {"words": {"template": "move it back by {0}", "amounts": [length(0.2286)]}}, {"words": {"template": "turn it round"}}
    ]);
    let mut unresolved =
        finding("unit-heater", "Unit heater", "unresolved", json!({"template": "cannot tell: one fact is missing"}))?;
    unresolved["missing"] =
        json!([{"pointer": format!("/equipment/{}/weight", at("unit-heater")?), "what": "What it weighs, 100 % full"}]);
    let findings = [
        correction,
        unresolved,
        finding("brine-tank", "Brine tank", "advice", json!({"template": "<b>| drain it: before winter, {{always}}"}))?,
        finding("boiler", "Boiler", "complies", json!({"template": "stands on the floor"}))?,
        finding("unit-heater", "Unit heater", "not-applicable", json!({"template": "hangs"}))?,
    ];
    let (name, wasm) = answering("house", &findings)?;
    bench.pack("frozen", &[(&name, wasm), ("panics", redtag_tests::hostile("panics")?)])?;
    Ok(bench)
}

/// The report of the frozen pack, with what changes when it is assembled by another version put aside.
fn shown(format: &str) -> Faulty<String> {
    let bench = frozen()?;
    let review = ["review", "houses/boatyard.json", "--packs", "frozen", "--format"];
    let (code, json, err) = said(bench.redtag(&review).arg("json"));
    assert_eq!((code, err.as_str()), (3, ""), "{json}");
    let reviews: Reviews = serde_json::from_str(&json)?;
    let (code, out, err) = said(bench.redtag(&review).args([format, "--output", "report"]));
    assert_eq!((code, out.as_str(), err.as_str()), (3, "", ""));
    let report = std::fs::read_to_string(bench.path().join("report"))?;
    let (_, printed, _) = said(bench.redtag(&review).args([format, "--jobs", "1"]));
    assert_eq!(printed, report, "the same bytes every time and everywhere");
    let digest = &reviews.reviews[0].packs[0].digest;
    Ok(report.replace(digest, "DIGEST").replace(&format!("\"{}\"", reviews.tool.version), "\"VERSION\""))
}

#[test]
fn sarif_of_a_demo_house_reads_like_this() -> Outcome {
    insta::assert_snapshot!(shown("sarif")?);
    Ok(())
}

#[test]
fn junit_of_a_demo_house_reads_like_this() -> Outcome {
    insta::assert_snapshot!(shown("junit")?);
    Ok(())
}

#[test]
fn annotations_of_a_demo_house_read_like_this() -> Outcome {
    insta::assert_snapshot!(shown("github")?);
    Ok(())
}

#[test]
fn code_quality_of_a_demo_house_reads_like_this() -> Outcome {
    insta::assert_snapshot!(shown("gitlab")?);
    Ok(())
}

#[test]
fn the_summary_of_a_demo_house_reads_like_this() -> Outcome {
    insta::assert_snapshot!(shown("markdown")?);
    Ok(())
}

/// All demo houses in one format, run from the root of the repository.
fn all_houses(format: &str, more: &[&str]) -> Faulty<String> {
    let bench = Bench::new()?;
    let arguments = ["review", "examples/houses/*.json", "--format", format];
    let (code, out, err) = said(bench.redtag(&arguments).current_dir(repository()).args(more));
    assert!(code == 1 && err.is_empty(), "{code}: {err}");
    Ok(out)
}

fn reviews(more: &[&str]) -> Faulty<Reviews> {
    Ok(serde_json::from_str(&all_houses("json", more)?)?)
}

fn count(reviews: &Reviews, is: impl Fn(&ReviewedFinding) -> bool) -> usize {
    reviews.reviews.iter().flat_map(|review| &review.findings).filter(|finding| is(finding)).count()
}

fn asks(finding: &ReviewedFinding) -> bool {
    matches!(finding.outcome, Answer::Correction | Answer::Unresolved | Answer::Advice)
}

fn oasis_schema() -> Faulty<jsonschema::Validator> {
    let text = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/sarif-2.1.0.schema.json"))?;
    let mut schema: Value = serde_json::from_str(&text)?;
    // The committee's pattern for the language of a run has a bracket too many to be a pattern; we write no language.
    for holder in ["run", "toolComponent"] {
        let language = schema.pointer_mut(&format!("/definitions/{holder}/properties/language")).and_then(Value::as_object_mut);
        language.map(|language| language.remove("pattern")).ok_or("the schema is another one")?;
    }
    Ok(jsonschema::draft7::new(&schema)?)
}

#[test]
fn sarif_is_what_the_schema_of_oasis_says() -> Outcome {
    let schema = oasis_schema()?;
    for text in [all_houses("sarif", &[])?, all_houses("sarif", &["--strict", "--stage", "permit"])?, shown("sarif")?] {
        let log: Value = serde_json::from_str(&text)?;
        let faults: Vec<String> = schema.iter_errors(&log).map(|fault| format!("{}: {fault}", fault.instance_path())).collect();
        assert!(faults.is_empty(), "{faults:#?}");
    }
    let mut broken: Value = serde_json::from_str(&shown("sarif")?)?;
    broken["runs"][0]["results"][0]["locations"][0]["physicalLocation"]["region"]["startLine"] = 0.into();
    assert!(!schema.is_valid(&broken), "the schema notices a line that is none");
    Ok(())
}

/// What code scanning asks for beyond the schema (GitHub's page "SARIF support for code scanning").
#[test]
fn sarif_is_what_code_scanning_takes() -> Outcome {
    let log: Value = serde_json::from_str(&all_houses("sarif", &[])?)?;
    let run = &log["runs"][0];
    let rules = run["tool"]["driver"]["rules"].as_array().ok_or("no rules")?;
    for rule in rules {
        for text in [&rule["shortDescription"]["text"], &rule["fullDescription"]["text"]] {
            assert!(text.as_str().is_some_and(|text| !text.is_empty() && text.chars().count() <= 1_024), "{rule}");
        }
        let helps = [&rule["help"]["text"], &rule["help"]["markdown"]];
        assert!(helps.iter().all(|help| help.as_str().is_some_and(|help| help.contains("never approves"))), "{rule}");
    }
    let results = run["results"].as_array().ok_or("no results")?;
    let all = reviews(&[])?;
    let silent: usize = all.reviews.iter().map(|review| review.not_looked_at.unexplained().count()).sum();
    assert_eq!(results.len(), count(&all, asks) + silent);
    let mut prints = BTreeSet::new();
    for result in results {
        let at = usize::try_from(result["ruleIndex"].as_u64().ok_or("no index")?)?;
        assert_eq!(rules[at]["id"], result["ruleId"]);
        let print = result["partialFingerprints"]["primaryLocationLineHash"].as_str().ok_or("no fingerprint")?;
        assert!(prints.insert(print.to_owned()), "{print} twice");
        inside_its_file(&result["locations"][0]["physicalLocation"])?;
    }
    Ok(())
}

/// The region is a whole JSON value of the file.
fn inside_its_file(location: &Value) -> Outcome {
    let uri = location["artifactLocation"]["uri"].as_str().ok_or("no path")?;
    let text = std::fs::read_to_string(repository().join(uri))?;
    let lines: Vec<Vec<char>> = text.lines().map(|line| line.chars().collect()).collect();
    let number = |name: &str| usize::try_from(location["region"][name].as_u64().unwrap_or_default());
    let (line, column, end_line, end_column) =
        (number("startLine")?, number("startColumn")?, number("endLine")?, number("endColumn")?);
    let mut region: String = String::new();
    for at in line..=end_line {
        let whole = &lines[at - 1];
        let from = if at == line { column - 1 } else { 0 };
        let to = if at == end_line { end_column - 1 } else { whole.len() };
        region.extend(&whole[from..to]);
        region.push('\n');
    }
    serde_json::from_str::<Value>(&region).map_err(|error| format!("{location}: {error}: {region}"))?;
    Ok(())
}

#[test]
fn moving_lines_and_changing_numbers_keeps_every_fingerprint() -> Outcome {
    let prints = |text: &str| -> Faulty<BTreeSet<String>> {
        let log: Value = serde_json::from_str(text)?;
        let results = log["runs"][0]["results"].as_array().cloned().unwrap_or_default();
        let print = |result: &Value| result["partialFingerprints"]["primaryLocationLineHash"].to_string();
        Ok(results.iter().map(print).collect())
    };
    let bench = Bench::new()?;
    let mut seen = Vec::new();
    let text = house("boatyard.json")?;
    for text in [text.clone(), text.replace("{\n", "{\n\n\n")] {
        bench.write("house.json", &text)?;
        let (_, out, err) = said(&mut bench.redtag(&["review", "house.json", "--format", "sarif"]));
        assert_eq!(err, "");
        seen.push((prints(&out)?, out));
    }
    assert_eq!(seen[0].0, seen[1].0);
    assert!(seen[0].1 != seen[1].1 && seen[0].0.len() > 5);
    Ok(())
}

#[test]
fn junit_has_a_case_for_each_finding() -> Outcome {
    for strict in [&[][..], &["--strict"]] {
        let xml = all_houses("junit", strict)?;
        let reviews = reviews(strict)?;
        let fails = |one: &ReviewedFinding| {
            one.outcome == Answer::Correction || (!strict.is_empty() && one.outcome == Answer::Unresolved)
        };
        assert_eq!(xml.matches("<testcase ").count(), count(&reviews, |_| true));
        assert_eq!(xml.matches("<failure ").count(), count(&reviews, fails));
        assert!(xml.contains("/combustion-air\"") && !xml.contains("unknown"), "suites are named by pack and module");
    }
    Ok(())
}

#[test]
fn annotations_stay_within_their_limits() -> Outcome {
    let out = all_houses("github", &[])?;
    let mut of: BTreeMap<&str, usize> = BTreeMap::new();
    for line in out.lines().filter(|line| line.starts_with("::")) {
        let (head, message) = line[2..].split_once("::").ok_or("no message")?;
        let (weight, properties) = head.split_once(' ').ok_or("no place")?;
        *of.entry(weight).or_default() += 1;
        assert!(properties.contains("file=examples/houses/") && properties.contains(",title=") && !message.is_empty(), "{line}");
    }
    let corrections = count(&reviews(&[])?, |finding| finding.outcome == Answer::Correction);
    assert_eq!(of.get("error"), Some(&corrections.min(10)), "{out}");
    assert!(of.values().all(|count| *count <= 10));
    assert!(out.contains(&format!("{corrections} errors")) && out.contains("never approves"), "{out}");
    Ok(())
}

#[test]
fn code_quality_names_every_finding_once() -> Outcome {
    let entries: Vec<Value> = serde_json::from_str(&all_houses("gitlab", &[])?)?;
    assert_eq!(entries.len(), count(&reviews(&[])?, asks));
    let prints: BTreeSet<String> = entries.iter().map(|entry| entry["fingerprint"].to_string()).collect();
    assert_eq!(prints.len(), entries.len(), "the second finding of a fingerprint would be dropped");
    for entry in &entries {
        let severity = entry["severity"].as_str().ok_or("no severity")?;
        assert!(["info", "minor", "major", "critical", "blocker"].contains(&severity), "{entry}");
        assert!(entry["location"]["lines"]["begin"].as_u64() > Some(0) && entry["check_name"].is_string());
        assert!(repository().join(entry["location"]["path"].as_str().ok_or("no path")?).is_file(), "{entry}");
    }
    Ok(())
}

#[test]
fn the_summary_counts_and_warns() -> Outcome {
    let (out, reviews) = (all_houses("markdown", &[])?, reviews(&[])?);
    let corrections = count(&reviews, |finding| finding.outcome == Answer::Correction);
    assert_eq!(out.lines().filter(|line| line.starts_with("**correction**")).count(), corrections);
    assert!(out.len() < 1_048_576 && out.contains("never approves") && out.contains("**caution** Gas"), "{out}");
    assert_eq!(out.lines().filter(|line| line.starts_with("| examples/houses/")).count(), reviews.reviews.len());
    Ok(())
}
