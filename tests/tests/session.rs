//! The one door: what an embedder reviews through. In order, guarded, what can be reviewed of a drawing in progress, and what
//! was not looked at.

mod program_support;

use program_support::{Bench, Outcome, answering, finding};
use redtag::session::{Asked, Session, Settings, Source};
use redtag_schema::contract::Outcome as Answer;
use redtag_schema::review::Unread;
use serde_json::{Value, json};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

/// A session over a pack with one module, which has a complaint about the first piece of equipment of every project.
fn session(bench: &Bench) -> Result<Session, Box<dyn std::error::Error>> {
    let (name, wasm) = answering("tanks", &[finding("tanks", 0, "correction", "stands too low")])?;
    bench.pack("county", &[(&name, wasm)])?;
    Ok(Session::open(Settings {
        packs: vec![bench.path().join("county")],
        compiler: Some(env!("CARGO_BIN_EXE_compile_module").into()),
        workers: Some(4),
        ..Settings::default()
    })?)
}

fn project(name: &str) -> Value {
    json!({"schema": 1, "name": name, "equipment": [{"id": "t-1", "kind": "boiler"}, {"id": "p-1", "kind": "panel"}]})
}

fn source(name: &str, project: &Value) -> Source {
    Source::bytes(name, project.to_string())
}

#[test]
fn reviews_come_in_the_order_of_the_sources_and_a_bad_one_stops_none() -> Outcome {
    let bench = Bench::new()?;
    let session = session(&bench)?;
    let texts: Vec<(String, String)> = (0..60)
        .map(|at| match at % 7 {
            3 => (format!("{at}"), "{\"schema\": 1, \"equipmint\": []}".to_owned()),
            _ => (format!("{at}"), project(&format!("house {at}")).to_string()),
        })
        .collect();
    let sources = texts.clone().into_iter().map(|(name, text)| Source::bytes(name, text));
    let results: Vec<_> = session.review_all(sources.collect::<Vec<_>>(), Asked::default()).collect();
    assert_eq!(results.len(), 60);
    for (at, result) in results.iter().enumerate() {
        match result {
            Ok(review) => {
                assert_eq!((review.file.as_str(), at % 7 == 3), (texts[at].0.as_str(), false));
                assert_eq!(review.counts[&Answer::Correction], 1);
            }
            Err(refusal) => {
                assert_eq!((refusal.file.as_str(), at % 7), (texts[at].0.as_str(), 3));
                assert_eq!(refusal.refused().complaints[0].code, "unknown-field");
            }
        }
    }
    Ok(())
}

#[test]
fn sources_are_not_taken_far_ahead_of_the_reader() -> Outcome {
    let bench = Bench::new()?;
    let session = session(&bench)?;
    let taken = Arc::new(AtomicUsize::new(0));
    let counter = Arc::clone(&taken);
    let sources = (0..1000).map(move |at| {
        counter.fetch_add(1, Ordering::SeqCst);
        source(&at.to_string(), &project("house"))
    });
    let mut stream = session.review_all(sources, Asked::default());
    for _ in 0..5 {
        stream.next().ok_or("a review")??;
    }
    std::thread::sleep(std::time::Duration::from_millis(300));
    // Five are read, the channel holds eight for four workers, one is handed over and one is at the door.
    assert!(taken.load(Ordering::SeqCst) <= 5 + 8 + 2, "{taken:?}");
    drop(stream);
    Ok(())
}

#[test]
fn an_answer_comes_before_the_next_question() -> Outcome {
    let bench = Bench::new()?;
    let session = session(&bench)?;
    let (ask, asked) = std::sync::mpsc::channel::<Source>();
    let mut stream = session.review_all(asked, Asked::default());
    for at in 0..3 {
        ask.send(source(&at.to_string(), &project("house")))?;
        assert_eq!(stream.next().ok_or("a review")??.file, at.to_string());
    }
    drop(ask);
    assert!(stream.next().is_none());
    Ok(())
}

