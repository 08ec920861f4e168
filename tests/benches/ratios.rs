//! Ratios, measured in one run: a rule in the sandbox against the same rule linked in, and a cached start against a cold one.
//!
//! `cargo bench -p redtag-tests --profile measure`. Each round times both sides one after the other, so that a machine whose
//! speed drifts does not part them; the medians of the paired ratios are printed. Nothing here passes or fails.
#![expect(clippy::print_stdout, reason = "a benchmark prints its figures")]

use redtag::document::{Limits, read_project};
use redtag::pack::base_pack;
use redtag::sandbox::{Compiler, LoadedModule, Sandbox, SandboxOptions, Tier};
use redtag::store::{Secret, Store};
use serde_json::{Value, json};
use std::path::Path;
use std::sync::Arc;
use std::time::{Duration, Instant};

const MODULE: &str = "modules/combustion-air.wasm";
const ROUNDS: usize = 201;
const STARTS: usize = 5;

type Outcome<T> = Result<T, Box<dyn std::error::Error>>;

fn main() -> Outcome<()> {
    // `cargo test --benches` runs this too; it measures only when asked.
    if !std::env::args().any(|argument| argument == "--bench") {
        return Ok(());
    }
    let house = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/houses/boatyard.json");
    let project = read_project(&house, &Limits::default()).map_err(|_| "the demo house does not read")?;
    let request = request(project.canonical).to_string();
    let pack = base_pack().map_err(|_| "no base pack")?;
    let wasm = pack.file(MODULE).ok_or("the base pack has no combustion air")?;
    starts(wasm)?;
    calls(wasm, &request)
}

fn request(project: Value) -> Value {
    let rules: serde_json::Map<String, Value> =
        redtag_combustion_air::MODULE.entries.iter().map(|entry| (entry.rule.id.to_owned(), json!({}))).collect();
    json!({"schema": 1, "stage": "final", "date": "2025-01-01", "rules": rules, "project": project})
}

fn load(wasm: &[u8], store: Option<Arc<Store>>) -> Outcome<(LoadedModule, Duration)> {
    let start = Instant::now();
    let options = SandboxOptions { store, compiler: Compiler::InProcess, first: Tier::Optimising, ..SandboxOptions::default() };
    let module = Sandbox::new(options).load("combustion-air", wasm, true)?;
    Ok((module, start.elapsed()))
}

fn starts(wasm: &[u8]) -> Outcome<()> {
    let folder = tempfile::tempdir()?;
    let store = Arc::new(Store::open(&folder.path().join("kept"), Secret::fresh()?)?);
    load(wasm, Some(Arc::clone(&store)))?;
    let mut ratios = Vec::new();
    for _ in 0..STARTS {
        let (_, cold) = load(wasm, None)?;
        let (module, warm) = load(wasm, Some(Arc::clone(&store)))?;
        assert!(module.from_cache(), "the second load comes from the cache");
        ratios.push(cold.as_secs_f64() / warm.as_secs_f64());
    }
    println!("cold start / cached start of a module of {} bytes: {:.0} (median of {STARTS})", wasm.len(), median(ratios));
    Ok(())
}

fn calls(wasm: &[u8], request: &str) -> Outcome<()> {
    let (module, _) = load(wasm, None)?;
    let mut ratios = Vec::new();
    let mut fuel = 0;
    for _ in 0..ROUNDS {
        let start = Instant::now();
        let native = redtag_rule::answer(&redtag_combustion_air::MODULE, request)?;
        let native_time = start.elapsed();
        let start = Instant::now();
        let reviewed = module.review(request)?;
        let sandboxed = start.elapsed();
        assert_eq!(native, reviewed.answer, "both answer the same bytes");
        fuel = reviewed.fuel_used;
        ratios.push(sandboxed.as_secs_f64() / native_time.as_secs_f64());
    }
    println!(
        "rule in the sandbox / linked in: {:.2} (median of {ROUNDS}; fuel {fuel}); answers are equal to the byte",
        median(ratios)
    );
    Ok(())
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}
