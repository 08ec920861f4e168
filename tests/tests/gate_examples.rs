//! The files under `examples/gate/` and `.github/`: they are YAML, have the parts their readers ask for, and every command in
//! them is one this program understands.

mod program_support;

use program_support::{Bench, Outcome, said};
use saphyr::{LoadableYamlNode as _, Yaml};
use std::path::{Path, PathBuf};

type Faulty<T> = Result<T, Box<dyn std::error::Error>>;

fn path(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(name)
}

fn read(name: &str) -> Faulty<String> {
    Ok(std::fs::read_to_string(path(name)).map_err(|error| format!("{name}: {error}"))?)
}

/// Does something with the one document of a file.
fn with_yaml(name: &str, look: impl FnOnce(&Yaml) -> Outcome) -> Outcome {
    let text = read(name)?;
    let documents = Yaml::load_from_str(&text)?;
    let [document] = documents.as_slice() else { return Err(format!("{name} is not one document").into()) };
    look(document)
}

fn at<'a>(yaml: &'a Yaml<'a>, keys: &[&str]) -> Faulty<&'a Yaml<'a>> {
    keys.iter().try_fold(yaml, |yaml, key| yaml.as_mapping_get(key).ok_or_else(|| format!("no {key}").into()))
}

#[test]
fn the_workflows_have_jobs_of_steps() -> Outcome {
    for name in [".github/workflows/check.yml", "examples/gate/github-workflow.yml"] {
        with_yaml(name, |workflow| {
            at(workflow, &["on"])?;
            at(workflow, &["permissions", "contents"])?;
            let jobs = at(workflow, &["jobs"])?.as_mapping().ok_or("jobs are no mapping")?;
            for (_, job) in jobs {
                at(job, &["runs-on"])?;
                for step in at(job, &["steps"])?.as_sequence().ok_or("steps are no list")? {
                    let does = ["run", "uses"].iter().filter(|key| step.as_mapping_get(key).is_some()).count();
                    assert_eq!(does, 1, "{name}: {step:?}");
                }
            }
            Ok(())
        })?;
    }
    Ok(())
}

#[test]
fn the_gitlab_job_hands_over_its_reports() -> Outcome {
    let text = read("examples/gate/gitlab-ci.yml")?;
    with_yaml("examples/gate/gitlab-ci.yml", |file| {
        for report in ["codequality", "junit"] {
            let named = at(file, &["redtag", "artifacts", "reports", report])?.as_str().ok_or("no name")?;
            assert!(text.contains(&format!("--output {named}")), "{named} is written by no command");
        }
        assert!(at(file, &["redtag", "script"])?.as_sequence().is_some_and(|script| script.len() == 3));
        Ok(())
    })
}

#[test]
fn the_hook_file_names_a_hook() -> Outcome {
    with_yaml("examples/gate/pre-commit-config.yaml", |file| {
        let repositories = at(file, &["repos"])?.as_sequence().ok_or("repos is no list")?;
        let hooks = at(&repositories[0], &["hooks"])?.as_sequence().ok_or("hooks is no list")?;
        for key in ["id", "name", "language", "entry", "files"] {
            at(&hooks[0], &[key])?;
        }
        Ok(())
    })
}

#[test]
fn every_option_in_the_examples_is_one_of_ours() -> Outcome {
    let bench = Bench::new()?;
    let (_, help, _) = said(&mut bench.redtag(&["review", "--help"]));
    let mut looked = 0;
    for entry in std::fs::read_dir(path("examples/gate"))? {
        let file = entry?.path();
        let text = std::fs::read_to_string(&file)?;
        for line in text.lines().filter(|line| line.contains("redtag review") || line.trim().starts_with("report --")) {
            let command = line.split_once("redtag review").map_or(line, |(_, rest)| rest);
            let words: Vec<&str> = command.split(|letter: char| letter.is_whitespace() || "`{}+=".contains(letter)).collect();
            for (number, word) in words.iter().enumerate().filter(|(_, word)| word.trim_start_matches(':').starts_with("--")) {
                let option = word.trim_start_matches(':');
                assert!(help.contains(option), "{}: {option}", file.display());
                if option == "--format" {
                    assert!(help.contains(&format!("- {}:", words[number + 1])), "{}: {}", file.display(), words[number + 1]);
                }
                looked += 1;
            }
        }
    }
    assert!(looked >= 10, "{looked}");
    Ok(())
}

/// The hook for git, run by git, in a repository of its own: what is new stops the commit, what was there does not.
#[cfg(unix)]
#[test]
fn the_git_hook_stops_what_is_new() -> Outcome {
    let bench = Bench::new()?;
    let git = |arguments: &[&str]| -> Faulty<(bool, String)> {
        let bin = bench.path().join("bin");
        let mut command = std::process::Command::new("git");
        command.current_dir(bench.path()).args(["-c", "user.name=n", "-c", "user.email=n@example.org"]).args(arguments);
        command
            .env("PATH", format!("{}:{}", bin.display(), std::env::var("PATH")?))
            .env("REDTAG_CACHE", bench.path().join("cache"));
        let output = command.output()?;
        Ok((output.status.success(), String::from_utf8_lossy(&[output.stdout, output.stderr].concat()).into_owned()))
    };
    std::fs::create_dir(bench.path().join("bin"))?;
    std::os::unix::fs::symlink(env!("CARGO_BIN_EXE_program"), bench.path().join("bin/redtag"))?;
    git(&["init", "--quiet"])?;
    std::fs::copy(path("examples/gate/pre-commit.sh"), bench.path().join(".git/hooks/pre-commit"))?;
    let house = read("examples/houses/boatyard-corrected.json")?;
    bench.write("projects/a house.json", &house)?;
    git(&["add", "projects"])?;
    let (done, said) = git(&["commit", "-m", "a house without corrections"])?;
    assert!(done, "{said}");
    bench.write("projects/a house.json", read("examples/houses/boatyard.json")?)?;
    git(&["add", "projects"])?;
    let (done, said) = git(&["commit", "-m", "with mistakes"])?;
    assert!(!done && said.contains("correction"), "{said}");
    assert!(git(&["commit", "--no-verify", "-m", "with mistakes all the same"])?.0);
    bench.write("projects/a house.json", read("examples/houses/boatyard.json")?.replacen('{', "{\n", 1))?;
    git(&["add", "projects"])?;
    let (done, said) = git(&["commit", "-m", "nothing new"])?;
    assert!(done, "{said}");
    Ok(())
}