#[test]
fn a_drawing_in_progress_is_reviewed_beside_its_complaints() -> Outcome {
    let bench = Bench::new()?;
    let session = session(&bench)?;
    let corner = |x: &str, y: &str| json!({"x": x, "y": y});
    let mut drawing = project("drawing");
    drawing["spaces"] = json!([{"id": "room", "kind": "mechanical-room", "outline":
        [corner("0 ft", "0 ft"), corner("8 ft", "0 ft"), corner("8 ft", "8 ft"), corner("0 ft", "8 ft")]}]);
    drawing["equipment"][0]["space"] = json!("room");
    drawing["equipment"][0]["placement"] =
        json!({"x": "8 ft", "y": "4 ft", "width": "2 ft", "depth": "2 ft", "height": "5 ft", "facing": "south"});
    let draft = session.read(source("drawing.json", &drawing));
    let refused = session.review(&draft).map(|_| ()).unwrap_err().refused();
    assert_eq!(refused.complaints[0].code, "outside-its-space");
    let asked = Asked { in_progress: true, ..Asked::default() };
    let review = session.review_as(&draft, &asked)?;
    assert_eq!(review.counts[&Answer::Correction], 1);
    assert_eq!(review.complaints, refused.complaints, "the complaint stands beside the review");
    // Anything else that is wrong still refuses it: nothing can be told from a word that is not one.
    drawing["spaces"][0]["kind"] = json!("rooom");
    let wrong = session.read(source("drawing.json", &drawing));
    assert!(session.review_as(&wrong, &asked).is_err());
    assert!(wrong.checked().value.is_some(), "what can be read is answered all the same");
    Ok(())
}

#[test]
fn a_fact_is_changed_by_a_patch() -> Outcome {
    let bench = Bench::new()?;
    let session = session(&bench)?;
    let draft = session.read(source("house.json", &project("before")));
    let changed = draft.changed(&json!([{"op": "replace", "path": "/name", "value": "after"}])).map_err(|one| one.one_line())?;
    assert_eq!(session.review(&session.read(changed))?.project.as_deref(), Some("after"));
    let wrong = draft.changed(&json!([{"op": "remove", "path": "/nothing"}])).unwrap_err();
    assert_eq!(wrong.code.word(), "change-does-not-fit");
    assert_eq!(draft.changed(&json!("nonsense")).unwrap_err().code.word(), "bad-change");
    Ok(())
}

#[test]
fn what_was_not_looked_at_is_said() -> Outcome {
    let bench = Bench::new()?;
    let session = session(&bench)?;
    let mut house = project("quiet");
    house["exhausts"] = json!([]);
    let review = session.review(&session.read(source("house.json", &house)))?;
    let silent: Vec<&str> = review.not_looked_at.equipment.iter().filter_map(|one| one.id.as_deref()).collect();
    assert_eq!(silent, ["p-1"], "the module speaks of the first piece only");
    let facts: Vec<(&str, Unread)> = review.not_looked_at.facts.iter().map(|one| (one.pointer.as_str(), one.why)).collect();
    assert!(facts.contains(&("/exhausts", Unread::NoRuleReadsIt)), "{facts:?}");
    Ok(())
}

#[test]
fn a_day_that_is_none_is_refused() -> Outcome {
    let bench = Bench::new()?;
    let session = session(&bench)?;
    for (pointer, days) in [
        ("/application_date", ["2025-02-30", "spring", "2025-3-14", ""]),
        ("/variances/0/expires", ["never", "2025-13-01", "31.12.2025", "0"]),
    ] {
        for day in days {
            let mut house = project("dates");
            house["variances"] = json!([{"id": "v-1", "rule": "tanks/height", "expires": "2026-01-01"}]);
            house["application_date"] = json!("2025-03-14");
            *house.pointer_mut(pointer).ok_or("the place")? = json!(day);
            let refused = session.review(&session.read(source("house.json", &house))).map(|_| ()).unwrap_err().refused();
            let told: Vec<_> = refused.complaints.iter().map(|one| (one.code.as_str(), one.pointer.as_deref())).collect();
            assert_eq!(told, [("bad-date", Some(pointer))], "{day}");
        }
    }
    Ok(())
}
