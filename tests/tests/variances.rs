//! Variances through the program: each settles one rule for one subject and stays in sight; every other one is found out.

mod program_support;

use program_support::{Bench, Outcome, answering, finding, said};
use redtag_schema::contract::Outcome as Answer;
use redtag_schema::review::{Review, ReviewedFinding, Reviews};
use serde_json::{Value, json};
use std::error::Error;

const VARIANCE: &str = "redtag/variance";

/// A pack whose rules break for the boiler and for the panel, with a county above it that bars variances from one of them.
fn bench() -> Result<Bench, Box<dyn Error>> {
    let bench = Bench::new()?;
    let mut whole = finding("whole", 0, "correction", "the dwelling has {{no}} address");
    whole["subject"] = json!({"pointer": "/name", "label": "the dwelling"});
    let mut open = finding("open", 0, "unresolved", "cannot tell");
    open["missing"] = json!([{"pointer": "/equipment/0/weight"}]);
    let modules = [
        answering(
            "clear",
            &[finding("clear", 0, "correction", "is too close"), finding("clear", 1, "correction", "is too close")],
        )?,
        answering(
            "barred",
            &[finding("barred", 0, "correction", "has no relief valve"), finding("barred", 1, "complies", "has")],
        )?,
        answering("whole", &[whole])?,
        answering("open", &[open])?,
    ];
    let modules: Vec<(&str, Vec<u8>)> = modules.iter().map(|(name, wasm)| (name.as_str(), wasm.clone())).collect();
    bench.pack("model", &modules)?;
    let county = json!({
        "schema": 1, "name": "county", "version": "1.0.0", "title": "An invented county", "authority": {"name": "Nobody"},
        "stands_on": {"name": "model", "version": "^1"}, "contract": "1.0", "no_variance": ["hostile/barred"],
    });
    bench.write("county/pack.json", county.to_string())?;
    Ok(bench)
}

fn variance(id: &str, rule: &str, subject: Option<&str>, change: &Value) -> Value {
    let mut variance = json!({
        "id": id, "rule": format!("hostile/{rule}"), "document": "Variance 2025-07", "granted_by": "the Building Board",
        "granted_on": "2025-02-11", "expires": "2026-02-11", "conditions": ["a guard is fitted"],
    });
    if let Some(subject) = subject {
        variance["subject"] = json!(subject);
    }
    for (field, value) in change.as_object().into_iter().flatten() {
        variance[field] = value.clone();
    }
    variance
}

fn review_with(bench: &Bench, variances: &[Value], more: &[&str]) -> Result<(i32, Review), Box<dyn Error>> {
    let text = format!("\n  \"variances\": {},", json!(variances));
    bench.project("house.json", &text)?;
    let packs = ["--packs", "model", "--packs", "county"];
    let mut command = bench.redtag(&["review", "house.json", "--format", "json"]);
    let (code, out, err) = said(command.args(packs).args(more));
    assert_eq!(err, "");
    let mut reviews: Reviews = serde_json::from_str(&out)?;
    Ok((code, reviews.reviews.remove(0)))
}

fn of<'r>(review: &'r Review, rule: &str) -> Vec<&'r ReviewedFinding> {
    review.findings.iter().filter(|finding| finding.rule == rule).collect()
}

/// What is said of the only variance of a project.
fn remark(bench: &Bench, variance: Value, more: &[&str]) -> Result<(Answer, String), Box<dyn Error>> {
    let (_, review) = review_with(bench, &[variance], more)?;
    match of(&review, VARIANCE).as_slice() {
        [one] => Ok((one.outcome, one.message.clone())),
        several => Err(format!("{} remarks: {several:?}", several.len()).into()),
    }
}

#[test]
fn it_settles_one_rule_for_one_subject_and_stays_in_sight() -> Outcome {
    let bench = bench()?;
    let (_, review) = review_with(&bench, &[variance("v", "clear", Some("b-1"), &json!({}))], &[])?;
    assert_eq!(of(&review, VARIANCE), Vec::<&ReviewedFinding>::new());
    let clear = of(&review, "hostile/clear");
    let [panel, boiler] = clear.as_slice() else { return Err(format!("{clear:?}").into()) };
    assert_eq!((panel.outcome, panel.subject.pointer.as_str(), &panel.variance), (Answer::Correction, "/equipment/1", &None));
    assert_eq!((boiler.outcome, boiler.subject.pointer.as_str()), (Answer::Advice, "/equipment/0"));
    assert_eq!(boiler.message, "settled by variance Variance 2025-07: is too close");
    let words =
        "Variance 2025-07, granted by the Building Board on 2025-02-11, good through 2026-02-11; conditions: a guard is fitted";
    assert_eq!(boiler.variance.as_deref(), Some(words));
    let (_, out, _) = said(&mut bench.redtag(&["review", "house.json", "--packs", "model"]));
    assert!(out.contains("settled by variance Variance 2025-07") && out.contains("conditions: a guard is fitted"), "{out}");
    Ok(())
}

#[test]
fn what_is_settled_does_not_fail_the_review() -> Outcome {
    let bench = bench()?;
    let all = [
        variance("v1", "clear", Some("b-1"), &json!({})),
        variance("v2", "clear", Some("p-1"), &json!({})),
        variance("v3", "barred", Some("b-1"), &json!({})),
        variance("v4", "whole", None, &json!({})),
    ];
    let (code, review) = review_with(&bench, &all, &[])?;
    let corrections: Vec<&str> =
        review.findings.iter().filter(|one| one.outcome == Answer::Correction).map(|one| one.rule.as_str()).collect();
    assert_eq!((code, corrections), (1, vec!["hostile/barred", VARIANCE]));
    assert_eq!(of(&review, "hostile/whole")[0].message, "settled by variance Variance 2025-07: the dwelling has {no} address");
    // The model code alone bars nothing.
    let (code, out, _) = said(&mut bench.redtag(&["review", "house.json", "--packs", "model", "--format", "json"]));
    assert_eq!(code, 0, "{out}");
    assert_eq!(review.counts[&Answer::Correction], 2);
    Ok(())
}

