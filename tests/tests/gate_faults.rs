//! What is left where a run is stopped half-way: the old file or the whole new one, and a cache that is believed or missed.

#![cfg(target_os = "linux")]

mod program_support;

use program_support::{Bench, Outcome, answering, finding, said};
use redtag_schema::review::Reviews;
use std::fs::File;
use std::process::{Command, Stdio};
use std::time::Duration;

fn bench() -> Result<Bench, Box<dyn std::error::Error>> {
    let bench = Bench::new()?;
    bench.project("house.json", "")?;
    let (_, wasm) = answering("bonding", &[finding("bonding", 1, "correction", "is not bonded")])?;
    bench.pack("model", &[("bonding", wasm)])?;
    Ok(bench)
}

const REVIEW: [&str; 8] = ["review", "house.json", "--packs", "model", "--format", "json", "--output", "report.json"];

fn program(bench: &Bench, cache: &str) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_program"));
    command.current_dir(bench.path()).env("REDTAG_CACHE", bench.path().join(cache)).stdin(Stdio::null());
    command.stdout(Stdio::null()).stderr(Stdio::null());
    command
}

fn whole(bench: &Bench) -> Result<Reviews, Box<dyn std::error::Error>> {
    Ok(serde_json::from_slice(&std::fs::read(bench.path().join("report.json"))?)?)
}

/// A disk that takes no more, as `/dev/full` plays it.
#[test]
fn a_full_disk_is_told_and_ends_with_2() -> Outcome {
    let bench = bench()?;
    let command = ["review", "house.json", "--packs", "model", "--output", "/dev/full"];
    let (code, _, err) = said(&mut bench.redtag(&command));
    assert!(code == 2 && err.contains("/dev/full") && err.contains("No space left"), "{code} {err}");
    let full = File::options().write(true).open("/dev/full")?;
    let status = program(&bench, "cache").args(["review", "house.json", "--packs", "model"]).stdout(full).status()?;
    assert_eq!(status.code(), Some(2));
    Ok(())
}

/// A limit on the size of files, which ends a program that writes beyond it: the report of before is left whole.
#[test]
fn a_report_that_cannot_be_finished_leaves_the_one_of_before() -> Outcome {
    let bench = bench()?;
    assert_eq!(program(&bench, "cache").args(REVIEW).status()?.code(), Some(1));
    let before = std::fs::read(bench.path().join("report.json"))?;
    let line = format!(
        "ulimit -f 1; exec {} review house.json --packs model --all --format text --output report.json",
        env!("CARGO_BIN_EXE_program")
    );
    // Without a cache, whose files are larger than the limit too; the report of many files is.
    for at in 0..40 {
        std::fs::copy(bench.path().join("house.json"), bench.path().join(format!("house-{at}.json")))?;
    }
    let line = line.replace("house.json", "house*.json --no-cache");
    let status =
        Command::new("sh").args(["-c", &line]).current_dir(bench.path()).stdout(Stdio::null()).stderr(Stdio::null()).status()?;
    assert_ne!(status.code(), Some(1), "the limit was met");
    assert_eq!(std::fs::read(bench.path().join("report.json"))?, before);
    Ok(())
}

/// Ended at any moment, by a signal nobody can catch: the report is the old one or the new one, and the next run believes what it
/// finds in the cache or does it again.
#[test]
fn a_run_that_is_killed_leaves_nothing_half_done_under_its_name() -> Outcome {
    let bench = bench()?;
    assert_eq!(program(&bench, "cache").args(REVIEW).status()?.code(), Some(1));
    let good = whole(&bench)?;
    for round in 0..24 {
        // Every third run begins with an empty cache.
        let cache = format!("cache-{}", round / 3);
        let mut child = program(&bench, &cache).args(REVIEW).spawn()?;
        std::thread::sleep(Duration::from_millis(7 * round));
        child.kill()?;
        child.wait()?;
        assert_eq!(whole(&bench)?, good, "round {round}");
        assert_eq!(program(&bench, &cache).args(REVIEW).status()?.code(), Some(1), "round {round}");
        assert_eq!(whole(&bench)?, good, "round {round}");
    }
    Ok(())
}

#[test]
fn several_runs_at_once_share_a_cache_and_a_report() -> Outcome {
    let bench = bench()?;
    for _ in 0..3 {
        let runs = (0..4).map(|_| program(&bench, "shared").args(REVIEW).spawn()).collect::<Result<Vec<_>, _>>()?;
        for mut run in runs {
            assert_eq!(run.wait()?.code(), Some(1));
        }
        assert_eq!(whole(&bench)?.reviews[0].findings.len(), 1);
    }
    Ok(())
}
