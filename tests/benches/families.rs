//! Every family: a call in the sandbox, with every limit on, against the same rules linked in.
//!
//! `cargo bench -p redtag-benches --bench families --profile measure`
#![expect(clippy::print_stdout, reason = "a benchmark prints its figures")]

use redtag::document::{Limits, read_project};
use redtag::pack::base_pack;
use redtag::sandbox::{Compiler, Sandbox, SandboxOptions, Tier};
use redtag_benches::{boatyard, criterion, ratio, request, wanted};
use redtag_families_tests::FAMILIES;
use std::hint::black_box;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    if !wanted() {
        return Ok(());
    }
    let mut criterion = criterion();
    let project = read_project(&boatyard(), &Limits::default()).map_err(|_| "the demo house does not read")?;
    let pack = base_pack().map_err(|_| "no base pack")?;
    let options = SandboxOptions { compiler: Compiler::InProcess, first: Tier::Optimising, ..SandboxOptions::default() };
    let sandbox = Sandbox::new(options);
    for &(family, name) in FAMILIES {
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
        .filter_map(|(_, name)| ratio(&format!("{name}: sandbox / linked"), (name, "sandbox"), (name, "linked")))
        .collect();
    println!("mean of {} families: {:.3}", ratios.len(), ratios.iter().sum::<f64>() / ratios.len() as f64);
    Ok(())
}
