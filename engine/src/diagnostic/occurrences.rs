//! Every kind of complaint can occur: what brings each about, by the tests beside the code that makes it or here.

use super::{Code, Diagnostic};
use crate::document::{Limits, check_project, check_project_bytes};
use crate::trust::{LockFile, TrustFile};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::path::Path;
use std::sync::{Mutex, PoisonError};

static SEEN: Mutex<BTreeSet<Code>> = Mutex::new(BTreeSet::new());

/// Notes that a complaint was made.
pub(super) fn note(code: Code) {
    SEEN.lock().unwrap_or_else(PoisonError::into_inner).insert(code);
}

/// The kinds that no file of a user's brings about in these tests, and why.
const ELSEWHERE: [(Code, &str); 9] = [
    (Code::DoesNotFit, "a guard behind the folding of mistakes: no document is known that gets this far"),
    (Code::NoBasePack, "only a program built without the base pack says it"),
    (Code::UnreadablePacks, "a folder that may not be listed: whoever runs tests as root may list every folder"),
    (Code::ModelCodeReplaced, "tests/tests/gate_law.rs, which has packs beside a project and the program"),
    (Code::PackDrift, "tests/tests/archives.rs, which has packs on disk and the program"),
    (Code::UnsignedPack, "tests/tests/archives.rs"),
    (Code::BadSignature, "tests/tests/archives.rs"),
    (Code::UntrustedSignature, "tests/tests/archives.rs"),
    (Code::BadKey, "tests/tests/archives.rs"),
];

#[test]
fn every_kind_can_occur() {
    by_the_tests_of_documents();
    by_the_tests_of_packs();
    documents();
    projects();
    cases_and_manifests();
    locks();
    let seen = SEEN.lock().unwrap_or_else(PoisonError::into_inner).clone();
    let elsewhere: BTreeSet<Code> = ELSEWHERE.iter().map(|(code, _)| *code).collect();
    let never: Vec<&Code> = Code::ALL.iter().filter(|code| !seen.contains(code) && !elsewhere.contains(code)).collect();
    assert!(never.is_empty(), "nothing brings these about: {never:?}");
}

fn by_the_tests_of_documents() {
    use crate::document::tests::{self, amounts, contradictions, geometry, names, schema};
    tests::what_the_schema_accepts_and_the_type_refuses_is_our_fault();
    tests::a_schema_that_is_none_is_refused();
    geometry::figures_that_are_no_rooms_are_told_apart();
    amounts::what_is_impossible_is_an_error_and_what_is_unusual_a_warning();
    contradictions::every_pair_fires_where_both_are_said();
    geometry::bodies_that_stand_in_each_other_are_told();
    geometry::a_corner_given_again_is_a_warning();
    geometry::how_far_a_body_oversteps_is_said();
    geometry::a_body_ends_under_the_ceiling();
    names::an_id_is_taken_once_even_by_another_class();
    names::a_mention_of_the_wrong_class_says_so();
    names::a_dangling_mention_in_a_list_is_placed_at_its_item();
    schema::each_mistake_is_one_complaint();
    schema::another_generation_stops_the_reading();
}

fn by_the_tests_of_packs() {
    use crate::cases::tests::faults;
    use crate::pack::tests::opening;
    use crate::rulebook::tests::{amendments, faulty_manifests, figures, places};
    opening::a_changed_byte_a_missing_and_an_unlisted_module_are_told();
    opening::a_pack_that_is_source_says_how_to_build_it();
    opening::what_is_no_pack_is_refused_in_words();
    amendments::layers_side_by_side_that_amend_one_thing_are_a_conflict_naming_both();
    amendments::a_rule_of_a_pack_beside_is_out_of_reach();
    amendments::one_rule_in_two_modules_is_an_error_and_one_module_in_two_packs_is_not();
    amendments::what_changes_nothing_is_a_note();
    amendments::a_replacement_that_a_layer_above_withdraws_is_a_note();
    amendments::replacements_that_lead_in_a_circle_are_told();
    faulty_manifests::each_fault_of_a_manifest_alone_is_told_at_its_line();
    faulty_manifests::each_fault_against_the_packs_below_is_told_at_its_line();
    faulty_manifests::slips_the_schema_knows_are_told_at_their_lines();
    figures::who_sets_one_of_several_twins_is_told_which_stay();
    figures::a_figure_that_is_not_there_or_takes_no_such_value_is_told();
    places::the_edition_of_the_day_is_taken();
    places::two_editions_for_one_day_are_not_chosen_between();
    places::circles_are_told_once_whatever_is_wanted();
    places::what_is_wanted_and_not_there_is_told();
    faults::faults_of_case_files_are_told_at_their_lines();
    faults::slips_in_the_json_of_a_case_are_told_at_their_lines();
    crate::trust::tests::a_wrong_line_is_shown_and_no_other_counts();
}

fn read(bytes: &[u8]) -> Vec<Diagnostic> {
    check_project_bytes("house.json", bytes, &Limits::default()).complaints
}

/// That the complaints are these and no others.
fn expect(complaints: &[Diagnostic], wanted: &[Code]) {
    let found: Vec<Code> = complaints.iter().map(|one| one.code).collect();
    assert_eq!(found, wanted, "{}", super::render_all(complaints, super::Paint::Plain));
}

