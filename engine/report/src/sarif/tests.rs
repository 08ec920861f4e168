use super::*;
use crate::{Format, sample};
use serde_json::Value;

fn log(strict: bool, change: impl FnOnce(&mut redtag_schema::review::Reviews)) -> Value {
    serde_json::from_str(&sample::with_changed(Format::Sarif, strict, change)).expect("SARIF is JSON")
}

#[test]
fn the_log_reads_like_this() {
    insta::assert_snapshot!(sample::as_it_is(Format::Sarif, false));
}

#[test]
fn levels_follow_outcomes_and_strictness() {
    let levels = |log: &Value| {
        let results = log["runs"][0]["results"].as_array().cloned().unwrap_or_default();
        results.iter().map(|result| result["level"].as_str().unwrap_or_default().to_owned()).collect::<Vec<_>>()
    };
    // Last the piece of equipment of which no rule spoke.
    assert_eq!(levels(&log(false, |_| ())), ["error", "note", "note", "note"]);
    assert_eq!(levels(&log(true, |_| ())), ["error", "warning", "note", "warning"]);
}

#[test]
fn a_failed_module_is_told_and_the_run_is_no_success() {
    let failed = log(false, |_| ());
    let invocation = &failed["runs"][0]["invocations"][0];
    assert_eq!(invocation["executionSuccessful"], false);
    assert_eq!(invocation["toolExecutionNotifications"][0]["descriptor"]["id"], "out-of-fuel");
    let fine = log(false, |reviews| reviews.reviews[0].failures.clear());
    assert_eq!(fine["runs"][0]["invocations"][0]["executionSuccessful"], true);
}

#[test]
fn a_variance_suppresses_and_the_finding_stays() {
    let log = log(false, |reviews| {
        let finding = &mut reviews.reviews[0].findings[0];
        finding.outcome = Answer::Advice;
        finding.variance = Some("Variance 2025-07".to_owned());
    });
    let results = &log["runs"][0]["results"];
    assert_eq!(results[0]["level"], "error");
    assert_eq!(results[0]["suppressions"][0]["justification"], "Variance 2025-07");
    assert_eq!(results[1]["suppressions"], serde_json::json!([]), "on every result or on none");
}

#[test]
fn what_was_known_before_is_unchanged() {
    let log = log(false, |reviews| {
        reviews.reviews[0].since = Some("main".to_owned());
        reviews.reviews[0].findings[0].known = true;
    });
    let results = &log["runs"][0]["results"];
    assert_eq!((&results[0]["baselineState"], &results[1]["baselineState"]), (&"unchanged".into(), &"new".into()));
}

#[test]
fn paths_are_uris_and_messages_hold_no_places() {
    let log = log(false, |reviews| {
        reviews.reviews[0].file = "houses/Lot 4: a%b#c.json".to_owned();
        reviews.reviews[0].findings[0].subject.label = "room {0} [x](y)".to_owned();
    });
    let result = &log["runs"][0]["results"][0];
    let uri = &result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"];
    assert_eq!(uri, "houses/Lot%204%3A%20a%25b%23c.json");
    assert!(result["message"]["text"].as_str().is_some_and(|text| text.contains("room {{0}} \\[x\\](y)")), "{result}");
}

#[test]
fn too_many_results_leave_the_worst() {
    let log = log(false, |reviews| {
        let advice = reviews.reviews[0].findings[2].clone();
        let findings = &mut reviews.reviews[0].findings;
        findings.splice(0..0, std::iter::repeat_n(advice, MOST_RESULTS));
    });
    let results = log["runs"][0]["results"].as_array().cloned().unwrap_or_default();
    assert_eq!((results.len(), &results[0]["level"]), (MOST_RESULTS, &"error".into()));
    let notifications = log["runs"][0]["invocations"][0]["toolExecutionNotifications"].as_array().cloned().unwrap_or_default();
    assert!(notifications.iter().any(|one| one["descriptor"]["id"] == "left-off"));
}

#[test]
fn the_category_hangs_on_files_and_jurisdiction() {
    let id = |change: fn(&mut redtag_schema::review::Reviews)| log(false, change)["runs"][0]["automationDetails"]["id"].clone();
    assert_eq!(id(|_| ()), "redtag/model-residential/permit/houses/boatyard.json/");
    let two: fn(&mut redtag_schema::review::Reviews) = |reviews| {
        let mut second = reviews.reviews[0].clone();
        second.file = "houses/duplex.json".to_owned();
        reviews.reviews.push(second);
    };
    assert_eq!(id(two), "redtag/model-residential/permit/houses/");
}
