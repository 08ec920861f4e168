//! A repository of houses behind a gate: only what a commit brings in fails it, and what has not changed is answered from the
//! cache. The houses are invented.

mod program_support;

use assert_cmd::Command;
use program_support::{Bench, Outcome, said};
use redtag_schema::contract::Outcome as Answer;
use redtag_schema::review::{ReviewedFinding, Reviews};
use serde_json::Value;
use std::error::Error;
use std::path::PathBuf;

const HOUSES: usize = 50;
const BROKEN: &str = "houses/house-17.json";
/// The line of the water heater.
const LINE: usize = 8;

fn house(number: usize) -> String {
    let appliance = |id: &str, kind: &str, input: &str| {
        format!(
            r#"    {{ "id": "{id}", "kind": "{kind}", "fuel_burning": {{ "plate": {{ "fuel": "natural-gas", "input": "{input} Btu/h", "manifold_pressure": "3.5 in wc" }} }} }}"#
        )
    };
    let lines = [
        "{".to_owned(),
        "  \"schema\": 1,".to_owned(),
        format!("  \"name\": \"Heron Row {number}\","),
        "  \"application_date\": \"2025-03-14\",".to_owned(),
        format!("  \"site\": {{ \"elevation\": \"{} ft\" }},", 600 + number),
        "  \"equipment\": [".to_owned(),
        appliance("furnace", "furnace", "80,000") + ",",
        appliance("water-heater", "storage-water-heater", "40,000"),
        "  ],".to_owned(),
        "  \"gas\": { \"supply\": { \"kind\": \"meter\", \"fuel\": \"natural-gas\", \"pressure\": \"7 in wc\" } }".to_owned(),
        "}\n".to_owned(),
    ];
    lines.join("\n")
}

/// Two commits: sound houses, then one whose water heater is for propane.
fn repository() -> Result<Bench, Box<dyn Error>> {
    let bench = Bench::new()?;
    for number in 1..=HOUSES {
        bench.write(&format!("houses/house-{number:02}.json"), house(number))?;
    }
    bench.write(".gitignore", "/cache\n/*.out\n")?;
    git(&bench, &["init", "--quiet"]);
    commit(&bench, "Fifty sound houses");
    change(&bench, str::to_owned, "natural-gas", "propane")?;
    commit(&bench, "Another water heater");
    Ok(bench)
}

/// Changes the broken house: the text as a whole, then a word on the water heater's line.
fn change(bench: &Bench, whole: impl Fn(&str) -> String, from: &str, to: &str) -> Outcome {
    let path = bench.path().join(BROKEN);
    let text = std::fs::read_to_string(&path)?;
    let lines: Vec<String> =
        text.lines().map(|line| if line.contains("water-heater") { line.replace(from, to) } else { line.to_owned() }).collect();
    std::fs::write(path, whole(&(lines.join("\n") + "\n")))?;
    Ok(())
}

fn git(bench: &Bench, arguments: &[&str]) {
    let mut command = Command::new("git");
    command.current_dir(bench.path()).args(["-c", "user.name=Nobody", "-c", "user.email=nobody@example.org"]).args(arguments);
    for name in ["GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE"] {
        command.env_remove(name);
    }
    command.env("GIT_CONFIG_GLOBAL", bench.path().join("no-such-file")).env("GIT_CONFIG_NOSYSTEM", "1");
    command.assert().success();
}

fn commit(bench: &Bench, words: &str) {
    git(bench, &["add", "."]);
    git(bench, &["commit", "--quiet", "--message", words]);
}

fn gate(bench: &Bench, more: &[&str]) -> (i32, String, String) {
    said(bench.redtag(&["review", "houses/*.json"]).args(more))
}

fn reviews(bench: &Bench, more: &[&str]) -> Result<(i32, Reviews), Box<dyn Error>> {
    let (code, out, err) = gate(bench, &[&["--format", "json"], more].concat());
    assert_eq!(err, "");
    Ok((code, serde_json::from_str(&out)?))
}

fn fresh(reviews: &Reviews) -> Vec<(&str, &ReviewedFinding)> {
    let all = reviews.reviews.iter().flat_map(|review| review.findings.iter().map(|one| (review.file.as_str(), one)));
    all.filter(|(_, finding)| !finding.known && finding.outcome == Answer::Correction).collect()
}