fn documents() {
    expect(&check_project(Path::new("no-such-file.json"), &Limits::default()).complaints, &[Code::UnreadableFile]);
    let small = Limits { bytes: 4, ..Limits::default() };
    expect(&check_project_bytes("house.json", b"{\"schema\": 1}", &small).complaints, &[Code::TooLarge]);
    expect(&read(b"\xFF\xFEa"), &[Code::NotUtf8]);
    expect(&read(b"\xEF\xBB\xBF{\"schema\": 1}"), &[Code::ByteOrderMark]);
    expect(&read(b" \n"), &[Code::EmptyFile]);
    expect(&read(b"{\"schema\": 1,}"), &[Code::InvalidJson]);
    expect(&read("[".repeat(300).as_bytes()), &[Code::TooDeep]);
    expect(&read(b"{\"schema\": 1, \"name\": \"a\", \"name\": \"b\"}"), &[Code::DuplicateKey]);
    expect(&read(b"{\"schema\": 7}"), &[Code::UnknownSchema]);
    let few = Limits { complaints: 1, ..Limits::default() };
    let text = json!({"schema": 1, "a": 1, "b": 2, "c": 3}).to_string();
    expect(&check_project_bytes("house.json", text.as_bytes(), &few).complaints, &[Code::UnknownField, Code::MoreComplaints]);
    expect(&read(json!({"schema": 1, "application_date": "2025-02-30"}).to_string().as_bytes()), &[Code::BadDate]);
}

fn projects() {
    let corners: Vec<Value> = (0..5_000).map(|at| json!({"x": format!("{at} in"), "y": format!("{} in", at % 2)})).collect();
    let house = json!({"schema": 1, "spaces": [{"id": "room", "kind": "mechanical-room", "outline": corners}]});
    assert!(read(house.to_string().as_bytes()).iter().any(|one| one.code == Code::TooManyCorners));
    let packs = json!({"schema": 1, "packs": [{"name": "county", "version": "newest"}]}).to_string();
    let document = crate::document::read_project_bytes("house.json", packs.as_bytes(), &Limits::default());
    let named = document.and_then(|document| crate::session::named_packs(&document));
    expect(&named.err().unwrap_or_default(), &[Code::BadPackReference]);
    let other = crate::session::Refusal::not_reviewed("other.json");
    expect(&other.complaints, &[Code::NotReviewed]);
}

fn locks() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("redtag.lock");
    let entry = json!({"name": "county", "version": "1.0.0", "contract": "1.0", "digest": "0".repeat(64)});
    let tool = json!({"name": "redtag", "version": "0.1.0"});
    let write = |lock: Value| std::fs::write(&path, lock.to_string()).expect("written");
    write(json!({"schema": 1, "tool": tool, "packs": [entry, entry]}));
    expect(&LockFile::read(&path).err().unwrap_or_default(), &[Code::LockedTwice]);
    write(json!({"schema": 1, "tool": tool, "packs": [], "trust": "../signers"}));
    expect(&LockFile::read(&path).err().unwrap_or_default(), &[Code::BadTrustPath]);
    write(json!({"schema": 1, "tool": tool, "packs": []}));
    let lock = LockFile::read(&path).expect("a lock file");
    let pack = crate::pack::tests::pack(json!({"name": "base", "modules": [{"name": "gas"}]}));
    expect(&lock.allows(&pack).err().map(|one| vec![one]).unwrap_or_default(), &[Code::PackNotLocked]);
    expect(&lock.lacks(&["base"]), &[]);
    write(json!({"schema": 1, "tool": tool, "required": ["county"], "packs": [entry]}));
    let inner = LockFile::read(&path).expect("a lock file");
    expect(&inner.lacks(&["base"]), &[Code::RequiredPackDropped]);
    expect(&inner.disagrees(&lock), &[Code::LocksDisagree]);
    expect(&inner.disagrees(&inner), &[]);
    expect(&TrustFile::read(&folder.path().join("none")).err().unwrap_or_default(), &[Code::UnreadableTrust]);
    expect(&TrustFile::parse("signers", "# nobody\n").err().unwrap_or_default(), &[Code::NoSigners]);
}

/// Slips of manifests and cases that no table of those tests has.
fn cases_and_manifests() {
    use crate::pack::tests::{finished, try_pack};
    let twice = finished(&mut json!({"name": "base", "modules": [{"name": "gas"}, {"name": "gas"}]}));
    expect(&try_pack(&twice).err().unwrap_or_default(), &[Code::DuplicateModule]);
    let mut bare: Value =
        serde_json::from_str(&finished(&mut json!({"name": "base", "modules": [{"name": "gas"}]}))).expect("a manifest");
    bare["modules"][0].as_object_mut().expect("a module").remove("sha256");
    expect(&try_pack(&bare.to_string()).err().unwrap_or_default(), &[Code::NoDigest]);
    let amendment = |document: &str| json!({"change": "withdraw", "rule": "a/b", "ordinance": {"document": document}});
    let with = |amendments: Vec<Value>| {
        let mut manifest = json!({"name": "base", "modules": [{"name": "gas"}], "amendments": amendments});
        try_pack(&finished(&mut manifest)).err().unwrap_or_default()
    };
    expect(&with(vec![amendment("O 1"); 5_001]), &[Code::TooMany]);
    expect(&with(vec![amendment(&"x".repeat(4_001))]), &[Code::TextTooLong]);
    let text = "# Trap\n\n## Pass: nothing\n\n```json findings\n[]\n```\n";
    expect(&crate::cases::tests::report(&[("cases/gas/trap.md", text)]).complaints, &[Code::CaseWithoutProject]);
}
