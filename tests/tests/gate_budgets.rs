//! What a stranger's file can cost: every attack ends by itself, with a word that names what was too much, within a minute on an
//! idle machine and a gigabyte. The files are made here; what each would have cost without a limit stands beside it, as measured
//! before there was one.

#![cfg(target_os = "linux")]

mod program_support;

use program_support::{Bench, Outcome, answering, finding, said};
use redtag_tests::{compile_bomb, hostile_folder};
use serde_json::{Value, json};
use std::io::Write as _;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// What a run may take here: this machine may be busy with other tests, so that the clock has some room.
const SECONDS: u64 = 150;
const BYTES: u64 = 1 << 30;

/// Runs the program, and answers its exit code and what it said on both of its outputs. It must end within the limits.
fn within(bench: &Bench, arguments: &[&str]) -> Result<(i32, String), Box<dyn std::error::Error>> {
    let (out, err) = (std::fs::File::create(bench.path().join("out"))?, std::fs::File::create(bench.path().join("err"))?);
    let mut child = Command::new(env!("CARGO_BIN_EXE_program"))
        .args(arguments)
        .arg("--no-cache")
        .current_dir(bench.path())
        .stdin(Stdio::null())
        .stdout(out)
        .stderr(err)
        .spawn()?;
    let (start, mut peak) = (Instant::now(), 0);
    let status = loop {
        peak = peak.max(peak_bytes(child.id()));
        if let Some(status) = child.try_wait()? {
            break status;
        }
        if start.elapsed() > Duration::from_secs(SECONDS) || peak > BYTES {
            child.kill()?;
            child.wait()?;
            return Err(format!("{arguments:?}: {} s, {} MiB", start.elapsed().as_secs(), peak >> 20).into());
        }
        std::thread::sleep(Duration::from_millis(10));
    };
    let (took, peak) = (start.elapsed().as_secs_f64(), peak >> 20);
    writeln!(std::io::stderr(), "{arguments:?}: {took:.1} s, {peak} MiB, {status}")?;
    let text = |name: &str| std::fs::read(bench.path().join(name)).map(|bytes| String::from_utf8_lossy(&bytes).into_owned());
    Ok((status.code().unwrap_or(-1), text("out")? + &text("err")?))
}

/// The most memory a process held so far.
fn peak_bytes(process: u32) -> u64 {
    let status = std::fs::read_to_string(format!("/proc/{process}/status")).unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    line.and_then(|words| words.split_whitespace().next()?.parse::<u64>().ok()).unwrap_or(0) << 10
}

fn manifest(name: &str, amendments: Vec<Value>) -> Value {
    json!({
        "schema": 1, "name": name, "version": "1.0.0", "title": "A pack made for tests", "authority": {"name": "Nobody"},
        "contract": "1.0", "amendments": amendments,
    })
}

fn withdraw(rule: &str, document: &str) -> Value {
    json!({"change": "withdraw", "rule": rule, "ordinance": {"document": document}})
}

/// A component made from the frame of the tests with a change of its text.
fn changed(name: &str, review: &str, from: &str, to: &str) -> Result<Vec<u8>, Box<dyn std::error::Error>> {
    let frame = std::fs::read_to_string(hostile_folder().join("frame.wat"))?;
    assert!(frame.contains(from), "{from}");
    Ok(wat::parse_str(frame.replace(from, to).replace("@name", name).replace("@review", review))?)
}

const CRASHES: &str = "(func (export \"review\") (param i32 i32) (result i32) (unreachable))";

/// A short module whose long title is copied into each of many findings came to more than 7 GB.
#[test]
fn a_title_that_is_copied_into_every_finding() -> Outcome {
    let bench = Bench::new()?;
    bench.project("house.json", "")?;
    let long = changed("long", CRASHES, "A rule of a module made for tests", &"x".repeat(50_000))?;
    bench.pack("model", &[("long", long)])?;
    let (code, said) = within(&bench, &["review", "house.json", "--packs", "model"])?;
    assert!(code == 3 && said.contains("title"), "{said}");
    // Findings without end are counted.
    let many: Vec<Value> = (0..5_000).map(|at| finding("many", at % 2, "complies", "so")).collect();
    bench.pack("many", &[answering("many", &many).map(|(_, wasm)| ("many", wasm))?])?;
    let command = ["review", "house.json", "--packs", "many", "--most-findings", "4999"];
    let (code, said) = within(&bench, &command)?;
    assert!(code == 3 && said.contains("too-much-said"), "{said}");
    let (code, _) = within(&bench, &["review", "house.json", "--packs", "many"])?;
    assert_eq!(code, 0);
    Ok(())
}

