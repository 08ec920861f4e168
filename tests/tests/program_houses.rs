//! The demo houses under the base pack: what their authors planted is found, what they mended is found mended.

mod program_support;

use program_support::{Bench, Outcome, said};
use redtag_schema::contract::Outcome as Answer;
use redtag_schema::review::{Review, Reviews};
use std::path::{Path, PathBuf};

fn house(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/houses").join(name)
}

fn review(bench: &Bench, name: &str) -> Result<(i32, Review), Box<dyn std::error::Error>> {
    let (code, out, err) = said(bench.redtag(&["review", "--format", "json"]).arg(house(name)));
    assert_eq!(err, "");
    let mut reviews: Reviews = serde_json::from_str(&out)?;
    Ok((code, reviews.reviews.remove(0)))
}

/// The rule and the subject's id of every correction.
fn corrections(review: &Review) -> Vec<(&str, &str)> {
    let found = review.findings.iter().filter(|finding| finding.outcome == Answer::Correction);
    found.map(|finding| (finding.rule.as_str(), finding.subject.id.as_deref().unwrap_or_default())).collect()
}

#[test]
fn the_boatyards_gas_mistakes_are_found() -> Outcome {
    let bench = Bench::new()?;
    let (code, review) = review(&bench, "boatyard.json")?;
    assert_eq!(code, 1, "{:?}", review.failures);
    let found = corrections(&review);
    for planted in [
        ("combustion-air/air-source", "crawl"),
        ("combustion-air/competing-exhaust", "dryer-exhaust"),
        ("combustion-air/supply", "mechanical"),
        ("combustion-air/supply", "sail-room"),
        ("fuel-match/conversion-evidence", "unit-heater"),
        ("fuel-match/inlet-pressure", "boiler"),
    ] {
        assert!(found.contains(&planted), "{planted:?} is not among {found:?}");
    }
    Ok(())
}

#[test]
fn every_place_is_where_its_subject_stands() -> Outcome {
    let bench = Bench::new()?;
    let text = std::fs::read_to_string(house("boatyard.json"))?;
    let lines: Vec<&str> = text.lines().collect();
    let (_, review) = review(&bench, "boatyard.json")?;
    let mut looked = 0;
    for finding in &review.findings {
        let Some(id) = &finding.subject.id else { continue };
        let (place, quoted) = (finding.place, format!("\"id\": \"{id}\""));
        let inside = &lines[place.line - 1..place.end_line];
        assert!(inside.iter().any(|line| line.contains(&quoted)), "{} at {place:?} has no {quoted}", finding.rule);
        assert!(
            inside[0][place.column - 1..].starts_with('{') && inside[inside.len() - 1][..place.end_column - 1].ends_with('}')
        );
        looked += 1;
    }
    assert!(looked > 20, "{looked} findings have a subject with an id");
    Ok(())
}

#[test]
fn the_corrected_boatyard_has_nothing_to_correct() -> Outcome {
    let bench = Bench::new()?;
    let (code, review) = review(&bench, "boatyard-corrected.json")?;
    assert_eq!((code, corrections(&review)), (0, vec![]));
    Ok(())
}

#[test]
fn the_duplexs_gas_mistakes_are_found() -> Outcome {
    let bench = Bench::new()?;
    let (code, review) = review(&bench, "town-duplex.json")?;
    assert_eq!(code, 1);
    let found = corrections(&review);
    for planted in [("combustion-air/supply", "furnace-room"), ("fuel-match/altitude-rating", "furnace")] {
        assert!(found.contains(&planted), "{planted:?} is not among {found:?}");
    }
    Ok(())
}

#[test]
fn all_houses_in_one_run_say_the_same_twice_and_cold() -> Outcome {
    let bench = Bench::new()?;
    let all = house("*.json");
    let run = |more: &[&str]| said(bench.redtag(&["review", "--format", "json"]).arg(&all).args(more));
    let (code, first, err) = run(&[]);
    assert_eq!((code, err.as_str()), (1, ""));
    assert!(first.contains("boatyard-corrected.json") && first.contains("town-duplex.json"));
    assert_eq!(run(&["--jobs", "1"]).1, first);
    assert_eq!(run(&["--no-cache"]).1, first);
    Ok(())
}

#[test]
fn every_rule_of_the_base_pack_is_explained_and_listed() -> Outcome {
    let bench = Bench::new()?;
    let (code, out, _) = said(&mut bench.redtag(&["rulebook", "--format", "json"]));
    assert_eq!(code, 0);
    let rulebook: serde_json::Value = serde_json::from_str(&out)?;
    let (_, listed, _) = said(&mut bench.redtag(&["rulebook"]));
    let rules = rulebook["rules"].as_array().ok_or("the rulebook has no rules")?;
    assert!(rules.len() > 10);
    for rule in rules {
        let id = rule["description"]["id"].as_str().ok_or("a rule has no id")?;
        assert!(listed.contains(id), "{id} is not listed");
        let (code, out, err) = said(&mut bench.redtag(&["explain", id]));
        assert_eq!((code, err.as_str()), (0, ""));
        assert!(out.contains("\nprinted in\n") && out.contains("\ncases\n"), "{out}");
        let widest = out.lines().map(|line| line.chars().count()).max();
        assert!(widest <= Some(100), "{id}: {widest:?}");
    }
    Ok(())
}
