//! The whole program against `--version`: what a person waits for who runs it.
//!
//! `cargo build --release -p redtag && cargo bench -p redtag-benches --bench program --profile measure`
#![expect(clippy::print_stdout, reason = "a benchmark prints its figures")]

use criterion::Criterion;
use redtag_benches::{boatyard, criterion, ratio, root, wanted};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::{env, fs};

/// A project of one furnace: the least that is worth a review.
const FURNACE: &str = r#"{"schema": 1, "name": "One furnace", "equipment": [{"id": "furnace", "kind": "furnace"}]}"#;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    if !wanted() {
        return Ok(());
    }
    let program = env::var_os("REDTAG_PROGRAM").map_or_else(|| root().join("target/release/redtag"), PathBuf::from);
    if !program.exists() {
        println!("{} is not there: cargo build --release -p redtag, or set REDTAG_PROGRAM", program.display());
        return Ok(());
    }
    let work = tempfile::tempdir()?;
    let furnace = work.path().join("furnace.json");
    fs::write(&furnace, FURNACE)?;
    let mut criterion = criterion();
    let runs = Runs { program: &program, cache: work.path().join("cache") };
    runs.time(&mut criterion, "version", &["--version"]);
    for (name, house) in [("furnace", furnace), ("boatyard", boatyard())] {
        let house = house.to_string_lossy().into_owned();
        let review = ["review", house.as_str(), "--format", "json"];
        // The first review compiles, the ones that are timed find the code.
        runs.once(&review);
        runs.time(&mut criterion, &format!("{name}-answers-kept"), &review);
    }
    for name in ["furnace-answers-kept", "boatyard-answers-kept"] {
        ratio(&format!("{name} / --version"), ("program", name), ("program", "version"));
    }
    Ok(())
}

struct Runs<'a> {
    program: &'a Path,
    cache: PathBuf,
}

impl Runs<'_> {
    /// Runs it to its end; a review with corrections ends with 1.
    fn once(&self, arguments: &[&str]) {
        let mut command = Command::new(self.program);
        command.args(arguments).env("REDTAG_CACHE", &self.cache).stdout(Stdio::null()).stderr(Stdio::null());
        let status = command.status().expect("the program runs");
        assert!(matches!(status.code(), Some(0 | 1)), "{arguments:?}: {status}");
    }

    fn time(&self, criterion: &mut Criterion, name: &str, arguments: &[&str]) {
        let mut group = criterion.benchmark_group("program");
        group.sample_size(30);
        group.bench_function(name, |bencher| bencher.iter(|| self.once(arguments)));
        group.finish();
    }
}