/// An ordinance of 5 MB, copied beside every finding of its rule, came to more than 7 GB; 60,000 amendments to more than 120 s.
#[test]
fn manifests_that_say_too_much() -> Outcome {
    let bench = Bench::new()?;
    bench.project("house.json", "")?;
    bench.write("long/pack.json", manifest("long", vec![withdraw("a/b", &"x".repeat(5 << 20))]).to_string())?;
    let (code, said) = within(&bench, &["review", "house.json", "--packs", "long"])?;
    assert!(code == 2 && said.contains("text-too-long"), "{said}");
    let all = (0..60_000).map(|at| withdraw(&format!("a/b{at}"), "none")).collect();
    bench.write("many/pack.json", manifest("many", all).to_string())?;
    let (code, said) = within(&bench, &["review", "house.json", "--packs", "many"])?;
    assert!(code == 2 && said.contains("too-many"), "{said}");
    // As many as are taken, each of them wrong.
    let all = (0..5_000).map(|at| withdraw(&format!("a/b{at}"), "none")).collect();
    bench.write("most/pack.json", manifest("most", all).to_string())?;
    let (code, said) = within(&bench, &["review", "house.json", "--packs", "most"])?;
    assert!(code == 2 && said.contains("unknown-rule"), "{}", &said[..said.len().min(2000)]);
    Ok(())
}

/// A change that copies a list into itself doubled it until more than 6.5 GB were gone, in a case and in a request to explain.
#[test]
fn a_change_that_doubles() -> Outcome {
    let bench = Bench::new()?;
    let (_, wasm) = answering("doubles", &[])?;
    bench.pack("model", &[("doubles", wasm)])?;
    let double = json!({"op": "copy", "from": "/equipment", "path": "/equipment/-"});
    let change = Value::Array(vec![double; 64]);
    let case = format!(
        "# Doubles\n\n```json project\n{{\"schema\": 1, \"equipment\": [{{\"id\": \"a\", \"kind\": \"boiler\"}}]}}\n```\n\n## Not applicable: grows\n\n\
         ```json change\n{change}\n```\n\n```json findings\n[]\n```\n"
    );
    bench.write("model/cases/hostile/doubles.md", case)?;
    let mut pack: Value = serde_json::from_slice(&std::fs::read(bench.path().join("model/pack.json"))?)?;
    pack["cases"] = json!(["cases"]);
    bench.write("model/pack.json", pack.to_string())?;
    let (code, said) = within(&bench, &["prove", "model"])?;
    assert!(code == 2 && said.contains("change-does-not-fit"), "{said}");
    let (code, _) = within(&bench, &["explain", "hostile/doubles", "--packs", "model"])?;
    assert_eq!(code, 0);
    Ok(())
}

/// A file of holes takes no room on the disk; sealing its folder took all memory. A pipe was waited for without end.
#[test]
fn files_that_are_none() -> Outcome {
    let bench = Bench::new()?;
    bench.project("house.json", "")?;
    bench.write("packs/holes/pack.json", manifest("holes", Vec::new()).to_string())?;
    std::fs::File::create(bench.path().join("packs/holes/hole"))?.set_len(8 << 30)?;
    // Nobody asks for the pack: it is no reason to stop, nor to read it.
    let (code, _) = within(&bench, &["review", "house.json"])?;
    assert!(code <= 1, "{code}");
    let (code, said) = within(&bench, &["review", "house.json", "--packs", "packs/holes"])?;
    assert!(code == 2 && said.contains("unreadable-pack"), "{said}");
    std::fs::File::create(bench.path().join("hole.zip"))?.set_len(8 << 30)?;
    let (code, said) = within(&bench, &["review", "house.json", "--packs", "hole.zip"])?;
    assert!(code == 2 && said.contains("larger than"), "{said}");
    for pipe in ["pipe.json", "pipe.zip", "packs/pipe.zip"] {
        assert!(Command::new("mkfifo").arg(bench.path().join(pipe)).status()?.success());
    }
    let (code, said) = within(&bench, &["review", "pipe.json"])?;
    assert!(code == 2 && said.contains("no regular file"), "{said}");
    for command in [
        &["review", "house.json", "--packs", "pipe.zip"][..],
        &["review", "house.json", "--trust", "pipe.zip"],
        &["review", "house.json", "--lock", "pipe.zip"],
    ] {
        let (code, said) = within(&bench, command)?;
        assert!(code == 2 && said.contains("no regular file"), "{command:?}: {said}");
    }
    let (code, _) = within(&bench, &["review", "house.json"])?;
    assert!(code <= 1, "a pipe beside the packs is none of them: {code}");
    Ok(())
}