/// The same with a cache of its own.
fn gate_alone(bench: &Bench, more: &[&str]) -> (i32, String, String) {
    said(bench.redtag(&["review", "houses/*.json"]).args(more).env("REDTAG_CACHE", bench.path().join("cache")))
}

/// How often the cache had an answer, and how often it had none.
fn hits_and_misses(bench: &Bench, more: &[&str]) -> (usize, usize) {
    let (_, _, log) = gate_alone(bench, &[&["--log", "redtag=debug", "--color", "never"], more].concat());
    (log.matches("result cache: hit").count(), log.matches("result cache: miss").count())
}

#[test]
fn the_gate_fails_on_the_line_that_broke_and_on_no_other() -> Outcome {
    let bench = repository()?;
    let (code, found) = reviews(&bench, &["--base", "HEAD~1"])?;
    assert_eq!((code, found.reviews.len()), (1, HOUSES));
    let new = fresh(&found);
    let places: Vec<(&str, usize, usize)> = new.iter().map(|(file, one)| (*file, one.place.line, one.place.end_line)).collect();
    assert_eq!(places, [(BROKEN, LINE, LINE)]);
    let others = found.reviews.iter().filter(|review| review.file != BROKEN).flat_map(|review| &review.findings);
    assert!(others.clone().count() > HOUSES && others.clone().all(|finding| finding.known));
    assert!(found.reviews.iter().all(|review| review.since.as_deref() == Some("HEAD~1")));

    let (code, out, _) = gate(&bench, &["--base", "HEAD~1", "--format", "sarif"]);
    let log: Value = serde_json::from_str(&out)?;
    let results = log["runs"].as_array().into_iter().flatten().flat_map(|run| run["results"].as_array().into_iter().flatten());
    let errors: Vec<&Value> = results.filter(|one| one["level"] == "error" && one["baselineState"] == "new").collect();
    let [error] = errors.as_slice() else { return Err(format!("{errors:#?}").into()) };
    let place = &error["locations"][0]["physicalLocation"];
    assert_eq!((code, &place["region"]["startLine"]), (1, &Value::from(LINE)));
    assert!(place["artifactLocation"]["uri"].as_str().is_some_and(|uri| uri.ends_with(BROKEN)), "{place}");
    Ok(())
}

#[test]
fn lines_that_move_are_not_new_and_a_file_without_a_past_is() -> Outcome {
    let bench = repository()?;
    change(&bench, |text| text.replacen("  \"schema\"", "\n\n\n  \"schema\"", 1), "propane", "propane")?;
    let (code, found) = reviews(&bench, &["--base", "HEAD"])?;
    assert_eq!((code, fresh(&found).len()), (0, 0));
    let (_, out, _) = said(&mut bench.redtag(&["review", BROKEN, "--base", "HEAD"]));
    assert!(out.contains("total  1 correction (1 of them known since HEAD), ") && out.contains("known     since HEAD"), "{out}");

    std::fs::copy(bench.path().join(BROKEN), bench.path().join("houses/another.json"))?;
    let (code, found) = reviews(&bench, &["--base", "HEAD"])?;
    assert_eq!((code, fresh(&found)[0].0), (1, "houses/another.json"));
    Ok(())
}

#[test]
fn an_earlier_report_is_a_base_too() -> Outcome {
    let bench = repository()?;
    assert_eq!(gate(&bench, &["--format", "json", "--output", "before.out"]).0, 1);
    assert_eq!(gate(&bench, &["--base", "before.out"]).0, 0);
    change(&bench, str::to_owned, "\"water-heater\"", "\"heater\"")?;
    assert_eq!(gate(&bench, &["--base", "before.out"]).0, 1);
    // From another folder the same files have other names.
    let folder: PathBuf = bench.path().join("houses");
    assert_eq!(said(bench.redtag(&["review", "house-16.json", "--base", "../before.out"]).current_dir(folder)).0, 0);
    bench.write("broken.out", "{}")?;
    let (code, out, err) = gate(&bench, &["--base", "broken.out"]);
    assert_eq!((code, out.as_str()), (2, ""));
    assert!(err.contains("broken.out is no earlier report"), "{err}");
    Ok(())
}

