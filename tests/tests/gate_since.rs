//! What is new since a revision: the law told from the drawing, files and ids followed where they were renamed, a correction that
//! was made untellable, what stops a gate. The houses are invented.

mod program_support;

use assert_cmd::Command;
use program_support::{Bench, Outcome, answering, finding, said};
use redtag_schema::contract::Outcome as Answer;
use redtag_schema::review::{Change, Review, Reviews};
use serde_json::{Value, json};
use std::error::Error;

type Faulty<T> = Result<T, Box<dyn Error>>;

fn git(bench: &Bench, arguments: &[&str]) {
    let mut command = Command::new("git");
    command.current_dir(bench.path()).args(["-c", "user.name=Nobody", "-c", "user.email=nobody@example.org"]).args(arguments);
    for name in ["GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE"] {
        command.env_remove(name);
    }
    command.env("GIT_CONFIG_GLOBAL", bench.path().join("no-such-file")).env("GIT_CONFIG_NOSYSTEM", "1");
    command.assert().success();
}

fn commit(bench: &Bench) {
    git(bench, &["add", "--all", "."]);
    git(bench, &["commit", "--quiet", "--message", "A state"]);
}

/// A county above a base that finds two things, one of which the county may withdraw.
fn county(bench: &Bench, withdrawn: &[&str]) -> Outcome {
    let amendment = |rule: &&str| json!({"change": "withdraw", "rule": rule, "ordinance": {"document": "Ordinance 7"}});
    let manifest = json!({
        "schema": 1, "name": "county", "version": "1.0.0", "title": "t", "authority": {"name": "Nobody"}, "contract": "1.0",
        "stands_on": {"name": "base", "version": "*"}, "amendments": withdrawn.iter().map(amendment).collect::<Vec<_>>(),
    });
    bench.write("houses/packs/county/pack.json", format!("{manifest:#}\n"))?;
    Ok(())
}

fn repository() -> Faulty<Bench> {
    let bench = Bench::new()?;
    git(&bench, &["init", "--quiet"]);
    let (_, bonding) = answering("bonding", &[finding("bonding", 1, "correction", "is not bonded")])?;
    let (_, access) = answering("access", &[finding("access", 0, "correction", "cannot be reached")])?;
    bench.pack("houses/packs/base", &[("bonding", bonding), ("access", access)])?;
    let path = "houses/packs/base/pack.json";
    let text = std::fs::read_to_string(bench.path().join(path))?.replace("houses/packs/base", "base");
    bench.write(path, text)?;
    Ok(bench)
}

fn reviewed(bench: &Bench, files: &str, more: &[&str]) -> Faulty<(i32, Vec<Review>)> {
    let command = [&["review", files, "--base", "HEAD", "--format", "json"], more].concat();
    let (code, out, err) = said(&mut bench.redtag(&command));
    let reviews: Reviews = serde_json::from_str(&out).map_err(|error| format!("{error}: {err}"))?;
    assert_eq!(err, "");
    Ok((code, reviews.reviews))
}

/// What brought each correction, by rule.
fn brought(review: &Review) -> Vec<(&str, Option<&Change>)> {
    let corrections = review.findings.iter().filter(|one| one.outcome == Answer::Correction);
    corrections.map(|one| (one.rule.as_str(), if one.known { None } else { one.brought_by.as_ref() })).collect()
}

const COUNTY: &str = "\n  \"packs\": [{\"name\": \"county\"}],";

#[test]
fn new_law_is_told_from_a_new_drawing() -> Outcome {
    let bench = repository()?;
    bench.project("houses/a.json", COUNTY)?;
    county(&bench, &["hostile/bonding"])?;
    commit(&bench);
    county(&bench, &[])?;
    let (code, reviews) = reviewed(&bench, "houses/a.json", &[])?;
    assert_eq!(code, 1);
    assert_eq!(brought(&reviews[0]), [("hostile/bonding", Some(&Change::Law)), ("hostile/access", None)]);
    let then: Vec<&str> = reviews[0].before.packs.iter().map(|pack| pack.name.as_str()).collect();
    assert_eq!(then, ["base", "county"]);
    assert_eq!(reviewed(&bench, "houses/a.json", &["--fail-on", "drawing"])?.0, 0, "new law alone does not stop it");
    assert_eq!(reviewed(&bench, "houses/a.json", &["--fail-on", "all,drawing"])?.0, 1, "what was there before does");
    let (_, out, _) = said(&mut bench.redtag(&["review", "houses/a.json", "--base", "HEAD"]));
    let unwrapped = out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(unwrapped.contains("by the law: the project as it was at HEAD would have it too"), "{out}");
    assert!(unwrapped.contains("1 new by the law") && unwrapped.contains("the rulebook was base 1.0.0"), "{out}");
    // A house that was changed too: the same law, and the drawing brings nothing of its own.
    bench.project("houses/a.json", &format!("{COUNTY}\n  \"site\": {{\"elevation\": \"9 ft\"}},"))?;
    let (_, reviews) = reviewed(&bench, "houses/a.json", &[])?;
    assert_eq!(brought(&reviews[0]), [("hostile/bonding", Some(&Change::Law)), ("hostile/access", None)]);
    // What a laxer law takes away is gone by the law.
    commit(&bench);
    county(&bench, &["hostile/bonding", "hostile/access"])?;
    let (code, reviews) = reviewed(&bench, "houses/a.json", &[])?;
    assert_eq!(code, 0);
    let gone: Vec<_> = reviews[0].before.gone.iter().map(|one| (one.rule.as_str(), one.by_law)).collect();
    assert_eq!(gone, [("hostile/access", true), ("hostile/bonding", true)]);
    Ok(())
}

