//! Broken project files: everything wrong with one is said at once, each complaint at its place, and nothing panics.

use proptest::prelude::*;
use redtag::diagnostic::{Code, Diagnostic, Paint, Severity, render_all};
use redtag::document::{Limits, read_project, read_project_bytes};
use std::io::Write;

const SMALL_HOUSE: &str = include_str!("../fixtures/small-house.json");
const TEN_MISTAKES: &str = include_str!("../fixtures/ten-mistakes.json");

fn complaints(bytes: &[u8]) -> Vec<Diagnostic> {
    let found = read_project_bytes("house.json", bytes, &Limits::default());
    found.map_or_else(|complaints| complaints, |document| document.notes)
}

/// The only error about a document, in one line.
fn only_error(bytes: &[u8]) -> String {
    let errors: Vec<_> = complaints(bytes).iter().filter(|one| one.is_error()).map(Diagnostic::one_line).collect();
    assert_eq!(errors.len(), 1, "{errors:#?}");
    errors.into_iter().next().unwrap()
}

/// The number, from 1, of the first line of a text that has these words.
fn line_of(text: &str, words: &str) -> usize {
    text.lines().position(|line| line.contains(words)).map(|at| at + 1).unwrap_or_else(|| panic!("no {words}"))
}

#[test]
fn a_sound_house_is_read() {
    let document = read_project_bytes("house.json", SMALL_HOUSE.as_bytes(), &Limits::default()).map_err(shown).unwrap();
    assert!(document.notes.is_empty());
    assert_eq!(document.project.spaces.as_ref().map(Vec::len), Some(2));
    // 8 ft, in metres, exactly.
    assert_eq!(document.canonical["spaces"][0]["ceiling_height"]["si"], 2.4384);
    assert_eq!(document.canonical["spaces"][0]["ceiling_height"]["written"], "8 ft");
    let place = document.spans.value("/spaces/1/ceiling_height").unwrap();
    assert_eq!(&document.source.text()[place], "\"8 ft\"");
}

fn shown(complaints: Vec<Diagnostic>) -> String {
    render_all(&complaints, Paint::Plain)
}

#[test]
fn a_file_with_ten_mistakes_reports_ten_at_the_right_lines() {
    let found = complaints(TEN_MISTAKES.as_bytes());
    let places: Vec<(usize, &str)> =
        found.iter().map(|one| (one.primary.as_ref().expect("a place").start().line, one.code.word())).collect();
    let line = |words| line_of(TEN_MISTAKES, words);
    let expected = [
        (line("ground_snow_lode"), "unknown-field"),
        (line("contaminants") - 1, "duplicate-key"),
        (line("coridor"), "unknown-choice"),
        (line("coridor") + 4, "crossing-outline"),
        (line("Btuh/h"), "bad-amount"),
        (line("7 ft 6 in"), "outside-its-space"),
        (line("50 lb"), "bad-amount"),
        (line("\"pressure\": 7"), "bare-number"),
        (line("furnace1"), "dangling-reference"),
        (line("\"from\""), "duplicate-id"),
    ];
    let mut sorted = places.clone();
    sorted.sort_unstable();
    let mut expected_sorted = expected.to_vec();
    expected_sorted.sort_unstable();
    assert_eq!(sorted, expected_sorted, "{}", shown(found.clone()));
    insta::assert_snapshot!("ten_mistakes", shown(found));
}

#[test]
fn three_hundred_levels_are_too_deep() {
    let deep = format!("{}{}", "[".repeat(300), "]".repeat(300));
    let text = format!("{{\n  \"schema\": 1,\n  \"notes\": {deep}\n}}\n");
    // The object is the first level; the 127th list would be the 128th level.
    assert_eq!(only_error(text.as_bytes()), "house.json:3:138: error: objects and lists lie too deep inside one another");
    let fine = format!("{{\"schema\": 1, \"notes\": {}{}}}", "[".repeat(126), "]".repeat(126));
    assert!(only_error(fine.as_bytes()).contains("item 1 of `notes` cannot be a list"));
}

#[test]
fn fifty_megabytes_are_refused_before_they_are_read() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("huge.json");
    let mut file = std::fs::File::create(&path).unwrap();
    file.write_all(b"{\"schema\": 1, \"name\": \"").unwrap();
    let piece = vec![b'x'; 1 << 20];
    (0..50).for_each(|_| file.write_all(&piece).unwrap());
    file.write_all(b"\"}").unwrap();
    drop(file);
    let said = first_error(&path, &Limits::default());
    assert!(said.message.ends_with("is too large: it is 50 MiB"), "{}", said.message);
    assert_eq!(said.expected.as_deref(), Some("at most 16 MiB"));
}

#[test]
fn a_file_at_the_limit_is_read_and_one_byte_more_is_not() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("house.json");
    std::fs::write(&path, SMALL_HOUSE).unwrap();
    let limits = |bytes| Limits { bytes, ..Limits::default() };
    let length = SMALL_HOUSE.len() as u64;
    assert!(read_project(&path, &limits(length)).is_ok());
    assert_eq!(first_error(&path, &limits(length - 1)).code, Code::TooLarge);
}

