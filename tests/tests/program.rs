//! The program from outside: what it prints, how it ends, that it says the same thing twice.

mod program_support;

use program_support::{Bench, Outcome, answering, finding, said};
use redtag_schema::review::Reviews;
use serde_json::{Value, json};

/// A bench with a project and a pack of two modules that answer a correction, an unresolved and a complying finding.
fn bench() -> Result<Bench, Box<dyn std::error::Error>> {
    let bench = Bench::new()?;
    bench.project("house.json", "")?;
    let mut open = finding("second", 1, "unresolved", "cannot tell its rating: one fact is missing");
    open["missing"] = json!([{"pointer": "/equipment/1/weight"}]);
    let (_, first) = answering(
        "first",
        &[finding("first", 0, "correction", "has no shutoff"), finding("first", 1, "complies", "is far enough")],
    )?;
    let (_, second) = answering("second", &[open])?;
    bench.pack("county", &[("first", first), ("second", second)])?;
    Ok(bench)
}

#[test]
fn a_review_reads_worst_first_and_ends_with_1() -> Outcome {
    let bench = bench()?;
    let (code, out, err) = said(&mut bench.redtag(&["review", "house.json", "--packs", "county"]));
    assert_eq!((code, err.as_str()), (1, ""), "{out}");
    insta::assert_snapshot!(out);
    Ok(())
}

#[test]
fn json_is_what_its_schema_says_and_the_same_every_time() -> Outcome {
    let bench = bench()?;
    let run =
        |jobs: &str| said(&mut bench.redtag(&["review", "house.json", "--packs", "county", "--format", "json", "--jobs", jobs]));
    let (code, first, err) = run("1");
    assert_eq!((code, err.as_str()), (1, ""));
    for jobs in ["1", "2", "7"] {
        assert_eq!(run(jobs).1, first);
    }
    let (_, schema, _) = said(&mut bench.redtag(&["schema", "review"]));
    let validator = jsonschema::validator_for(&serde_json::from_str::<Value>(&schema)?)?;
    let document: Value = serde_json::from_str(&first)?;
    assert!(validator.iter_errors(&document).next().is_none());
    let reviews: Reviews = serde_json::from_value(document)?;
    assert_eq!(reviews.reviews[0].findings[0].place.line, 6);
    Ok(())
}

#[test]
fn every_ending_has_its_code() -> Outcome {
    let bench = Bench::new()?;
    bench.project("house.json", "")?;
    let mut open = finding("open", 0, "unresolved", "cannot tell");
    open["missing"] = json!([{"pointer": "/site/elevation"}]);
    let crash = ("panics", redtag_tests::hostile("panics")?);
    let (_, fine) = answering("fine", &[finding("fine", 0, "complies", "is well")])?;
    let (_, open) = answering("open", &[open])?;
    let (_, bad) = answering("bad", &[finding("bad", 0, "correction", "is bad")])?;
    bench.pack("fine", &[("fine", fine)])?;
    bench.pack("open", &[("open", open)])?;
    bench.pack("bad", &[("bad", bad.clone())])?;
    bench.pack("crash", &[("bad", bad), crash])?;
    let code = |arguments: &[&str]| said(&mut bench.redtag(arguments)).0;
    assert_eq!(code(&["review", "house.json", "--packs", "fine"]), 0);
    assert_eq!(code(&["review", "house.json", "--packs", "open"]), 0);
    assert_eq!(code(&["review", "house.json", "--packs", "open", "--strict"]), 1);
    assert_eq!(code(&["review", "house.json", "--packs", "bad"]), 1);
    assert_eq!(code(&["review", "nowhere.json", "--packs", "bad"]), 2);
    assert_eq!(code(&["review", "house.json", "nowhere.json", "--packs", "fine"]), 2);
    assert_eq!(code(&["review", "house.json", "--packs", "nowhere"]), 2);
    assert_eq!(code(&["review", "house.json", "--packs", "fine", "--as-of", "2025-02-30"]), 2);
    assert_eq!(code(&["review"]), 2);
    assert_eq!(code(&["review", "house.json", "--packs", "crash"]), 3);
    Ok(())
}

#[test]
fn reports_go_to_a_file_whole_and_without_colour() -> Outcome {
    let bench = bench()?;
    let arguments = ["review", "house.json", "--packs", "county", "--color", "always"];
    let (_, coloured, _) = said(&mut bench.redtag(&arguments));
    assert!(coloured.contains("\u{1b}["));
    let (code, out, err) = said(bench.redtag(&arguments).args(["--output", "report.txt"]));
    assert_eq!((code, out.as_str(), err.as_str()), (1, "", ""));
    let report = std::fs::read_to_string(bench.path().join("report.txt"))?;
    let (_, plain, _) = said(&mut bench.redtag(&arguments[..4]));
    assert_eq!(report, plain);
    let (code, _, err) = said(bench.redtag(&arguments).args(["--output", "nowhere/report.txt"]));
    assert_eq!(code, 2, "{err}");
    Ok(())
}

#[test]
fn colour_is_asked_for_by_the_environment_too() -> Outcome {
    let bench = bench()?;
    let arguments = ["review", "house.json", "--packs", "county"];
    assert!(said(bench.redtag(&arguments).env("CLICOLOR_FORCE", "1")).1.contains("\u{1b}["));
    assert!(!said(bench.redtag(&arguments).env("CLICOLOR_FORCE", "1").args(["--color", "never"])).1.contains("\u{1b}["));
    assert!(!said(&mut bench.redtag(&arguments)).1.contains("\u{1b}["));
    Ok(())
}

