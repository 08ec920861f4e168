//! What a session is for: a fact changed, a house more, two cores; and how a review grows with the house.
//!
//! `cargo bench -p redtag-benches --bench session --profile measure`
#![expect(clippy::print_stdout, reason = "a benchmark prints its figures")]

use criterion::{BatchSize, Criterion};
use redtag::session::{Asked, Session, Settings, Source};
use redtag_benches::{boatyard, criterion, many, ratio, settings, wanted};
use serde_json::{Value, json};
use std::cell::Cell;
use std::hint::black_box;
use std::path::Path;

type Outcome = Result<(), Box<dyn std::error::Error>>;

/// A value that differs with every number.
type Varied = fn(u32) -> Value;

/// A fact of each corner of a house: where it stands, and its value as a number goes up.
const FACTS: [(&str, &str, Varied); 8] = [
    ("elevation", "/site/elevation", |at| json!(format!("{} ft", 200 + at % 5_000))),
    ("ceiling", "/spaces/0/ceiling_height", |at| finely(8.0, at, "ft")),
    ("equipment", "/equipment/0/name", |at| json!(format!("Piece {at}"))),
    ("gas pipe", "/gas/segments/0/length", |at| finely(11.0, at, "ft")),
    ("vent", "/vents/0/height", |at| finely(18.0, at, "ft")),
    ("circuit", "/electrical/panels/0/circuits/0/name", |at| json!(format!("Dryer {at}"))),
    ("drain", "/drainage/drains/0/strainer_open_area", |at| finely(5.0, at, "in²")),
    ("water pipe", "/water/pipes/0/length", |at| finely(88.0, at, "ft")),
];
/// Houses of a run on one core and on two.
const HOUSES: usize = 40;

fn main() -> Outcome {
    if !wanted() {
        return Ok(());
    }
    let mut criterion = criterion();
    let folder = tempfile::tempdir()?;
    let kept = Session::open(settings(folder.path(), true))?;
    kept.warm(&[])?;
    let house: Value = serde_json::from_slice(&std::fs::read(boatyard())?)?;
    facts(&mut criterion, folder.path(), &house)?;
    cores(&mut criterion, folder.path(), &house)?;
    growth(&mut criterion, folder.path())
}

/// One fact changed in a session that knows the house, against the same house new to it.
fn facts(criterion: &mut Criterion, folder: &Path, house: &Value) -> Outcome {
    let (fresh, kept) = (Session::open(settings(folder, false))?, Session::open(settings(folder, true))?);
    let text = house.to_string();
    let mut group = criterion.benchmark_group("fact");
    group.bench_function("fresh", |bencher| {
        bencher.iter(|| black_box(fresh.review(&fresh.read(Source::bytes("house.json", text.clone()))).is_ok()));
    });
    let draft = kept.read(Source::bytes("house.json", text.clone()));
    kept.review(&draft).map_err(|_| "the demo house is refused")?;
    let at = Cell::new(0);
    for (name, pointer, value) in FACTS {
        let patch = || {
            at.set(at.get() + 1);
            json!([{"op": "add", "path": pointer, "value": value(at.get())}])
        };
        let again = |patch: Value| {
            let changed = draft.changed(&patch).map_err(|complaint| complaint.one_line()).expect("the change fits");
            kept.review(&kept.read(changed)).map(|review| review.findings.len()).expect("the changed house is reviewed")
        };
        group.bench_function(name, |bencher| bencher.iter_batched(patch, |patch| black_box(again(patch)), BatchSize::SmallInput));
    }
    group.finish();
    let ratios: Vec<f64> = FACTS
        .iter()
        .filter_map(|(name, ..)| ratio(&format!("one fact changed ({name}) / the house new"), ("fact", name), ("fact", "fresh")))
        .collect();
    println!("mean of {} facts: {:.3}", ratios.len(), ratios.iter().sum::<f64>() / ratios.len().max(1) as f64);
    Ok(())
}

/// Forty houses, no answer of which is kept, by one worker and by two.
fn cores(criterion: &mut Criterion, folder: &Path, house: &Value) -> Outcome {
    let mut group = criterion.benchmark_group("cores");
    group.sample_size(10);
    for workers in [1, 2] {
        let session = Session::open(Settings { workers: Some(workers), ..settings(folder, false) })?;
        let all = || many(house, HOUSES).enumerate().map(|(at, text)| Source::bytes(format!("{at}.json"), text));
        let sources: Vec<Source> = all().collect();
        group.bench_function(workers.to_string(), |bencher| {
            bencher.iter(|| session.review_all(sources.clone(), Asked::default()).filter(Result::is_ok).count());
        });
    }
    group.finish();
    ratio("houses a second, two cores / one", ("cores", "1"), ("cores", "2"));
    Ok(())
}

/// Rooms of one furnace, and one room of many.
fn growth(criterion: &mut Criterion, folder: &Path) -> Outcome {
    let session = Session::open(settings(folder, false))?;
    for (group_name, made) in [("rooms", rooms as fn(usize) -> Value), ("pieces", pieces)] {
        let mut group = criterion.benchmark_group(group_name);
        for count in [10, 20, 40] {
            let text = made(count).to_string();
            session.review(&session.read(Source::bytes("made.json", text.clone()))).map_err(|refusal| format!("{refusal:?}"))?;
            group.bench_function(count.to_string(), |bencher| {
                bencher.iter(|| black_box(session.review(&session.read(Source::bytes("made.json", text.clone()))).is_ok()));
            });
        }
        group.finish();
        for (few, twice) in [("10", "20"), ("20", "40")] {
            ratio(&format!("{twice} {group_name} / {few}"), (group_name, twice), (group_name, few));
        }
    }
    Ok(())
}

/// An amount a little larger each time.
fn finely(from: f64, at: u32, unit: &str) -> Value {
    json!(format!("{:.4} {unit}", from + f64::from(at % 9_000) / 10_000.0))
}

fn furnace(at: usize, room: usize) -> Value {
    json!({"id": format!("furnace-{at}"), "kind": "furnace", "space": format!("room-{room}"),
        "fuel_burning": {"plate": {"fuel": "natural-gas", "input": "60,000 Btu/h"}}})
}

fn room(at: usize) -> Value {
    json!({"id": format!("room-{at}"), "kind": "mechanical-room", "ceiling_height": "8 ft"})
}

fn rooms(count: usize) -> Value {
    let (rooms, furnaces): (Vec<Value>, Vec<Value>) = (0..count).map(|at| (room(at), furnace(at, at))).unzip();
    json!({"schema": 1, "name": "Rooms", "spaces": rooms, "equipment": furnaces})
}

fn pieces(count: usize) -> Value {
    let furnaces: Vec<Value> = (0..count).map(|at| furnace(at, 0)).collect();
    json!({"schema": 1, "name": "Pieces", "spaces": [room(0)], "equipment": furnaces})
}