#[test]
fn a_project_that_drops_its_county_says_what_went_with_it() -> Outcome {
    let bench = repository()?;
    bench.project("houses/a.json", COUNTY)?;
    county(&bench, &[])?;
    commit(&bench);
    bench.project("houses/a.json", "\n  \"packs\": [{\"name\": \"base\"}],")?;
    let (_, reviews) = reviewed(&bench, "houses/a.json", &[])?;
    assert!(!reviews[0].before.packs.is_empty());
    assert!(brought(&reviews[0]).iter().all(|(_, by)| by.is_none()), "{:?}", brought(&reviews[0]));
    Ok(())
}

#[test]
fn a_house_under_another_name_in_another_folder_is_the_house_it_was() -> Outcome {
    let bench = repository()?;
    county(&bench, &[])?;
    bench.project("houses/a.json", COUNTY)?;
    bench.project("houses/b.json", &format!("{COUNTY}\n  \"site\": {{\"address\": \"2 Heron Row\"}},"))?;
    commit(&bench);
    git(&bench, &["mv", "houses/a.json", "houses/other.json"]);
    // Renamed ids: by what they are, and by where they stand.
    let text = std::fs::read_to_string(bench.path().join("houses/other.json"))?;
    bench.write("houses/other.json", text.replace("\"b-1\"", "\"boiler\"").replace("\"p-1\"", "\"panel\""))?;
    let (code, reviews) = reviewed(&bench, "houses/*.json", &[])?;
    assert_eq!(code, 0);
    assert!(reviews.iter().all(|review| brought(review).iter().all(|(_, by)| by.is_none())));
    let other = reviews.iter().find(|review| review.file == "houses/other.json").ok_or("a review")?;
    assert_eq!(other.before.file.as_deref(), Some("houses/a.json"));
    assert_eq!(other.before.ids.get("b-1").map(String::as_str), Some("boiler"));
    // A copy is another house: the first is still there.
    git(&bench, &["mv", "houses/other.json", "houses/a.json"]);
    std::fs::copy(bench.path().join("houses/b.json"), bench.path().join("houses/copy.json"))?;
    let (code, reviews) = reviewed(&bench, "houses/copy.json", &[])?;
    assert_eq!((code, reviews[0].before.file.as_deref()), (1, None));
    Ok(())
}

/// A water heater for the wrong gas.
fn wrong_gas() -> Value {
    json!({
        "schema": 1, "name": "Heron Row 3", "application_date": "2025-03-14", "site": {"elevation": "600 ft"},
        "equipment": [{"id": "wh-1", "kind": "storage-water-heater", "fuel_burning": {"plate": {
            "fuel": "propane", "input": "40,000 Btu/h", "manifold_pressure": "3.5 in wc"}}}],
        "gas": {"supply": {"kind": "meter", "fuel": "natural-gas", "pressure": "7 in wc"}},
    })
}

#[test]
fn a_fact_taken_away_hides_no_correction() -> Outcome {
    let bench = Bench::new()?;
    git(&bench, &["init", "--quiet"]);
    let mut house = wrong_gas();
    bench.write("house.json", format!("{house:#}"))?;
    commit(&bench);
    let (code, before) = reviewed(&bench, "house.json", &[])?;
    assert_eq!(code, 0);
    assert!(brought(&before[0]).iter().any(|(rule, _)| rule.starts_with("fuel-match/")), "{:?}", brought(&before[0]));
    house["equipment"][0]["fuel_burning"]["plate"].as_object_mut().ok_or("a plate")?.remove("fuel");
    bench.write("house.json", format!("{house:#}"))?;
    let (code, after) = reviewed(&bench, "house.json", &[])?;
    let taken: Vec<&str> = after[0]
        .findings
        .iter()
        .filter(|one| matches!(one.brought_by, Some(Change::FactRemoved { .. })))
        .map(|one| one.rule.as_str())
        .collect();
    assert!(code == 1 && taken.iter().any(|rule| rule.starts_with("fuel-match/")), "{code} {taken:?}");
    assert_eq!(reviewed(&bench, "house.json", &["--fail-on", "nothing"])?.0, 0);
    Ok(())
}

#[test]
fn comparisons_of_amounts_are_data() -> Outcome {
    let bench = Bench::new()?;
    let house = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/houses/boatyard.json");
    let (_, out, _) = said(&mut bench.redtag(&["review", house.to_str().ok_or("a path")?, "--format", "json"]));
    let reviews: Reviews = serde_json::from_str(&out)?;
    let corrections = reviews.reviews[0].findings.iter().filter(|one| one.outcome == Answer::Correction);
    let failing = corrections.flat_map(|one| &one.worksheet).filter(|step| step.holds == Some(false));
    let excess: Vec<f64> = failing.filter_map(redtag_schema::contract::Step::excess).collect();
    assert!(!excess.is_empty() && excess.iter().all(|excess| *excess > 0.0), "{excess:?}");
    Ok(())
}