#[test]
fn a_base_that_is_not_there_is_told_before_anything_is_reviewed() -> Outcome {
    let bench = repository()?;
    for revision in ["HEAD~7", "no-such-branch", "--upload-pack=x", ""] {
        let (code, out, err) = gate(&bench, &[&format!("--base={revision}")]);
        assert_eq!((code, out.as_str()), (2, ""), "{revision}");
        assert!(err.contains("the repository knows no revision") && !err.contains("panicked"), "{revision}: {err}");
    }
    let outside = Bench::new()?;
    outside.write("houses/house.json", house(1))?;
    let (code, _, err) = gate(&outside, &["--base", "HEAD"]);
    assert!(code == 2 && err.contains("not a git repository"), "{err}");
    let (code, _, err) = said(bench.redtag(&["review", BROKEN, "--base", "HEAD"]).env("PATH", bench.path()));
    assert!(code == 2 && err.contains("git cannot be started"), "{err}");
    Ok(())
}

#[test]
fn what_has_not_changed_comes_from_the_cache() -> Outcome {
    let bench = repository()?;
    git(&bench, &["checkout", "--quiet", "HEAD~1"]);
    let (hits, asked) = hits_and_misses(&bench, &[]);
    assert!(hits == 0 && asked >= HOUSES, "{hits} and {asked}");
    assert_eq!(hits_and_misses(&bench, &[]), (asked, 0));
    git(&bench, &["checkout", "--quiet", "-"]);
    let each = asked / HOUSES;
    assert_eq!(hits_and_misses(&bench, &[]), (asked - each, each));
    // Another stage and another day are other questions, though nobody's answer changes by them.
    assert_eq!(hits_and_misses(&bench, &["--stage", "final"]).0, 0);
    assert_eq!(hits_and_misses(&bench, &["--as-of", "2025-03-15"]).0, 0);
    // What is kept in memory for the length of a run starts empty.
    assert_eq!(hits_and_misses(&bench, &["--no-cache"]), (0, asked));
    Ok(())
}

#[test]
fn the_cache_changes_no_byte_whatever_happened_to_it() -> Outcome {
    let bench = repository()?;
    let run = |more: &[&str]| gate_alone(&bench, &[&["--format", "json"], more].concat()).1;
    let plain = run(&["--no-cache"]);
    assert_eq!(run(&[]), plain);
    assert_eq!(run(&[]), plain);
    for (number, entry) in std::fs::read_dir(bench.path().join("cache/kept"))?.enumerate() {
        let path = entry?.path();
        let mut bytes = std::fs::read(&path)?;
        match number % 4 {
            0 => bytes.truncate(bytes.len() / 2),
            1 => bytes.clear(),
            2 => bytes.iter_mut().rev().take(40).for_each(|byte| *byte = byte.wrapping_add(1)),
            _ => continue,
        }
        std::fs::write(&path, bytes)?;
    }
    assert_eq!(run(&[]), plain);
    assert_eq!(run(&["--jobs", "1"]), plain);
    Ok(())
}

#[test]
fn all_at_once_say_what_each_says_alone() -> Outcome {
    let bench = repository()?;
    let (_, all) = reviews(&bench, &[])?;
    for name in ["houses/house-01.json", BROKEN, "houses/house-50.json"] {
        let (_, out, _) = said(&mut bench.redtag(&["review", name, "--format", "json"]));
        let alone: Reviews = serde_json::from_str(&out)?;
        let among = all.reviews.iter().find(|review| review.file == name);
        assert_eq!(Some(&alone.reviews[0]), among);
    }
    Ok(())
}

#[test]
fn strictness_begins_at_its_stage() -> Outcome {
    let bench = repository()?;
    let code = |more: &[&str]| said(bench.redtag(&["review", "houses/house-01.json"]).args(more)).0;
    assert_eq!(code(&["--strict-from", "rough-in"]), 0);
    assert_eq!(code(&["--strict-from", "rough-in", "--stage", "rough-in"]), 1);
    assert_eq!(code(&["--strict-from", "rough-in", "--stage", "final"]), 1);
    assert_eq!(code(&["--strict-from", "permit"]), 1);
    assert_eq!(code(&["--strict-from", "permit", "--base", "HEAD"]), 0);
    assert_eq!(code(&["--strict", "--strict-from", "final"]), 2);
    Ok(())
}
