//! Files that cannot be reviewed: in every format of the report, beside the good ones, and in a stream.

mod program_support;

use program_support::{Bench, Outcome, answering, finding, said};
use redtag_schema::review::{LeanReviews, Reviews, StreamLine};
use serde_json::Value;

/// A good project and one with a slip in a unit and one in the syntax.
fn bench() -> Result<Bench, Box<dyn std::error::Error>> {
    let bench = Bench::new()?;
    let (name, wasm) = answering("tanks", &[finding("tanks", 0, "correction", "stands too low")])?;
    bench.pack("county", &[(&name, wasm)])?;
    bench.project("good.json", "")?;
    bench.write("bad.json", "{\n  \"schema\": 1,\n  \"site\": { \"elevation\": \"300 inn\", },\n}\n")?;
    Ok(bench)
}

fn report(bench: &Bench, format: &str) -> (i32, String, String) {
    said(&mut bench.redtag(&["review", "good.json", "bad.json", "--packs", "county", "--format", format]))
}

#[test]
fn a_refused_file_is_wrong_and_not_absent_in_json() -> Outcome {
    let bench = bench()?;
    let (code, out, err) = report(&bench, "json");
    assert_eq!(code, 2);
    assert!(err.contains("(bad.json:3:"), "{err}");
    let reviews: Reviews = serde_json::from_str(&out)?;
    assert_eq!((reviews.reviews.len(), reviews.refused.len()), (1, 1));
    let refused = &reviews.refused[0];
    assert_eq!(refused.file, "bad.json");
    let told: Vec<_> = refused.complaints.iter().map(|one| (one.code.as_str(), one.place.map(|place| place.line))).collect();
    assert_eq!(told, [("bad-amount", Some(3)), ("invalid-json", Some(3)), ("invalid-json", Some(3))]);
    let amount = &refused.complaints[0];
    assert_eq!(amount.pointer.as_deref(), Some("/site/elevation"));
    let written = amount.written.as_ref().ok_or("the line")?;
    let meant: String = written.text.chars().skip(written.start).take(written.end - written.start).collect();
    assert_eq!(meant, "inn");
    // Alone it is a report too, and not an empty one.
    let (code, out, _) = said(&mut bench.redtag(&["review", "bad.json", "--packs", "county", "--format", "json"]));
    let reviews: Reviews = serde_json::from_str(&out)?;
    assert_eq!((code, reviews.reviews.len(), reviews.refused.len()), (2, 0, 1));
    let schema = redtag_schema::published::schema("review").ok_or("the schema")?;
    assert!(jsonschema::is_valid(&schema, &serde_json::from_str(&out)?));
    Ok(())
}

#[test]
fn every_format_carries_it() -> Outcome {
    let bench = bench()?;
    for (format, word) in [
        ("text", "error    "),
        ("json-lean", "\"bad-amount\""),
        ("sarif", "\"document/bad-amount\""),
        ("junit", "document/bad-amount"),
        ("github", "::error file=bad.json,line=3"),
        ("gitlab", "document/bad-amount"),
        ("markdown", "bad-amount"),
    ] {
        let (code, out, _) = report(&bench, format);
        assert_eq!(code, 2, "{format}");
        assert!(out.contains(word) && out.contains("bad.json") && out.contains("inn"), "{format}: {out}");
        assert!(out.contains("good.json"), "{format}: the good file is reviewed all the same: {out}");
    }
    let (_, out, _) = report(&bench, "sarif");
    let log: Value = serde_json::from_str(&out)?;
    assert_eq!(log["runs"][0]["invocations"][0]["executionSuccessful"], false);
    Ok(())
}

#[test]
fn a_lean_report_is_what_its_schema_says() -> Outcome {
    let bench = bench()?;
    let (_, out, _) = report(&bench, "json-lean");
    let lean: LeanReviews = serde_json::from_str(&out)?;
    assert_eq!((lean.reviews[0].corrections.len(), lean.refused.len()), (1, 1));
    let schema = redtag_schema::published::schema("review-lean").ok_or("the schema")?;
    assert!(jsonschema::is_valid(&schema, &serde_json::from_str(&out)?));
    Ok(())
}

#[test]
fn a_stream_answers_every_line_in_order() -> Outcome {
    let bench = bench()?;
    let good = "{\"schema\": 1, \"name\": \"NAME\", \"equipment\": [{\"id\": \"b-1\", \"kind\": \"boiler\"}]}";
    let lines: Vec<String> = (0..40)
        .map(|at| match at % 5 {
            2 => "{\"schema\": 1, \"nam\": 3}".to_owned(),
            4 => "no JSON at all".to_owned(),
            _ => good.replace("NAME", &at.to_string()),
        })
        .collect();
    let mut command = bench.redtag(&["review", "--stream", "--packs", "county", "--no-answers"]);
    let (code, out, err) = said(command.write_stdin(lines.join("\n")));
    assert_eq!((code, err.as_str()), (2, ""));
    let schema = redtag_schema::published::schema("review-stream").ok_or("the schema")?;
    let answers: Vec<&str> = out.lines().collect();
    assert_eq!(answers.len(), 40);
    for (at, answer) in answers.iter().enumerate() {
        assert!(jsonschema::is_valid(&schema, &serde_json::from_str(answer)?), "{answer}");
        match serde_json::from_str(answer)? {
            StreamLine::Review(review) => {
                assert_eq!((review.project, review.file), (Some(at.to_string()), format!("line {}", at + 1)));
                assert_eq!(review.corrections.len(), 1);
            }
            StreamLine::Refused(refused) => {
                assert!(at % 5 == 2 || at % 5 == 4, "{answer}");
                assert_eq!(refused.file, format!("line {}", at + 1));
            }
        }
    }
    Ok(())
}

#[test]
fn a_lock_beside_the_stream_governs_it() -> Outcome {
    let bench = bench()?;
    bench.write("redtag.lock", "{\"schema\": 1, \"tool\": {\"name\": \"redtag\", \"version\": \"0.1.0\"}, \"packs\": []}")?;
    let mut command = bench.redtag(&["review", "--stream", "--packs", "county"]);
    let (code, out, _) = said(command.write_stdin("{\"schema\": 1}\n"));
    assert_eq!(code, 2);
    assert!(out.contains("\"refused\"") && out.contains("\"pack-not-locked\""), "{out}");
    Ok(())
}

#[test]
fn every_code_has_a_page() -> Outcome {
    let bench = Bench::new()?;
    let (code, out, err) = said(&mut bench.redtag(&["explain", "bad-amount"]));
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.starts_with("bad-amount\n") && out.contains("What to do:"), "{out}");
    let (code, out, _) = said(&mut bench.redtag(&["explain", "pack-drift", "--format", "json"]));
    let page: Value = serde_json::from_str(&out)?;
    assert_eq!((code, page["code"].as_str()), (0, Some("pack-drift")));
    Ok(())
}
