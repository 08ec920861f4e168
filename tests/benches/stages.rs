//! The stages of a review of the boatyard, each against the whole, and every format of a report.
//!
//! `cargo bench -p redtag-benches --bench stages --profile measure`

use criterion::Criterion;
use redtag::document::{Limits, check_project_bytes, project_format};
use redtag::modules::Library;
use redtag::pack::base_pack;
use redtag::rulebook::{Wanted, layers, resolve};
use redtag::sandbox::{Compiler, Sandbox, SandboxOptions, Tier};
use redtag::session::{Session, Source, notice, tool};
use redtag_benches::{boatyard, criterion, ratio, request, settings, wanted};
use redtag_families_tests::FAMILIES;
use redtag_report::{Format, Frame, RuleTexts, Style};
use redtag_schema::project::Project;
use redtag_schema::review::Review;
use serde_json::{Value, json};
use std::hint::black_box;

const STAGES: [&str; 9] = ["parse", "validate", "type", "read", "resolve", "instantiate", "call", "kept", "review"];
const FORMATS: [(&str, Format); 9] = [
    ("text", Format::Text),
    ("json", Format::Json),
    ("json-lean", Format::JsonLean),
    ("stream", Format::Stream),
    ("sarif", Format::Sarif),
    ("junit", Format::Junit),
    ("github", Format::Github),
    ("gitlab", Format::Gitlab),
    ("markdown", Format::Markdown),
];

type Outcome = Result<(), Box<dyn std::error::Error>>;

fn main() -> Outcome {
    if !wanted() {
        return Ok(());
    }
    let mut criterion = criterion();
    let text = std::fs::read(boatyard())?;
    reading(&mut criterion, &text)?;
    rules(&mut criterion, &text)?;
    reviews(&mut criterion, &text)?;
    for stage in STAGES {
        ratio(&format!("{stage} / a review with compiled modules kept"), ("stage", stage), ("stage", "review"));
    }
    for (name, _) in FORMATS {
        ratio(&format!("report as {name} / the review"), ("report", name), ("stage", "review"));
    }
    Ok(())
}

/// From bytes to a project: JSON alone, the schema, the typed reading; and all of it with every check.
fn reading(criterion: &mut Criterion, text: &[u8]) -> Outcome {
    let schema = project_format().map_err(|_| "no schema")?.checker.schema();
    let validator = jsonschema::validator_for(schema)?;
    let value: Value = serde_json::from_slice(text)?;
    let mut group = criterion.benchmark_group("stage");
    group.bench_function("parse", |bencher| bencher.iter(|| black_box(serde_json::from_slice::<Value>(text))));
    group.bench_function("validate", |bencher| bencher.iter(|| black_box(validator.is_valid(&value))));
    group.bench_function("type", |bencher| bencher.iter(|| black_box(serde_json::from_value::<Project>(value.clone()))));
    let read = || check_project_bytes("boatyard.json", text, &Limits::default());
    group.bench_function("read", |bencher| bencher.iter(|| black_box(read())));
    group.finish();
    Ok(())
}

/// The rulebook, and the modules: a call that asks for no rule, and all calls of a review one after the other.
fn rules(criterion: &mut Criterion, text: &[u8]) -> Outcome {
    let checked = check_project_bytes("boatyard.json", text, &Limits::default());
    let project = checked.sound().map_err(|_| "the demo house does not read")?;
    let pack = base_pack().map_err(|_| "no base pack")?;
    let options = SandboxOptions { compiler: Compiler::InProcess, first: Tier::Optimising, ..SandboxOptions::default() };
    let sandbox = Sandbox::new(options);
    let library = Library::new(sandbox.clone());
    let descriptions = library.descriptions(std::slice::from_ref(&pack));
    let layers = layers(std::slice::from_ref(&pack), &[Wanted::any(pack.name())], "2025-01-01").map_err(|_| "no layers")?;
    let mut modules = Vec::new();
    for &(family, name) in FAMILIES {
        let wasm = pack.file(&format!("modules/{name}.wasm")).ok_or("the base pack lacks a family")?;
        modules.push((sandbox.load(name, wasm, true)?, request(family, &project.canonical).to_string()));
    }
    let nothing = json!({"schema": 1, "stage": "final", "date": "2025-01-01", "rules": {}, "project": {}}).to_string();
    let mut group = criterion.benchmark_group("stage");
    group.bench_function("resolve", |bencher| bencher.iter(|| black_box(resolve(&layers, &descriptions))));
    group.bench_function("instantiate", |bencher| {
        bencher.iter(|| modules.iter().for_each(|(module, _)| drop(black_box(module.review(&nothing)))));
    });
    group.bench_function("call", |bencher| {
        bencher.iter(|| modules.iter().for_each(|(module, request)| drop(black_box(module.review(request)))));
    });
    group.finish();
    Ok(())
}

/// The whole, on one worker, without and with answers kept in memory; and what writing it down costs.
fn reviews(criterion: &mut Criterion, text: &[u8]) -> Outcome {
    let folder = tempfile::tempdir()?;
    let review = |session: &Session| session.review(&session.read(Source::bytes("boatyard.json", text)));
    Session::open(settings(folder.path(), false))?.warm(&[])?;
    let (new, kept) = (Session::open(settings(folder.path(), false))?, Session::open(settings(folder.path(), true))?);
    let made: Review = review(&kept).map_err(|_| "the demo house is refused")?;
    let mut group = criterion.benchmark_group("stage");
    group.bench_function("review", |bencher| bencher.iter(|| black_box(review(&new).is_ok())));
    group.bench_function("kept", |bencher| bencher.iter(|| black_box(review(&kept).is_ok())));
    group.finish();
    let frame = Frame { tool: tool(), notice: notice().to_owned(), style: Style::default(), strict_from: None, root: None };
    let texts = kept.rule_texts(&made);
    let mut group = criterion.benchmark_group("report");
    for (name, format) in FORMATS {
        group.bench_function(name, |bencher| bencher.iter(|| written(format, &frame, &made, &texts)));
    }
    group.finish();
    Ok(())
}

fn written(format: Format, frame: &Frame, review: &Review, texts: &RuleTexts) -> usize {
    let mut out = Vec::new();
    let sink = format.begin(frame.clone(), &mut out);
    let done = sink.and_then(|mut sink| sink.review(review, texts).and_then(|()| sink.end()));
    black_box(done.is_ok());
    out.len()
}