fn first_error(path: &std::path::Path, limits: &Limits) -> Diagnostic {
    read_project(path, limits).unwrap_err().into_iter().next().unwrap()
}

#[test]
fn what_cannot_be_opened_is_said_without_a_place() {
    let folder = tempfile::tempdir().unwrap();
    let missing = first_error(&folder.path().join("none.json"), &Limits::default());
    assert_eq!((missing.code.word(), missing.primary.is_some()), ("unreadable-file", false));
    assert!(missing.message.contains("none.json"), "{}", missing.message);
    let is_folder = first_error(folder.path(), &Limits::default());
    assert!(is_folder.message.ends_with("is a folder, not a file"), "{}", is_folder.message);
}

#[test]
fn bytes_that_are_no_text_are_placed() {
    let mut bytes = SMALL_HOUSE.replace("Gull", "G?ll").into_bytes();
    let at = bytes.iter().position(|byte| *byte == b'?').unwrap();
    bytes[at] = 0xFC;
    assert_eq!(only_error(&bytes), "house.json:3:13: error: the byte 0xFC is not part of a UTF-8 text");
    let wide: Vec<u8> = [0xFF, 0xFE].into_iter().chain(SMALL_HOUSE.encode_utf16().flat_map(u16::to_le_bytes)).collect();
    assert_eq!(only_error(&wide), "error: `house.json` is stored as UTF-16");
}

#[test]
fn a_byte_order_mark_is_noted_and_moves_nothing() {
    let marked = |text: &str| [b"\xEF\xBB\xBF", text.as_bytes()].concat();
    let document = read_project_bytes("house.json", &marked(SMALL_HOUSE), &Limits::default()).map_err(shown).unwrap();
    let notes: Vec<_> = document.notes.iter().map(|note| (note.severity, note.code.word())).collect();
    assert_eq!(notes, [(Severity::Note, "byte-order-mark")]);
    let found = complaints(&marked("{\"schema\": 1, \"nam\": \"x\"}"));
    let lines: Vec<_> = found.iter().map(Diagnostic::one_line).collect();
    assert_eq!(lines[1], "house.json:1:15: error: the document has no field `nam` (/nam)");
}

#[test]
fn carriage_returns_move_nothing() {
    let lines = |text: &str| complaints(text.as_bytes()).iter().map(Diagnostic::one_line).collect::<Vec<_>>();
    let returned = TEN_MISTAKES.replace('\n', "\r\n");
    assert_eq!(lines(TEN_MISTAKES), lines(&returned));
    assert_eq!(shown(complaints(TEN_MISTAKES.as_bytes())), shown(complaints(returned.as_bytes())));
}

#[test]
fn texts_that_are_no_document_are_one_error() {
    let cut = &SMALL_HOUSE[..SMALL_HOUSE.find("\"hall\"").unwrap()];
    let table = [
        ("", "house.json:1:1: error: there is nothing in this file"),
        (" \n\t\r\n", "house.json:1:1: error: there is nothing in this file"),
        ("\u{feff}", "house.json:1:1: error: there is nothing in this file"),
        ("null", "house.json:1:1: error: the document cannot be `null`"),
        ("[]", "house.json:1:1: error: the document cannot be a list"),
        ("{}", "house.json:1:1: error: the document lacks the field `schema`"),
        ("{\"schema\": 2}", "house.json:1:12: error: this project is written for schema 2; this redtag reads schema 1 (/schema)"),
        (cut, "house.json:21:12: error: the file ends in the middle"),
        ("{\"schema\": 1,\n}", "house.json:1:13: error: there is a comma after the last entry"),
    ];
    for (text, wanted) in table {
        let found = only_error(text.as_bytes());
        assert_eq!(found, wanted, "{text}");
    }
    insta::assert_snapshot!("cut_off", shown(complaints(cut.as_bytes())));
}

#[test]
fn every_letter_of_the_schema_number_counts() {
    let text = SMALL_HOUSE.replace("\"schema\": 1", "\"schema\": 1.0");
    assert_eq!(only_error(text.as_bytes()), "house.json:2:13: error: there never was a schema 1.0 of a project (/schema)");
}

#[test]
fn colour_is_never_the_only_sign() {
    let found = complaints(TEN_MISTAKES.as_bytes());
    let plain = render_all(&found, Paint::Plain);
    let colour = render_all(&found, Paint::Colour);
    assert!(!plain.contains('\u{1b}') && colour.contains('\u{1b}'));
    assert_eq!(plain, without_escapes(&colour));
}

fn without_escapes(text: &str) -> String {
    let mut out = String::new();
    let mut pieces = text.split('\u{1b}');
    out.push_str(pieces.next().unwrap_or_default());
    pieces.filter_map(|piece| piece.split_once('m')).for_each(|(_, rest)| out.push_str(rest));
    out
}

