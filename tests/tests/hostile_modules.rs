//! Modules that misbehave: each is contained, its failure has the right name and says what to do, and a healthy module in the
//! same sandbox still answers afterwards.

use redtag::sandbox::{
    CompileExcess, CompileLimits, Compiler, Level, Limits, LoadedModule, ModuleFailure, Reviewed, Sandbox, SandboxOptions, Tier,
};
use redtag_module_builder::{Excess, Refusal};
use redtag_schema::contract::Description;
use redtag_tests::{compile_bomb, guest, hostile};
use std::path::PathBuf;
use std::time::{Duration, Instant};

type Outcome = Result<(), Box<dyn std::error::Error>>;

const REQUEST: &str = r#"{"schema":1,"project":{},"rules":{},"stage":"permit","date":"2026-01-15"}"#;

fn sandbox(limits: Limits) -> Result<Sandbox, Box<dyn std::error::Error>> {
    Ok(Sandbox::new(SandboxOptions { limits, ..SandboxOptions::default() }))
}

fn child() -> Compiler {
    Compiler::Child(PathBuf::from(env!("CARGO_BIN_EXE_compile_module")))
}

/// Loads a module and has it review; whatever became of it, a healthy module must answer in the same sandbox afterwards.
fn review_in(sandbox: &Sandbox, name: &str) -> Result<Result<Reviewed, ModuleFailure>, Box<dyn std::error::Error>> {
    let wasm = hostile(name)?;
    let outcome = sandbox.load(name, &wasm, true).and_then(|module| module.review(REQUEST));
    answers(&sandbox.load("healthy", &hostile("healthy")?, true)?)?;
    Ok(outcome)
}

fn failure_of(name: &str, limits: Limits) -> Result<ModuleFailure, Box<dyn std::error::Error>> {
    match review_in(&sandbox(limits)?, name)? {
        Ok(reviewed) => Err(format!("{name} got away with it: {reviewed:?}").into()),
        Err(failure) => {
            assert_eq!(failure.module(), name);
            Ok(failure)
        }
    }
}

