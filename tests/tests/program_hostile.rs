//! A pack full of modules that misbehave: the program names each, tells what they leave unanswered, and the honest module's
//! findings come all the same.

mod program_support;

use program_support::{Bench, Outcome, answering, finding, said};
use redtag_schema::review::Reviews;

/// Each with the kind of failure it ends in.
const HOSTILE: [(&str, &str); 11] = [
    ("imports-wasi", "refused"),
    ("loops", "out-of-fuel"),
    ("loops-at-its-start", "out-of-fuel"),
    ("eats-memory", "out-of-memory"),
    ("overflows-its-stack", "stack-overflow"),
    ("answers-rubbish", "bad-answer"),
    ("answers-one-gigabyte", "out-of-memory"),
    ("answers-too-much", "answer-too-large"),
    ("floods-the-log", "log-flood"),
    ("panics", "panicked"),
    ("gives-up", "own-error"),
];

#[test]
fn every_hostile_module_is_named_and_the_honest_one_answers() -> Outcome {
    let bench = Bench::new()?;
    bench.project("house.json", "")?;
    let mut modules = vec![("honest", answering("honest", &[finding("honest", 0, "correction", "has no shutoff")])?.1)];
    for (name, _) in HOSTILE {
        modules.push((name, redtag_tests::hostile(name)?));
    }
    modules.push(("compile-bomb", redtag_tests::compile_bomb(2, 1200, 2000)?));
    bench.pack("county", &modules)?;
    let (code, out, err) = said(&mut bench.redtag(&["review", "house.json", "--packs", "county", "--format", "json"]));
    assert_eq!((code, err.as_str()), (3, ""), "{out}");
    let reviews: Reviews = serde_json::from_str(&out)?;
    let review = &reviews.reviews[0];
    assert_eq!(review.findings.iter().map(|one| one.rule.as_str()).collect::<Vec<_>>(), ["hostile/honest"]);
    let mut failed: Vec<(&str, &str)> = review.failures.iter().map(|one| (one.module.as_str(), one.kind.as_str())).collect();
    failed.sort_unstable();
    let mut expected: Vec<(&str, &str)> = HOSTILE.into_iter().chain([("compile-bomb", "refused")]).collect();
    expected.sort_unstable();
    assert_eq!(failed, expected);
    for failure in &review.failures {
        assert!(failure.message.contains(&format!("`{}`", failure.module)), "{}", failure.message);
    }
    Ok(())
}

#[test]
fn answers_that_break_the_contract_are_told_where() -> Outcome {
    let bench = Bench::new()?;
    bench.project("house.json", "")?;
    let (_, other) = answering("liar", &[finding("somebody-else", 0, "complies", "is well")])?;
    let (_, lost) = answering("lost", &[finding("lost", 7, "complies", "is well")])?;
    bench.pack("county", &[("liar", other), ("lost", lost)])?;
    let (code, out, _) = said(&mut bench.redtag(&["review", "house.json", "--packs", "county"]));
    assert_eq!(code, 3);
    assert!(!out.contains("complies  "), "a module that is not believed has no findings: {out}");
    let flat = out.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "module `liar` is not believed: its answer breaks the contract in a finding of rule hostile/somebody-else: at \
         /findings/0/rule expected one of the rules asked about (hostile/liar), got hostile/somebody-else",
        "module `lost` is not believed: its answer breaks the contract in a finding of rule hostile/lost: at \
         /findings/0/subject/pointer expected the pointer of something in the project, got /equipment/7",
    ] {
        assert!(flat.contains(words), "{out}");
    }
    Ok(())
}

#[test]
fn text_of_a_module_cannot_command_the_terminal() -> Outcome {
    let bench = Bench::new()?;
    bench.project("house.json", "")?;
    let (_, rude) = answering("rude", &[finding("rude", 0, "correction", "\u{1b}[2Japproved\u{202e}\nby the county")])?;
    bench.pack("county", &[("rude", rude)])?;
    let (_, out, _) = said(&mut bench.redtag(&["review", "house.json", "--packs", "county"]));
    assert!(!out.contains(['\u{1b}', '\u{202e}']), "{out:?}");
    Ok(())
}