#[test]
fn a_file_on_one_line_is_shown_around_each_place() {
    let value: serde_json::Value = serde_json::from_str(TEN_MISTAKES).unwrap();
    let mut value = value;
    value["notes"] = serde_json::json!(vec!["a remark of no consequence"; 20_000]);
    let text = value.to_string();
    let shown = shown(complaints(text.as_bytes()));
    assert!(shown.lines().all(|line| line.chars().count() < 500), "{:?}", shown.lines().map(str::len).max());
    assert!(shown.contains("did you mean `ground_snow_load`?"), "{shown}");
    insta::assert_snapshot!("one_line", shown);
}

#[test]
fn a_thousand_mistakes_are_counted_and_cut() {
    let rooms: Vec<_> = (0..3000).map(|at| serde_json::json!({ "id": format!("r{at}"), "kind": "attik" })).collect();
    let text = serde_json::json!({ "schema": 1, "spaces": rooms }).to_string();
    let found = complaints(text.as_bytes());
    assert_eq!(found.len(), 1001);
    assert_eq!(found.last().map(Diagnostic::one_line).as_deref(), Some("note: there are more complaints; 1000 are shown"));
}

/// What holds of every answer, whatever the question.
fn sound(bytes: &[u8]) -> Result<(), TestCaseError> {
    let found = match read_project_bytes("house.json", bytes, &Limits::default()) {
        Ok(document) => document.notes,
        Err(complaints) => {
            prop_assert!(complaints.iter().any(Diagnostic::is_error), "refused without an error");
            complaints
        }
    };
    for one in &found {
        let spans = one.primary.iter().chain(one.secondary.iter().map(|related| &related.span));
        for span in spans {
            let text = span.file.text();
            prop_assert!(text.get(span.range.clone()).is_some(), "{:?} of {}", span.range, text.len());
            let place = span.start();
            prop_assert!(place.line <= span.file.line_count() && place.column <= text.len() + 1);
            prop_assert_eq!(span.file.offset(place), span.range.start);
        }
        prop_assert_ne!(one.code, Code::ReaderDisagrees, "{}", one.one_line());
        prop_assert_eq!(one.one_line().lines().count(), 1);
        let coloured = one.render(Paint::Plain).contains('\u{1b}');
        prop_assert!(!coloured);
    }
    Ok(())
}

/// Places a value of the house can be replaced at, and what by.
fn with_other_value(at: usize, other: serde_json::Value) -> String {
    let mut house: serde_json::Value = serde_json::from_str(SMALL_HOUSE).unwrap();
    let mut places = Vec::new();
    pointers(&house, String::new(), &mut places);
    let place = places[at % places.len()].clone();
    *house.pointer_mut(&place).unwrap() = other;
    serde_json::to_string_pretty(&house).unwrap()
}

fn pointers(value: &serde_json::Value, pointer: String, out: &mut Vec<String>) {
    match value {
        serde_json::Value::Object(fields) => {
            fields.iter().for_each(|(name, inner)| pointers(inner, format!("{pointer}/{name}"), out));
        }
        serde_json::Value::Array(items) => {
            items.iter().enumerate().for_each(|(at, inner)| pointers(inner, format!("{pointer}/{at}"), out));
        }
        _ => {}
    }
    out.push(pointer);
}

fn any_value() -> impl Strategy<Value = serde_json::Value> {
    use serde_json::json;
    let leaf = prop_oneof![
        Just(json!(null)),
        any::<bool>().prop_map(|flag| json!(flag)),
        any::<i64>().prop_map(|number| json!(number)),
        any::<f64>().prop_map(|number| json!(number)),
        ".{0,12}".prop_map(|words| json!(words)),
        "-?[0-9]{1,3}(\\.[0-9])? ?(in|ft|gal|psi|Btu/h|\u{bd}|'|\"|\\\\)?".prop_map(|words| json!(words)),
        prop::sample::select(vec!["furnace", "meter", "hall", "furnace-1", "8 ft", "0 in", "1e300 ft", "tee"])
            .prop_map(|word| json!(word)),
    ];
    leaf.prop_recursive(3, 24, 4, |inner| {
        let name = prop_oneof![
            "[a-z_~/]{0,8}",
            prop::sample::select(vec!["id", "kind", "x", "y", "width", "outline"]).prop_map(str::to_owned)
        ];
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..4).prop_map(|items| json!(items)),
            prop::collection::vec((name, inner), 0..4)
                .prop_map(|fields| fields.into_iter().collect::<serde_json::Map<_, _>>().into()),
        ]
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_bytes_make_it_panic(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        sound(&bytes)?;
    }

    #[test]
    fn no_letters_of_json_make_it_panic(text in "[\\[\\]{}:,\"\\\\u0a9 .eE+\n-]{0,80}") {
        sound(text.as_bytes())?;
    }

    #[test]
    fn a_house_with_other_bytes_is_answered(at in any::<prop::sample::Index>(), gone in 0usize..12, put in prop::collection::vec(any::<u8>(), 0..6)) {
        let mut bytes = SMALL_HOUSE.as_bytes().to_vec();
        let at = at.index(bytes.len());
        let end = (at + gone).min(bytes.len());
        bytes.splice(at..end, put);
        sound(&bytes)?;
    }

    #[test]
    fn a_house_with_another_value_is_answered(at in any::<usize>(), other in any_value()) {
        sound(with_other_value(at, other).as_bytes())?;
    }
}
