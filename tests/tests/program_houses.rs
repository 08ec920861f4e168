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

/// What the authors planted, by house: the rule and the subject of each correction, and nothing else.
const PLANTED: [(&str, &[(&str, &str)]); 11] = [
    (
        "boatyard.json",
        &[
            ("clearances/electrical-working-space", "main-panel"),
            ("combustion-air/air-source", "crawl"),
            ("combustion-air/competing-exhaust", "dryer-exhaust"),
            ("combustion-air/supply", "mechanical"),
            ("combustion-air/supply", "sail-room"),
            ("drainage/air-gap", "softener-tube"),
            ("energy-storage/energy-limit", "storage"),
            ("fire-separation/penetrations", "through-bath-drain"),
            ("fuel-match/conversion-evidence", "unit-heater"),
            ("fuel-match/inlet-pressure", "boiler"),
            ("gas-installation/sediment-trap", "boiler"),
            ("raceways/bends", "conduit-solar"),
            ("venting/connector-clearance", "boiler-connector"),
            ("water-heating/relief-discharge", "tank-relief"),
        ],
    ),
    ("boatyard-corrected.json", &[]),
    (
        "town-duplex.json",
        &[
            ("clearances/electrical-working-space", "panel-a-box"),
            ("combustion-air/supply", "furnace-room"),
            ("ducts/return-air", "return-a-furnace-room"),
            ("fire-separation/penetrations", "through-heater-b-hot"),
            ("fuel-match/altitude-rating", "furnace"),
            // The bond of the gas piping is no thing with an id.
            ("gas-installation/bonding", ""),
            ("venting/connector-slope", "heater-b-connector"),
            ("venting/return-near-burner", "return-a"),
            ("water-supply/pressure-limit", "street"),
        ],
    ),
    ("manifold.json", &[("fuel-gas/pipe-size", "to-furnace")]),
    (
        "space-room.json",
        &[
            ("access/replacement-path", "furnace"),
            ("clearances/electrical-doors", "cabinet"),
            ("clearances/electrical-working-space", "cabinet"),
        ],
    ),
    ("floor-hollow.json", &[("drainage/discharge-level", "water-room-drain"), ("drainage/floor-runs-to-drain", "water-room")]),
    ("floor-corrected.json", &[]),
    (
        "board-room.json",
        &[
            ("fire-separation/energy-storage-room", "north"),
            ("fire-separation/energy-storage-room", "west"),
            ("fire-separation/garage-ducts", "trunk"),
            ("fire-separation/garage-openings", "garage-door"),
            ("fire-separation/garage-separation", "west"),
            ("fire-separation/penetrations", "through-drain"),
        ],
    ),
    ("board-room-corrected.json", &[]),
    (
        "power-room.json",
        &[
            ("fire-separation/energy-storage-room", "stairs-ceiling"),
            ("fire-separation/under-stairs", "stairs-ceiling"),
            ("raceways/route", "conduit-solar"),
            ("standby-power/motor-start", "load-well"),
        ],
    ),
    ("power-room-corrected.json", &[]),
];

#[test]
fn what_was_planted_is_found_and_nothing_else() -> Outcome {
    let bench = Bench::new()?;
    for (name, planted) in PLANTED {
        let (code, review) = review(&bench, name)?;
        let mut found = corrections(&review);
        found.sort_unstable();
        assert_eq!(found, planted, "{name}");
        assert_eq!((code, review.failures.len()), (i32::from(!planted.is_empty()), 0), "{name}: {:?}", review.failures);
    }
    Ok(())
}

#[test]
fn every_demo_house_is_in_the_table() -> Outcome {
    let houses = std::fs::read_dir(house(""))?.filter_map(Result::ok).map(|entry| entry.file_name());
    let mut houses: Vec<String> = houses.map(|name| name.to_string_lossy().into_owned()).collect();
    houses.retain(|name| name.ends_with(".json"));
    for name in houses {
        assert!(PLANTED.iter().any(|(known, _)| *known == name), "{name} is not in the table of what was planted");
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
fn the_corrected_boatyard_leaves_nothing_unsaid() -> Outcome {
    let bench = Bench::new()?;
    let (code, review) = review(&bench, "boatyard-corrected.json")?;
    let unsaid: Vec<_> = review.findings.iter().filter(|one| one.outcome == Answer::Unresolved).map(|one| &one.rule).collect();
    assert_eq!((code, unsaid), (0, vec![]));
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
    assert!(rules.len() > 150);
    let mut families = std::collections::BTreeSet::new();
    for rule in rules {
        let id = rule["description"]["id"].as_str().ok_or("a rule has no id")?;
        assert!(listed.contains(id), "{id} is not listed");
        // One of each family: every explanation is a run of the program.
        if !families.insert(id.split('/').next()) {
            continue;
        }
        let (code, out, err) = said(&mut bench.redtag(&["explain", id]));
        assert_eq!((code, err.as_str()), (0, ""));
        assert!(out.contains("\nprinted in\n") && out.contains("\ncases\n"), "{out}");
        let widest = out.lines().map(|line| line.chars().count()).max();
        assert!(widest <= Some(100), "{id}: {widest:?}");
    }
    Ok(())
}