fn answers(healthy: &LoadedModule) -> Outcome {
    assert_eq!(healthy.review(REQUEST)?.answer, r#"{"schema":1,"findings":[]}"#);
    Ok(())
}

#[test]
fn every_module_of_the_folder_describes_itself_unless_it_cannot_start() -> Outcome {
    let sandbox = sandbox(Limits { fuel: 10_000_000, ..Limits::default() })?;
    let mut described = 0;
    for entry in std::fs::read_dir(redtag_tests::hostile_folder())? {
        let path = entry?.path();
        let name = path.file_stem().and_then(|stem| stem.to_str()).ok_or("a file without a name")?.to_owned();
        if ["frame", "imports-wasi", "loops-at-its-start"].contains(&name.as_str()) {
            continue;
        }
        let module = sandbox.load(&name, &hostile(&name)?, true)?;
        let description: Description = serde_json::from_str(&module.describe()?)?;
        assert_eq!(description.module, name);
        assert_eq!(module.contract().to_string(), "1.0.0");
        described += 1;
    }
    assert!(described >= 14, "only {described} modules were found");
    Ok(())
}

#[test]
fn a_module_that_asks_for_files_is_refused_before_it_is_compiled() -> Outcome {
    let failure = failure_of("imports-wasi", Limits::default())?;
    assert!(matches!(&failure, ModuleFailure::Refused { refusal: Refusal::Imports { .. }, .. }), "{failure:?}");
    assert!(failure.to_string().contains("`wasi:filesystem/preopens@0.2.0`: files"), "{failure}");
    Ok(())
}

#[test]
fn a_module_that_loops_runs_out_of_steps() -> Outcome {
    let failure = failure_of("loops", Limits { fuel: 50_000_000, ..Limits::default() })?;
    assert_eq!(failure, ModuleFailure::OutOfFuel { module: "loops".to_owned(), limit: 50_000_000 });
    assert!(failure.to_string().contains("50,000,000 steps"), "{failure}");
    Ok(())
}

#[test]
fn a_module_that_loops_before_it_is_asked_runs_out_of_steps() -> Outcome {
    let failure = failure_of("loops-at-its-start", Limits { fuel: 50_000_000, ..Limits::default() })?;
    assert_eq!(failure.kind(), "out-of-fuel");
    Ok(())
}

#[test]
fn without_a_step_limit_the_clock_stops_a_module() -> Outcome {
    let limit = Duration::from_millis(300);
    let began = Instant::now();
    let failure = failure_of("loops", Limits { fuel: u64::MAX >> 1, wall_clock: limit, ..Limits::default() })?;
    assert_eq!(failure, ModuleFailure::OutOfTime { module: "loops".to_owned(), limit });
    assert!(began.elapsed() >= limit);
    Ok(())
}

#[test]
fn a_module_that_eats_memory_is_stopped_at_the_limit() -> Outcome {
    let failure = failure_of("eats-memory", Limits::default())?;
    // 64 pages of its own and 16 more each time: 81 MiB of 64 KiB pages would be one growth past the limit of 64 MiB.
    assert_eq!(failure, ModuleFailure::OutOfMemory { module: "eats-memory".to_owned(), asked: 65 << 20, limit: 64 << 20 });
    assert!(failure.to_string().contains("65 MiB of memory, allowed are 64 MiB"), "{failure}");
    Ok(())
}

#[test]
fn memories_and_tables_count_together() -> Outcome {
    let review = "(memory $more 640) (table $many 4_000_000 funcref)
        (func (export \"review\") (param i32 i32) (result i32) (unreachable))";
    let failure = sandbox(Limits::default())?.load("hoards", &guest("hoards", review)?, true)?.review(REQUEST).err();
    assert!(matches!(failure, Some(ModuleFailure::OutOfMemory { .. })), "{failure:?}");
    Ok(())
}

#[test]
fn a_module_that_calls_itself_for_ever_overflows_only_its_own_stack() -> Outcome {
    let failure = failure_of("overflows-its-stack", Limits::default())?;
    let place = Some("deeper".to_owned());
    assert_eq!(failure, ModuleFailure::StackOverflow { module: "overflows-its-stack".to_owned(), place });
    Ok(())
}

#[test]
fn rubbish_is_handed_on_for_the_caller_to_judge() -> Outcome {
    let reviewed = review_in(&sandbox(Limits::default())?, "answers-rubbish")??;
    assert_eq!(reviewed.answer, "all clear, trust me");
    Ok(())
}

#[test]
fn an_answer_of_one_gigabyte_never_comes_to_be() -> Outcome {
    let failure = failure_of("answers-one-gigabyte", Limits::default())?;
    assert_eq!(failure.kind(), "out-of-memory");
    let failure = failure_of("claims-one-gigabyte", Limits::default())?;
    assert_eq!(failure.kind(), "invalid-text");
    Ok(())
}

#[test]
fn an_answer_beyond_the_limit_is_not_taken() -> Outcome {
    let failure = failure_of("answers-too-much", Limits::default())?;
    assert_eq!(failure, ModuleFailure::AnswerTooLarge { module: "answers-too-much".to_owned(), limit: 8 << 20 });
    let large = Limits { answer_bytes: 32 << 20, ..Limits::default() };
    assert_eq!(review_in(&sandbox(large)?, "answers-too-much")??.answer.len(), 32 << 20);
    Ok(())
}

#[test]
fn an_answer_that_is_no_text_is_named() -> Outcome {
    assert_eq!(failure_of("answers-no-text", Limits::default())?.kind(), "invalid-text");
    Ok(())
}

#[test]
fn a_flood_of_log_lines_is_stopped_by_count_and_by_size() -> Outcome {
    let expected = ModuleFailure::LogFlood { module: "floods-the-log".to_owned(), lines: 1_000, limit: 256 << 10 };
    assert_eq!(failure_of("floods-the-log", Limits::default())?, expected);
    let few_lines = Limits { log_bytes: usize::MAX, ..Limits::default() };
    assert_eq!(failure_of("floods-the-log", few_lines)?.kind(), "log-flood");
    let few_bytes = Limits { log_bytes: 100, ..Limits::default() };
    assert_eq!(failure_of("floods-the-log", few_bytes)?.kind(), "log-flood");
    assert_eq!(failure_of("logs-one-huge-line", Limits::default())?.kind(), "log-flood");
    let huge_answers = Limits { answer_bytes: 64 << 20, ..Limits::default() };
    assert_eq!(failure_of("logs-one-huge-line", huge_answers)?.kind(), "log-flood");
    Ok(())
}

#[test]
fn a_panic_is_reported_with_its_words_and_its_place_and_cannot_paint_the_terminal() -> Outcome {
    let expected = ModuleFailure::Panicked {
        module: "panics".to_owned(),
        message: "no furnace \\u{1b}[31mat all".to_owned(),
        place: Some("src/rules/made_up.rs:12:9".to_owned()),
    };
    assert_eq!(failure_of("panics", Limits::default())?, expected);
    Ok(())
}

#[test]
fn a_crash_without_words_is_reported_with_its_function() -> Outcome {
    let expected = ModuleFailure::Panicked {
        module: "crashes".to_owned(),
        message: "integer divide by zero".to_owned(),
        place: Some("share".to_owned()),
    };
    assert_eq!(failure_of("crashes", Limits::default())?, expected);
    Ok(())
}

#[test]
fn a_module_may_say_that_it_cannot_answer() -> Outcome {
    let expected = ModuleFailure::OwnError { module: "gives-up".to_owned(), message: "the project has no rooms".to_owned() };
    assert_eq!(failure_of("gives-up", Limits::default())?, expected);
    Ok(())
}

#[test]
fn log_lines_come_back_with_the_answer() -> Outcome {
    let review = "(data (i32.const 65536) \"two rooms read\")
        (func (export \"review\") (param i32 i32) (result i32)
          (call $log (i32.const 2) (i32.const 65536) (i32.const 14))
          (call $answer (i32.const 0) (i32.const 65536) (i32.const 14)))";
    let reviewed = sandbox(Limits::default())?.load("talks", &guest("talks", review)?, true)?.review(REQUEST)?;
    assert_eq!(reviewed.log.len(), 1);
    assert_eq!((reviewed.log[0].level, reviewed.log[0].text.as_str()), (Level::Warn, "two rooms read"));
    Ok(())
}

#[test]
fn nothing_is_remembered_from_one_call_to_the_next_and_each_takes_the_same_steps() -> Outcome {
    // Answers "1" at the first call of an instance, "2" at the second.
    let review = "(data (i32.const 65536) \"0\")
        (func (export \"review\") (param i32 i32) (result i32)
          (i32.store8 (i32.const 65536) (i32.add (i32.load8_u (i32.const 65536)) (i32.const 1)))
          (call $answer (i32.const 0) (i32.const 65536) (i32.const 1)))";
    let module = sandbox(Limits::default())?.load("counts", &guest("counts", review)?, true)?;
    let (first, second) = (module.review(REQUEST)?, module.review(REQUEST)?);
    assert_eq!(first.answer, "1");
    assert_eq!(first, second);
    assert!(first.fuel_used > 0);
    Ok(())
}

#[test]
fn a_module_outlives_its_sandbox_and_is_still_stopped_by_the_clock() -> Outcome {
    let limits = Limits { fuel: u64::MAX >> 1, wall_clock: Duration::from_millis(200), ..Limits::default() };
    let module = sandbox(limits)?.load("loops", &hostile("loops")?, true)?;
    let kinds = std::thread::scope(|scope| {
        let calls: Vec<_> = (0..4).map(|_| scope.spawn(|| module.review(REQUEST).map_err(|failure| failure.kind()))).collect();
        calls.into_iter().map(|call| call.join().ok().and_then(Result::err)).collect::<Vec<_>>()
    });
    assert_eq!(kinds, [Some("out-of-time"); 4]);
    Ok(())
}

/// IEEE 754 leaves the sign and payload of a computed NaN open, and processors differ (x86-64 sets the sign of 0/0, AArch64 does
/// not). The WebAssembly specification, "NaN Propagation", names the canonical NaN: sign open, payload the top bit only.
#[test]
fn a_computed_nan_has_the_same_bits_everywhere() -> Outcome {
    let review = "(func (export \"review\") (param $request i32) (param $size i32) (result i32)
        (local $zero f64)
        (local.set $zero (f64.convert_i32_u (i32.eqz (local.get $size))))
        (f64.store (i32.const 65536) (f64.div (local.get $zero) (local.get $zero)))
        ;; The top byte, moved into the printable range.
        (i32.store8 (i32.const 65536) (i32.add (i32.const 64) (i32.shr_u (i32.load8_u (i32.const 65543)) (i32.const 4))))
        (call $answer (i32.const 0) (i32.const 65536) (i32.const 1)))";
    let reviewed = sandbox(Limits::default())?.load("divides", &guest("divides", review)?, true)?.review(REQUEST)?;
    // 64 + 7: the sign bit is clear. Without canonical NaNs x86-64 gives 64 + 15.
    assert_eq!(reviewed.answer, "G");
    Ok(())
}

#[test]
fn instructions_that_differ_by_machine_and_shared_memory_are_not_valid() -> Outcome {
    let relaxed = "(func (export \"review\") (param i32 i32) (result i32)
        (drop (f32x4.relaxed_min (v128.const i64x2 0 0) (v128.const i64x2 0 0))) (unreachable))";
    let shared = "(memory $more 1 2 shared) (func (export \"review\") (param i32 i32) (result i32) (unreachable))";
    let sandbox = sandbox(Limits::default())?;
    for (name, review) in [("relaxed", relaxed), ("shared", shared)] {
        let failure = sandbox.load(name, &guest(name, review)?, true).err();
        assert!(matches!(failure, Some(ModuleFailure::Invalid { .. })), "{name}: {failure:?}");
    }
    Ok(())
}

#[test]
fn a_file_that_is_no_component_is_refused_in_words() -> Outcome {
    let failure = sandbox(Limits::default())?.load("notes", b"%PDF-1.7", true).err().ok_or("it was loaded")?;
    assert_eq!(failure.kind(), "refused");
    assert!(failure.to_string().contains("not a WebAssembly file"), "{failure}");
    Ok(())
}

#[test]
fn a_compile_bomb_is_refused_by_its_sizes() -> Outcome {
    let failure = sandbox(Limits::default())?.load("bomb", &compile_bomb(1, 10, 20_000)?, false).err();
    let expected = Excess::FunctionBytes;
    assert!(
        matches!(&failure, Some(ModuleFailure::Refused { refusal: Refusal::TooLarge { excess, .. }, .. }) if *excess == expected),
        "{failure:?}"
    );
    Ok(())
}

/// A bomb small enough for the caps, under each limit of the child in turn.
#[test]
fn a_compile_bomb_within_the_caps_ends_its_child_process_only() -> Outcome {
    let bomb = compile_bomb(200, 600, 4_000)?;
    let generous = CompileLimits::default();
    let cases = [
        ("clock", CompileLimits { wall_clock: Duration::from_millis(300), ..generous.clone() }),
        ("processor", CompileLimits { cpu_seconds: 1, ..generous.clone() }),
        ("memory", CompileLimits { memory_bytes: 64 << 20, ..generous }),
    ];
    for (name, compile) in cases {
        let limits = Limits { compile, ..Limits::default() };
        // The quick compiler needs a tenth of a second for it; the other is what has to be held.
        let options = SandboxOptions { limits, compiler: child(), first: Tier::Optimising, ..SandboxOptions::default() };
        let sandbox = Sandbox::new(options);
        let failure = sandbox.load(name, &bomb, false).err().ok_or("it was compiled")?;
        let ModuleFailure::CompileLimit { exceeded, .. } = &failure else { return Err(format!("{name}: {failure:?}").into()) };
        let named = match exceeded {
            CompileExcess::WallClock(_) => "clock",
            CompileExcess::Processor(_) => "processor",
            _ => "memory",
        };
        assert_eq!(named, name, "{failure}");
        answers(&sandbox.load("healthy", &hostile("healthy")?, true)?)?;
    }
    Ok(())
}

#[test]
fn a_child_process_compiles_an_unknown_module_and_says_what_is_wrong_with_an_invalid_one() -> Outcome {
    let sandbox = Sandbox::new(SandboxOptions { compiler: child(), ..SandboxOptions::default() });
    answers(&sandbox.load("healthy", &hostile("healthy")?, false)?)?;
    let relaxed = "(func (export \"review\") (param i32 i32) (result i32)
        (drop (f32x4.relaxed_min (v128.const i64x2 0 0) (v128.const i64x2 0 0))) (unreachable))";
    let failure = sandbox.load("relaxed", &guest("relaxed", relaxed)?, false).err().ok_or("it was loaded")?;
    assert_eq!(failure.kind(), "invalid");
    assert!(failure.to_string().contains("relaxed SIMD support is not enabled"), "{failure}");
    Ok(())
}

#[test]
fn a_module_with_other_types_than_the_contract_is_named_when_it_is_loaded() -> Outcome {
    let frame = std::fs::read_to_string(redtag_tests::hostile_folder().join("frame.wat"))?;
    let healthy = std::fs::read_to_string(redtag_tests::hostile_folder().join("healthy.wat"))?;
    let right = frame.replace("@name", "typed").replace("@review", &healthy);
    let export = right.replace("(func $describe (result string)", "(func $describe (result (list u8))");
    let import = right.replace("(enum \"debug\" \"info\" \"warn\" \"error\")", "(enum \"debug\" \"info\" \"warn\")");
    let sandbox = sandbox(Limits::default())?;
    for (name, text) in [("export", export), ("import", import)] {
        assert_ne!(text, right);
        let failure = sandbox.load(name, &guest(name, &text)?, true).err().ok_or(format!("{name} was loaded"))?;
        assert_eq!(failure.kind(), "invalid", "{failure}");
    }
    Ok(())
}
