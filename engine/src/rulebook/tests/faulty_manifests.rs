//! A table of manifests with one fault each: the complaint and the line it points at.

use super::*;
use crate::diagnostic::Code;

const COUNTY: &str = r#"{
  "schema": 1,
  "name": "sedge-county",
  "version": "1.0.0",
  "title": "Sedge County, invented",
  "authority": { "name": "Sedge County building department, invented" },
  "stands_on": { "name": "base", "version": "^1" },
  "in_force": { "from": "2024-01-01" },
  "contract": "1.0",
  "modules": [],
  "amendments": [
    {
      "rule": "gas/trap",
      "change": "set",
      "parameter": "leg",
      "value": "6 in",
      "ordinance": { "document": "Ordinance 12", "section": "4" }
    },
    {
      "rule": "gas/opening-size",
      "change": "withdraw",
      "in_force": { "from": "2025-01-01", "until": "2025-12-31" },
      "ordinance": { "document": "Ordinance 13" }
    }
  ],
  "no_variance": ["gas/below-grade"]
}
"#;

/// One fault: what is replaced, by what, the complaint's code, what the line holds that it points at, what it says.
type Fault = (&'static str, &'static str, &'static str, &'static str, &'static str);

/// Faults of the manifest alone.
const ALONE: &[Fault] = &[
    (r#""version": "1.0.0""#, r#""version": "1.0""#, "bad-version", r#""version": "1.0","#, "three numbers"),
    (r#""^1""#, r#""one""#, "bad-version-range", "stands_on", "range"),
    ("sedge-county", "Sedge County", "bad-name", r#""name": "Sedge County","#, "small letters"),
    (r#""name": "base""#, r#""name": "sedge-county""#, "pack-cycle", "stands_on", "stands on itself"),
    (r#"{ "from": "2024-01-01" }"#, r#"{ "from": "2024-02-30" }"#, "bad-date", "2024-02-30", "calendar"),
    (
        r#"{ "from": "2024-01-01" }"#,
        r#"{ "from": "2024-01-02", "until": "2024-01-01" }"#,
        "bad-period",
        "2024-01-02",
        "ends before",
    ),
    (r#""until": "2025-12-31""#, r#""until": "2024-12-31""#, "bad-period", "2024-12-31", "ends before"),
    (r#""contract": "1.0""#, r#""contract": "2.0""#, "unknown-contract", "contract", "update redtag"),
    (r#""contract": "1.0""#, r#""contract": "one""#, "bad-contract", "contract", "two numbers"),
    (r#""section": "4" }"#, r#""section": "4" }, "resaon": "x""#, "unknown-field", "resaon", "`reason`"),
    (r#""change": "withdraw","#, r#""change": "withdraw", "with": "gas/trap","#, "unknown-field", "withdraw", "`with`"),
    (
        r#""modules": []"#,
        r#""modules": [{ "name": "gas", "file": "../gas.wasm", "sha256": "0000000000000000000000000000000000000000000000000000000000000000" }]"#,
        "bad-path",
        "../gas.wasm",
        "inside the pack",
    ),
    (r#""modules": []"#, r#""modules": [{ "name": "gas", "file": "gas.wasm", "sha256": "00" }]"#, "bad-digest", "gas.wasm", "64"),
    (r#""modules": []"#, r#""modules": [], "cases": ["/etc"]"#, "bad-path", "/etc", "inside the pack"),
    (
        "gas/opening-size\",\n      \"change\": \"withdraw\"",
        "gas/trap\",\n      \"change\": \"set\", \"parameter\": \"leg\", \"value\": \"5 in\"",
        "amended-twice",
        "{",
        "twice",
    ),
];

/// Faults that show against the packs below.
const LAYERED: &[Fault] = &[
    (r#""name": "base""#, r#""name": "bass""#, "missing-pack", "stands_on", "did you mean `base`"),
    (r#""^1""#, r#""^2""#, "no-version-in-range", "stands_on", "1.0.0"),
    ("2024-01-01", "2026-01-01", "not-in-force", "in_force", "not yet in force"),
    (r#"{ "from": "2024-01-01" }"#, r#"{ "until": "2024-12-31" }"#, "not-in-force", "in_force", "lapsed"),
    (r#""rule": "gas/trap""#, r#""rule": "gas/trip""#, "unknown-rule", "gas/trip", "did you mean `gas/trap`"),
    (r#"["gas/below-grade"]"#, r#"["gas/below-grad"]"#, "unknown-rule", "no_variance", "did you mean `gas/below-grade`"),
    (r#""parameter": "leg""#, r#""parameter": "legs""#, "unknown-parameter", r#""legs""#, "leg, share, capped, place, materials"),
    (r#""value": "6 in""#, r#""value": "6 psi""#, "wrong-dimension", "6 psi", "pressure"),
    (r#""value": "6 in""#, r#""value": 6"#, "unreadable-amount", r#""value": 6"#, "has no unit"),
    (r#""value": "6 in""#, r#""value": true"#, "wrong-type", "true", "a length from 1 in to 12 in"),
    (r#""value": "6 in""#, r#""value": "13 in""#, "value-out-of-range", "13 in", "from 1 in to 12 in"),
    (r#""value": "6 in""#, r#""value": "0.9 in""#, "value-out-of-range", "0.9 in", "from 1 in to 12 in"),
    (r#""leg","#, r#""share","#, "wrong-type", "6 in", "a plain number from 0 to 1"),
    (r#""leg","#, r#""capped","#, "wrong-type", "6 in", "true or false"),
    (r#""leg","#, r#""place","#, "unknown-choice", "6 in", "\"inlet\", \"riser\""),
    (
        "\"leg\",\n      \"value\": \"6 in\"",
        "\"place\",\n      \"value\": \"risr\"",
        "unknown-choice",
        "risr",
        "did you mean \"riser\"",
    ),
    (
        "\"leg\",\n      \"value\": \"6 in\"",
        "\"materials\",\n      \"value\": [\"csst\", \"csst\"]",
        "repeated-choice",
        "csst",
        "twice",
    ),
    ("\"leg\",\n      \"value\": \"6 in\"", "\"share\",\n      \"value\": 1.5", "value-out-of-range", "1.5", "from 0 to 1"),
    (
        r#""change": "withdraw""#,
        r#""change": "replace", "with": "gas/trp""#,
        "unknown-rule",
        "gas/trp",
        "did you mean `gas/trap`",
    ),
    (r#""change": "withdraw""#, r#""change": "replace", "with": "gas/opening-size""#, "replaced-by-itself", "replace", "itself"),
    (
        r#""change": "withdraw""#,
        r#""change": "replace", "with": "drain/conduit""#,
        "replaced-by-dormant",
        "replace",
        "adopts `drain/conduit`",
    ),
    (r#""change": "withdraw""#, r#""change": "cite", "citations": []"#, "cites-nothing", "cite", "names none"),
];

fn changed((from, to, ..): &Fault) -> String {
    assert_eq!(COUNTY.matches(from).count(), 1, "{from} stands once in the manifest");
    COUNTY.replace(from, to)
}

/// What is wrong with the complaint about a fault, if anything.
fn shortcoming<T>(fault: &Fault, result: Result<T, Vec<Diagnostic>>) -> Option<String> {
    let (_, to, code, line, says) = fault;
    let complaints = match result {
        Ok(_) => return Some(format!("{to}: nothing was complained about")),
        Err(complaints) => complaints,
    };
    let [complaint] = complaints.as_slice() else { return Some(format!("{to}: {}", lines(&complaints))) };
    let shown = complaint.render(crate::diagnostic::Paint::Plain);
    let good = complaint.code.word() == *code
        && line_of(complaint).contains(line)
        && shown.contains(says)
        && complaint.primary.as_ref().is_some_and(|span| span.file.name().ends_with("/pack.json"));
    (!good).then(|| format!("{to}: wanted {code} at a line with {line} saying {says}\n[{}] {shown}", complaint.code))
}

#[test]
fn the_manifest_without_a_fault_resolves() {
    let county = try_pack(COUNTY).unwrap_or_else(|complaints| panic!("{}", lines(&complaints)));
    resolved(&[base(), county], &["sedge-county"]);
}

#[test]
pub(crate) fn each_fault_of_a_manifest_alone_is_told_at_its_line() {
    let wrong: Vec<String> = ALONE.iter().filter_map(|fault| shortcoming(fault, try_pack(&changed(fault)))).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
pub(crate) fn each_fault_against_the_packs_below_is_told_at_its_line() {
    let answer = |fault: &Fault| try_pack(&changed(fault)).and_then(|county| try_rulebook(&[base(), county], &["sedge-county"]));
    let wrong: Vec<String> = LAYERED.iter().filter_map(|fault| shortcoming(fault, answer(fault))).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What the schema itself refuses comes through the reader of all documents.
#[test]
pub(crate) fn slips_the_schema_knows_are_told_at_their_lines() {
    for (from, to, line) in [
        (r#""title""#, r#""titel""#, "titel"),
        (r#""change": "withdraw""#, r#""change": "wihdraw""#, "wihdraw"),
        (r#""document": "Ordinance 13""#, r#""documnt": "Ordinance 13""#, "documnt"),
        (r#""schema": 1"#, r#""schema": 2"#, "schema"),
        (r#""modules": []"#, r#""modules": {}"#, "modules"),
        (r#""from": "2024-01-01""#, r#""from": "January""#, "January"),
        (r#""modules": [],"#, r#""modules": [],,"#, "modules"),
    ] {
        let complaints = try_pack(&COUNTY.replacen(from, to, 1)).expect_err(to);
        assert!(
            complaints.iter().any(|one| one.primary.is_some() && line_of(one).contains(line)),
            "{to}: {}",
            lines(&complaints)
        );
        assert!(complaints.iter().all(|one| one.code != Code::ReaderDisagrees), "{to}: {}", lines(&complaints));
    }
}
