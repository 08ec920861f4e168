//! Two compilers, one verdict: the quick one's code answers the same bytes, and keeps to limits that imply the other's.

use redtag::document::{Limits, read_project};
use redtag::pack::base_pack;
use redtag::sandbox::{LoadedModule, ModuleFailure, Sandbox, SandboxOptions, Tier};
use redtag_schema::contract::{Description, RuleInForce};
use redtag_tests::guest;
use serde_json::json;
use std::collections::BTreeMap;
use std::error::Error;
use std::path::Path;

type Outcome = Result<(), Box<dyn Error>>;

/// One of the smallest, one that computes much, one that reads much.
const MODULES: [&str; 3] = ["fuel-match", "combustion-air", "panels"];

fn load(tier: Tier, name: &str, wasm: &[u8]) -> Result<LoadedModule, ModuleFailure> {
    let module = Sandbox::new(SandboxOptions { first: tier, ..SandboxOptions::default() }).load(name, wasm, true)?;
    assert_eq!(module.tier(), tier);
    Ok(module)
}

fn question(module: &LoadedModule) -> Result<String, Box<dyn Error>> {
    let house = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/houses/boatyard.json");
    let project = read_project(&house, &Limits::default()).map_err(|_| "the demo house does not read")?;
    let description: Description = serde_json::from_str(&module.describe()?)?;
    let rules: BTreeMap<String, RuleInForce> =
        description.rules.into_iter().map(|rule| (rule.id, RuleInForce::default())).collect();
    Ok(json!({"schema": 1, "stage": "final", "date": "2025-01-01", "rules": rules, "project": project.canonical}).to_string())
}

/// Baseline code gets half the steps. That a verdict within them is one within all of them holds while it counts at least half
/// of what optimised code counts.
#[test]
fn both_answer_the_same_bytes_and_baseline_code_counts_at_least_half_the_steps() -> Outcome {
    let pack = base_pack().map_err(|_| "no base pack")?;
    for name in MODULES {
        let wasm = pack.file(&format!("modules/{name}.wasm")).ok_or("no such module")?;
        let (baseline, optimised) = (load(Tier::Baseline, name, wasm)?, load(Tier::Optimising, name, wasm)?);
        let question = question(&optimised)?;
        let (quick, full) = (baseline.review(&question)?, optimised.review(&question)?);
        assert_eq!(quick.answer, full.answer, "{name}");
        assert_eq!(baseline.describe()?, optimised.describe()?, "{name}");
        let ratio = quick.fuel_used as f64 / full.fuel_used as f64;
        assert!((0.75..=1.01).contains(&ratio), "{name}: baseline counts {ratio:.3} of the steps of optimised code");
    }
    Ok(())
}

/// A module that goes as deep as its request is long.
fn deep() -> Result<Vec<u8>, Box<dyn Error>> {
    let review = r#"
        (func $down (param $left i32) (param $a i64) (param $b f64) (result i64)
          (if (result i64) (i32.eqz (local.get $left))
            (then (local.get $a))
            (else (i64.add (local.get $a) (call $down (i32.sub (local.get $left) (i32.const 1))
              (i64.add (local.get $a) (i64.const 1)) (f64.add (local.get $b) (f64.const 1)))))))
        (data (i32.const 65536) "{}")
        (func (export "review") (param $request i32) (param $size i32) (result i32)
          (drop (call $down (local.get $size) (i64.const 0) (f64.const 0)))
          (call $answer (i32.const 0) (i32.const 65536) (i32.const 2)))"#;
    Ok(guest("deep", review)?)
}

/// The deepest that does not fill the stack. The module is asked for baseline code alone, so the failure must be seen there.
fn deepest(module: &LoadedModule) -> Result<usize, Box<dyn Error>> {
    let (mut holds, mut fails) = (1_usize, 200_000_usize);
    while fails - holds > 1 {
        let middle = usize::midpoint(holds, fails);
        match module.review_in_first_tier(&"x".repeat(middle)) {
            Ok(_) => holds = middle,
            Err(ModuleFailure::StackOverflow { .. }) => fails = middle,
            Err(other) => return Err(other.into()),
        }
    }
    Ok(holds)
}

/// Frames of baseline code are larger, so that what does not fill the stack there does not fill it in optimised code.
#[test]
fn what_fits_the_stack_in_baseline_code_fits_it_in_optimised_code() -> Outcome {
    let wasm = deep()?;
    let (baseline, optimised) = (load(Tier::Baseline, "deep", &wasm)?, load(Tier::Optimising, "deep", &wasm)?);
    let (shallow, far) = (deepest(&baseline)?, deepest(&optimised)?);
    assert!(shallow <= far, "{shallow} frames of baseline code, {far} of optimised code");
    // In between, baseline code meets the limit and optimised code decides.
    if shallow < far {
        assert_eq!(baseline.review(&"x".repeat(far))?.answer, "{}");
    }
    assert!(matches!(baseline.review(&"x".repeat(far + 1)), Err(ModuleFailure::StackOverflow { .. })));
    Ok(())
}