/// A project of 15.7 MB came to 3.7 GB, eight of 15 MB to 5.5 GB; 13.5 MB of misspelt kinds took more than 120 s.
#[test]
fn projects_without_measure() -> Outcome {
    let bench = Bench::new()?;
    let (_, wasm) = answering("idle", &[])?;
    bench.pack("model", &[("idle", wasm)])?;
    // Of the size that is read, and with as many things as are taken.
    let house = |bytes: usize, kind: &str| {
        let mut text = String::from("{\"schema\": 1, \"equipment\": [");
        let mut at = 0;
        while text.len() < bytes {
            text.push_str(&format!(
                "{}{{\"id\": \"e{at}\", \"kind\": \"{kind}{}\"}}",
                if at > 0 { "," } else { "" },
                if kind == "boiler" { String::new() } else { at.to_string() }
            ));
            at += 1;
        }
        text + "]}"
    };
    bench.write("large.json", house(15_700_000, "boiler"))?;
    let (code, said) = within(&bench, &["review", "large.json", "--packs", "model"])?;
    assert!(code == 2 && said.contains("too-large"), "{said}");
    bench.write("many.json", house(1_000_000, "boyler"))?;
    let (code, said) = within(&bench, &["review", "many.json", "--packs", "model"])?;
    assert!(code == 2 && said.contains("too-many"), "{said}");
    for at in 0..8 {
        bench.write(&format!("eight/{at}.json"), house(200_000, "boiler"))?;
    }
    let (code, _) = within(&bench, &["review", "eight/*.json", "--packs", "model", "--format", "json-lean"])?;
    assert_eq!(code, 0);
    bench.write("misspelt.json", house(200_000, "boyler"))?;
    let (code, said) = within(&bench, &["review", "misspelt.json", "--packs", "model"])?;
    assert!(code == 2 && said.contains("more-complaints"), "{}", &said[said.len().saturating_sub(2000)..]);
    Ok(())
}

/// Forty modules that never say what they hold took more than 120 s, and each bomb for the compiler some 180 s.
#[test]
fn modules_that_are_never_ready() -> Outcome {
    let bench = Bench::new()?;
    bench.project("house.json", "")?;
    let describe = "(func (export \"describe\") (result i32)\n";
    let mut modules = Vec::new();
    for at in 0..40 {
        let name = format!("loops-{at}");
        modules.push((name.clone(), changed(&name, CRASHES, describe, &format!("{describe}(loop $for_ever (br $for_ever))"))?));
    }
    let named: Vec<(&str, Vec<u8>)> = modules.iter().map(|(name, wasm)| (name.as_str(), wasm.clone())).collect();
    bench.pack("model", &named)?;
    let (code, said) = within(&bench, &["review", "house.json", "--packs", "model"])?;
    assert!(code == 3 && said.contains("out-of-fuel"), "{said}");
    let bombs: Vec<(String, Vec<u8>)> = (0..4)
        .map(|at| Ok((format!("bomb-{at}"), compile_bomb(60 + at, 900, 900)?)))
        .collect::<Result<_, Box<dyn std::error::Error>>>()?;
    let named: Vec<(&str, Vec<u8>)> = bombs.iter().map(|(name, wasm)| (name.as_str(), wasm.clone())).collect();
    bench.pack("bombs", &named)?;
    let (code, said) = within(&bench, &["review", "house.json", "--packs", "bombs"])?;
    assert!(code == 3, "{said}");
    Ok(())
}

/// What a run has left for preparing is a named outcome too.
#[test]
fn a_run_ends_preparing_when_its_time_is_up() -> Outcome {
    let bench = Bench::new()?;
    bench.project("house.json", "")?;
    let (_, wasm) = answering("late", &[])?;
    bench.pack("model", &[("late", wasm)])?;
    let (code, out, _) = said(&mut bench.redtag(&["review", "house.json", "--packs", "model", "--preparing", "0", "--no-cache"]));
    assert!(code == 3 && out.contains("run-out-of-time") && out.contains("--preparing"), "{out}");
    Ok(())
}
