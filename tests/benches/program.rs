//! The whole program against `--version`, a house more, the first review ever, and the memory of many houses: what a person or a
//! machine waits for who runs it.
//!
//! `cargo build --release -p redtag && cargo bench -p redtag-benches --bench program --profile measure`
#![expect(clippy::print_stdout, reason = "a benchmark prints its figures")]

use criterion::Criterion;
use redtag_benches::process::{Spent, spent};
use redtag_benches::{boatyard, criterion, many, median, ratio, root, wanted};
use serde_json::Value;
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::{env, fs};

/// A project of one furnace: the least that is worth a review.
const FURNACE: &str = r#"{"schema": 1, "name": "One furnace", "equipment": [{"id": "furnace", "kind": "furnace"}]}"#;
/// Houses more than one, to tell what one more costs.
const MORE: usize = 20;
/// Houses of a stream, whose memory is held against each other; `REDTAG_STREAM=1000,10000` names others.
const STREAMS: [usize; 2] = [40, 200];

type Outcome = Result<(), Box<dyn std::error::Error>>;

fn main() -> Outcome {
    if !wanted() {
        return Ok(());
    }
    let program = env::var_os("REDTAG_PROGRAM").map_or_else(|| root().join("target/release/redtag"), PathBuf::from);
    if !program.exists() {
        println!("{} is not there: cargo build --release -p redtag, or set REDTAG_PROGRAM", program.display());
        return Ok(());
    }
    let work = tempfile::tempdir()?;
    let mut criterion = criterion();
    let runs = Runs { program: &program, folder: work.path() };
    first(&runs)?;
    starts(&runs, &mut criterion)?;
    further(&runs, &mut criterion)?;
    memory(&runs)
}

/// The first review ever against one whose modules are optimised and whose answers are new, in processor time.
fn first(runs: &Runs<'_>) -> Outcome {
    let house = boatyard().to_string_lossy().into_owned();
    let review = ["review", house.as_str(), "--format", "json", "--no-answers"];
    let first = spent(runs.command(&review, "first"))?;
    let winch: Vec<f64> = (0..5).map(|_| spent(runs.command(&review, "first"))).map(seconds).collect::<Result<_, _>>()?;
    let warm = spent(runs.command(&["pack", "warm"], "first"))?;
    let later: Vec<f64> = (0..5).map(|_| spent(runs.command(&review, "first"))).map(seconds).collect::<Result<_, _>>()?;
    let later = middle(later);
    println!("first review ever / later, answers new (processor time): {:.2}", first.seconds / later);
    println!("by first code / by optimised code (processor time): {:.2}", middle(winch) / later);
    println!("optimising ahead / later review (processor time): {:.2}", warm.seconds / later);
    Ok(())
}

fn seconds(spent: std::io::Result<Spent>) -> std::io::Result<f64> {
    spent.map(|spent| spent.seconds)
}

fn middle(mut times: Vec<f64>) -> f64 {
    times.sort_by(f64::total_cmp);
    times.get(times.len() / 2).copied().unwrap_or(f64::NAN)
}

/// The program with everything kept, against what it takes to start at all.
fn starts(runs: &Runs<'_>, criterion: &mut Criterion) -> Outcome {
    let furnace = runs.folder.join("furnace.json");
    fs::write(&furnace, FURNACE)?;
    runs.time(criterion, "version", &["--version"]);
    for (name, house) in [("furnace-answers-kept", furnace), ("boatyard-answers-kept", boatyard())] {
        let house = house.to_string_lossy().into_owned();
        let review = ["review", house.as_str(), "--format", "json"];
        // The first review asks the modules, the ones that are timed find the answers.
        runs.once(&review);
        runs.time(criterion, name, &review);
        ratio(&format!("{name} / --version"), ("program", name), ("program", "version"));
    }
    Ok(())
}

/// What a house more costs in one run, answers kept and answers new.
fn further(runs: &Runs<'_>, criterion: &mut Criterion) -> Outcome {
    let house: Value = serde_json::from_slice(&fs::read(boatyard())?)?;
    let mut files = Vec::new();
    for (at, text) in many(&house, MORE + 1).enumerate() {
        let file = runs.folder.join(format!("house-{at}.json"));
        fs::write(&file, text)?;
        files.push(file.to_string_lossy().into_owned());
    }
    for (name, switch) in [("kept", None), ("new", Some("--no-answers"))] {
        for (count, some) in [("one", &files[..1]), ("all", &files[..])] {
            let mut arguments = vec!["review", "--format", "json-lean"];
            arguments.extend(switch);
            arguments.extend(some.iter().map(String::as_str));
            runs.once(&arguments);
            runs.time(criterion, &format!("{count}-{name}"), &arguments);
        }
    }
    let more = |name: &str| Some(median("program", &format!("all-{name}"))? - median("program", &format!("one-{name}"))?);
    if let (Some(kept), Some(new)) = (more("kept"), more("new")) {
        println!("a further house, answers kept / answers new: {:.3}", kept / new);
    }
    Ok(())
}

/// The most memory a stream of many houses takes, against that of few.
fn memory(runs: &Runs<'_>) -> Outcome {
    let house: Value = serde_json::from_slice(&fs::read(boatyard())?)?;
    let named = env::var("REDTAG_STREAM").ok();
    let counts = named.map(|named| named.split(',').filter_map(|count| count.parse().ok()).collect::<Vec<usize>>());
    let mut few = None;
    for count in counts.unwrap_or_else(|| STREAMS.to_vec()) {
        let lines = runs.folder.join(format!("{count}.ndjson"));
        let mut file = io::BufWriter::new(fs::File::create(&lines)?);
        for text in many(&house, count) {
            file.write_all(&text)?;
            file.write_all(b"\n")?;
        }
        file.flush()?;
        let mut command = runs.command(&["review", "--stream"], "memory");
        command.stdin(fs::File::open(&lines)?);
        let most = spent(command)?.most_memory;
        fs::remove_file(&lines)?;
        println!("{count} houses in a stream: {:.0} MiB at most", most / f64::from(1 << 20));
        let (first, least) = *few.get_or_insert((count, most));
        println!("memory, {count} houses / {first}: {:.3}", most / least);
    }
    Ok(())
}

struct Runs<'a> {
    program: &'a Path,
    folder: &'a Path,
}

impl Runs<'_> {
    fn command(&self, arguments: &[&str], cache: &str) -> Command {
        let mut command = Command::new(self.program);
        command.args(arguments).env("REDTAG_CACHE", self.folder.join(cache)).env("REDTAG_CACHE_KEY", self.folder.join("key"));
        command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
        command
    }

    /// Runs it to its end; a review with corrections ends with 1.
    fn once(&self, arguments: &[&str]) {
        let status = self.command(arguments, "cache").status().expect("the program runs");
        assert!(matches!(status.code(), Some(0 | 1)), "{arguments:?}: {status}");
    }

    fn time(&self, criterion: &mut Criterion, name: &str, arguments: &[&str]) {
        let mut group = criterion.benchmark_group("program");
        group.sample_size(30);
        group.bench_function(name, |bencher| bencher.iter(|| self.once(arguments)));
        group.finish();
    }
}
