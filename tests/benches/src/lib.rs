//! What the benchmarks share: a run's estimates, put against each other. A time alone says how busy the machine was; two times of
//! one run say how one thing compares with another.
#![expect(clippy::print_stdout, reason = "a benchmark prints its figures")]

pub mod process;

use criterion::Criterion;
use redtag::session::{Keep, Settings};
use redtag_rule::Module;
use serde_json::{Map, Value, json};
use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// A harness that keeps its estimates where `Ratios` reads them.
pub fn criterion() -> Criterion {
    Criterion::default()
        .output_directory(&folder())
        .without_plots()
        .warm_up_time(Duration::from_millis(300))
        .measurement_time(Duration::from_secs(2))
        .sample_size(20)
        .configure_from_args()
}

/// Whether figures are wanted: `cargo test --benches` runs a benchmark too, to see that it runs.
pub fn wanted() -> bool {
    std::env::args().any(|argument| argument == "--bench")
}

/// The folder of the repository.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// The demo house with a dozen honest mistakes.
pub fn boatyard() -> PathBuf {
    root().join("examples/houses/boatyard.json")
}

fn folder() -> PathBuf {
    let target = std::env::current_exe().ok();
    let target = target.as_deref().and_then(|program| program.ancestors().find(|folder| folder.ends_with("deps")));
    target.and_then(Path::parent).map_or_else(|| root().join("target/figures"), |profile| profile.join("figures"))
}

/// The median time of a benchmark of this run, in nanoseconds; none where it was left out.
pub fn median(group: &str, name: &str) -> Option<f64> {
    let file = folder().join(group).join(name).join("new/estimates.json");
    let estimates: Value = serde_json::from_str(&fs::read_to_string(file).ok()?).ok()?;
    estimates["median"]["point_estimate"].as_f64()
}

/// Prints one time over another.
pub fn ratio(label: &str, (group, name): (&str, &str), (other_group, other): (&str, &str)) -> Option<f64> {
    let ratio = median(group, name)? / median(other_group, other)?;
    println!("{label}: {ratio:.3}");
    Some(ratio)
}

/// All rules of the family, with their own values.
pub fn request(family: &Module, project: &Value) -> Value {
    let rules: Map<String, Value> = family.entries.iter().map(|entry| (entry.rule.id.to_owned(), json!({}))).collect();
    json!({"schema": 1, "stage": "final", "date": "2025-01-01", "rules": rules, "project": project})
}

/// A session on one worker that keeps compiled modules in this folder, and answers in memory where asked to.
pub fn settings(folder: &Path, answers: bool) -> Settings {
    let keep = if answers { Keep::CompiledAndAnswers(folder.to_owned()) } else { Keep::Compiled(folder.to_owned()) };
    Settings { keep, key: Some(folder.join("key")), workers: Some(1), ..Settings::default() }
}

/// Houses that differ in a fact which most families are told.
pub fn many(house: &Value, count: usize) -> impl Iterator<Item = Vec<u8>> {
    let house = house.clone();
    (0..count).map(move |at| {
        let mut house = house.clone();
        house["name"] = json!(format!("House {at}"));
        house["site"]["elevation"] = json!(format!("{} ft", 1_000 + at % 5_000));
        house.to_string().into_bytes()
    })
}
