//! Every family: a call in the sandbox, with every limit on, against the same rules linked in.
//!
//! `cargo bench -p redtag-benches --bench families --profile measure`
#![expect(clippy::print_stdout, reason = "a benchmark prints its figures")]

use redtag::document::{Limits, read_project};
use redtag::pack::base_pack;
use redtag::sandbox::{Compiler, Sandbox, SandboxOptions, Tier};
use redtag_benches::{boatyard, criterion, ratio, wanted};
use redtag_rule::Module;
use serde_json::{Map, Value, json};
use std::hint::black_box;

static FAMILIES: [(&str, &Module); 17] = [
    ("access", &redtag_access::MODULE),
    ("appliance-safety", &redtag_appliance_safety::MODULE),
    ("clearances", &redtag_clearances::MODULE),
    ("combustion-air", &redtag_combustion_air::MODULE),
    ("drainage", &redtag_drainage::MODULE),
    ("ducts", &redtag_ducts::MODULE),
    ("energy-storage", &redtag_energy_storage::MODULE),
    ("fire-separation", &redtag_fire_separation::MODULE),
    ("fuel-gas", &redtag_fuel_gas::MODULE),
    ("fuel-match", &redtag_fuel_match::MODULE),
    ("gas-installation", &redtag_gas_installation::MODULE),
    ("panels", &redtag_panels::MODULE),
    ("raceways", &redtag_raceways::MODULE),
    ("standby-power", &redtag_standby_power::MODULE),
    ("venting", &redtag_venting::MODULE),
    ("water-heating", &redtag_water_heating::MODULE),
    ("water-supply", &redtag_water_supply::MODULE),
];

fn main() -> Result<(), Box<dyn std::error::Error>> {
    if !wanted() {
        return Ok(());
    }
    let mut criterion = criterion();
    let project = read_project(&boatyard(), &Limits::default()).map_err(|_| "the demo house does not read")?;
    let pack = base_pack().map_err(|_| "no base pack")?;
    let options = SandboxOptions { compiler: Compiler::InProcess, first: Tier::Optimising, ..SandboxOptions::default() };
    let sandbox = Sandbox::new(options);
    for (name, family) in FAMILIES {
        let wasm = pack.file(&format!("modules/{name}.wasm")).ok_or("the base pack lacks a family")?;
        let module = sandbox.load(name, wasm, true)?;
        let request = request(family, &project.canonical).to_string();
        let (native, sandboxed) = (redtag_rule::answer(family, &request)?, module.review(&request)?);
        assert_eq!(native, sandboxed.answer, "{name}: both answer the same bytes");
        let mut group = criterion.benchmark_group(name);
        group.bench_function("linked", |bencher| bencher.iter(|| black_box(redtag_rule::answer(family, &request))));
        group.bench_function("sandbox", |bencher| bencher.iter(|| black_box(module.review(&request))));
        group.finish();
    }
    let ratios: Vec<f64> = FAMILIES
        .iter()
        .filter_map(|(name, _)| ratio(&format!("{name}: sandbox / linked"), (name, "sandbox"), (name, "linked")))
        .collect();
    println!("mean of {} families: {:.3}", ratios.len(), ratios.iter().sum::<f64>() / ratios.len() as f64);
    Ok(())
}

/// All rules of the family, with their own values.
fn request(family: &Module, project: &Value) -> Value {
    let rules: Map<String, Value> = family.entries.iter().map(|entry| (entry.rule.id.to_owned(), json!({}))).collect();
    json!({"schema": 1, "stage": "final", "date": "2025-01-01", "rules": rules, "project": project})
}