#[test]
fn the_last_day_still_counts_and_the_next_does_not() -> Outcome {
    let bench = bench()?;
    let granted = || variance("v", "clear", Some("b-1"), &json!({}));
    let (_, review) = review_with(&bench, &[granted()], &["--as-of", "2026-02-11"])?;
    assert_eq!(of(&review, VARIANCE), Vec::<&ReviewedFinding>::new());
    let (outcome, words) = remark(&bench, granted(), &["--as-of", "2026-02-12"])?;
    assert_eq!(outcome, Answer::Correction, "{words}");
    assert!(words.contains("was good through 2026-02-11"), "{words}");
    let (_, review) = review_with(&bench, &[granted()], &["--as-of", "2026-02-12"])?;
    assert!(of(&review, "hostile/clear").iter().all(|one| one.outcome == Answer::Correction && one.variance.is_none()));
    Ok(())
}

#[test]
fn those_that_settle_nothing_are_found_out() -> Outcome {
    let bench = bench()?;
    let none = json!({});
    for (granted, outcome, words) in [
        (variance("v", "barred", Some("b-1"), &none), Answer::Correction, "county 1.0.0 grants no variance from hostile/barred"),
        (variance("v", "barred", Some("p-1"), &none), Answer::Advice, "county 1.0.0 grants no variance from hostile/barred"),
        (
            variance("v", "clear", Some("b-1"), &json!({"expires": "2025-03-13"})),
            Answer::Correction,
            "was good through 2025-03-13",
        ),
        (variance("v", "open", Some("p-1"), &json!({"expires": "2025-03-13"})), Answer::Advice, "was good through 2025-03-13"),
        (variance("v", "gone", Some("b-1"), &none), Answer::Advice, "hostile/gone, which no pack of this rulebook holds"),
        (variance("v", "whole", Some("b-1"), &none), Answer::Advice, "is not needed: \"b-1\" does not break hostile/whole"),
        (variance("v", "open", Some("b-1"), &none), Answer::Advice, "whether \"b-1\" breaks hostile/open cannot be told yet"),
        (variance("v", "clear", Some("b-1"), &json!({"document": " "})), Answer::Unresolved, "needs document"),
        (json!({"id": "v", "subject": "b-1"}), Answer::Unresolved, "needs rule and document and expires"),
    ] {
        let shown = granted.to_string();
        let (found, said) = remark(&bench, granted, &[])?;
        assert_eq!(found, outcome, "{shown}: {said}");
        assert!(said.contains(words), "{shown}: {said}");
    }
    Ok(())
}

#[test]
fn one_correction_needs_one_variance() -> Outcome {
    let bench = bench()?;
    let twice = ["v1", "v2"].map(|id| variance(id, "clear", Some("b-1"), &json!({})));
    let (_, review) = review_with(&bench, &twice, &[])?;
    let remarks = of(&review, VARIANCE);
    assert_eq!(remarks.len(), 1);
    assert_eq!((remarks[0].subject.id.as_deref(), remarks[0].outcome), (Some("v2"), Answer::Advice));
    assert!(remarks[0].message.contains("another variance settles hostile/clear"), "{}", remarks[0].message);
    Ok(())
}

#[test]
fn a_remark_stands_at_the_variance_and_says_what_to_fill_in() -> Outcome {
    let bench = bench()?;
    let (_, review) = review_with(&bench, &[json!({"id": "v", "rule": "hostile/clear", "subject": "b-1"})], &[])?;
    let remark = of(&review, VARIANCE)[0];
    assert_eq!((remark.place.line, remark.subject.pointer.as_str()), (5, "/variances/0"));
    let missing: Vec<&str> = remark.missing.iter().map(|missing| missing.pointer.as_str()).collect();
    assert_eq!(missing, ["/variances/0/document", "/variances/0/expires"]);
    assert!(remark.missing.iter().all(|missing| missing.what.is_some() && missing.example.is_some()));
    Ok(())
}

#[test]
fn a_day_of_expiry_that_is_none_stops_the_project() -> Outcome {
    let bench = bench()?;
    let granted = variance("v", "clear", Some("b-1"), &json!({"expires": "2025-02-30"}));
    bench.project("house.json", &format!("\n  \"variances\": [{granted}],"))?;
    let (code, out, err) = said(&mut bench.redtag(&["review", "house.json", "--packs", "model"]));
    assert!(code == 2 && out.starts_with("house.json  cannot be reviewed"), "{out}");
    assert!(err.contains("2025-02-30") && err.contains("bad-date"), "{err}");
    Ok(())
}

#[test]
fn a_subject_that_is_no_longer_there_stops_the_project() -> Outcome {
    let bench = bench()?;
    let granted = variance("v", "clear", Some("b-9"), &json!({}));
    bench.project("house.json", &format!("\n  \"variances\": [{granted}],"))?;
    let (code, out, err) = said(&mut bench.redtag(&["review", "house.json", "--packs", "model"]));
    assert!(code == 2 && out.starts_with("house.json  cannot be reviewed"), "{out}");
    assert!(err.contains("b-9") && err.contains("house.json:5"), "{err}");
    Ok(())
}