#[test]
fn the_stage_and_the_day_are_the_askers_then_the_projects() -> Outcome {
    let bench = bench()?;
    bench.project("rough.json", "\n  \"stage\": \"rough-in\",")?;
    let head = |arguments: &[&str]| {
        let (_, out, _) = said(bench.redtag(&["review", "--packs", "county"]).args(arguments));
        out.lines().nth(1).unwrap_or_default().trim().to_owned()
    };
    assert_eq!(head(&["house.json"]), "stage permit; the law of 2025-03-14 (the day the permit was applied for)");
    assert_eq!(head(&["rough.json"]), "stage rough-in; the law of 2025-03-14 (the day the permit was applied for)");
    assert_eq!(
        head(&["rough.json", "--stage", "final", "--as-of", "2024-02-29"]),
        "stage final; the law of 2024-02-29 (as asked)"
    );
    Ok(())
}

#[test]
fn many_files_are_reviewed_in_order_and_a_broken_one_stops_no_other() -> Outcome {
    let bench = bench()?;
    bench.project("another.json", "")?;
    bench.write("broken.json", "{\n  \"schema\": 1,\n  \"nam\": \"x\"\n}\n")?;
    let (code, out, err) = said(&mut bench.redtag(&["review", "*.json", "--packs", "county"]));
    assert_eq!(code, 2);
    let files: Vec<&str> = out.lines().filter(|line| line.starts_with(['a', 'h']) && line.contains(".json  ")).collect();
    assert_eq!(files, ["another.json  Gull Point boathouse", "house.json  Gull Point boathouse"], "{out}");
    assert!(err.contains("broken.json:3:3") && err.contains("name"), "{err}");
    Ok(())
}

#[test]
fn the_log_goes_to_standard_error_and_names_every_module() -> Outcome {
    let bench = bench()?;
    let arguments = ["review", "house.json", "--packs", "county"];
    let (_, quiet, _) = said(&mut bench.redtag(&arguments));
    let (code, out, err) = said(bench.redtag(&arguments).args(["--log", "debug"]));
    assert_eq!((code, out), (1, quiet));
    assert!(err.contains("module{name=\"first\"") && err.contains("module{name=\"second\""), "{err}");
    assert_eq!(said(bench.redtag(&arguments).args(["--log", "loud=="])).0, 2);
    Ok(())
}

#[cfg(unix)]
#[test]
fn a_reader_that_goes_away_is_no_error() -> Outcome {
    use std::process::{Command, Stdio};
    let bench = bench()?;
    let mut child = Command::new(env!("CARGO_BIN_EXE_program"))
        .args(["schema", "project"])
        .current_dir(bench.path())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()?;
    drop(child.stdout.take());
    let output = child.wait_with_output()?;
    assert_eq!((output.status.code(), String::from_utf8(output.stderr)?.as_str()), (Some(0), ""));
    Ok(())
}

#[test]
fn a_misspelled_rule_is_told_the_right_one() -> Outcome {
    let bench = bench()?;
    let (code, out, err) = said(&mut bench.redtag(&["explain", "hostile/frist", "--packs", "county"]));
    assert_eq!((code, out.as_str()), (2, ""));
    assert!(err.contains("did you mean hostile/first?"), "{err}");
    let (code, out, _) = said(&mut bench.redtag(&["explain", "hostile/first", "--packs", "county"]));
    assert_eq!(code, 0);
    assert!(out.starts_with("hostile/first  A rule of a module made for tests\n"), "{out}");
    Ok(())
}

#[test]
fn ten_mistakes_are_ten_complaints_each_at_its_line() -> Outcome {
    let bench = bench()?;
    let lines = [
        "{",
        "  \"schema\": 1,",
        "  \"stage\": \"roughin\",",
        "  \"site\": { \"elevation\": 300, \"frost_dept\": \"3 ft\" },",
        "  \"spaces\": [",
        "    { \"id\": \"shed\", \"kind\": \"mechanical-room\", \"floor_area\": \"7 psi\" },",
        "    { \"id\": \"shed\", \"kind\": \"mechanical-room\" }",
        "  ],",
        "  \"equipment\": [",
        "    { \"id\": \"b-1\", \"kind\": \"boiler\", \"space\": \"sched\" },",
        "    { \"id\": \"b-2\", \"kind\": \"boyler\" },",
        "    { \"id\": \"b-3\", \"kind\": \"boiler\", \"weight\": \"-5 lb\" },",
        "    { \"id\": \"b-4\", \"kind\": \"boiler\", \"outdoors\": \"no\" },",
        "    { \"kind\": \"boiler\" }",
        "  ]",
        "}",
    ];
    bench.write("broken.json", lines.join("\n"))?;
    let (code, out, err) = said(&mut bench.redtag(&["review", "broken.json", "--packs", "county"]));
    assert_eq!(code, 2);
    // On standard error for whoever runs it, and in the report for whoever reads that.
    for told in [out, err] {
        let places = told.lines().filter_map(|line| line.split_once("(broken.json:"));
        let at: Vec<usize> = places.filter_map(|(_, place)| place.split(':').next()?.parse().ok()).collect();
        assert_eq!(at, [3, 4, 4, 6, 7, 10, 11, 12, 13, 14], "{told}");
    }
    Ok(())
}
