//! The contract travels inside the crate, and a set value that does not read fails the module.

use redtag_rule::prelude::*;
use redtag_rule::schema::project::Project;
use std::path::Path;

#[test]
fn the_contract_in_the_crate_is_the_published_one() {
    let crate_folder = Path::new(env!("CARGO_MANIFEST_DIR"));
    let own = std::fs::read_to_string(crate_folder.join("wit/rules.wit")).unwrap();
    let published = crate_folder.join("../../schema/wit/rules.wit");
    // Unpacked from a registry there is nothing beside the crate to hold it against.
    if crate_folder.join("../../schema").is_dir() {
        assert_eq!(own, std::fs::read_to_string(published).unwrap(), "copy schema/wit/rules.wit to rules/sdk/wit/rules.wit");
    }
}

const LEAST: Quantity<dimensions::Length> = Quantity::new("least", "3 in", "The least there may be.", "a test");

const RULE: Rule = Rule {
    parameters: &[&LEAST],
    reads: &["/spaces"],
    ..Rule::new("test/least", "Least", |inquiry| {
        vec![inquiry.project().complies(text!("{} is the least", inquiry.value(&LEAST))).done()]
    })
};

static MODULE: Module = Module {
    name: "test",
    version: "1",
    entries: &[Entry { file: "least", purpose: "", cases: "", rule: &RULE }],
    read: |value| Ok(serde_json::from_value::<Project>(value).unwrap()),
};

fn answer(set: &str) -> Result<String, String> {
    let request = format!(
        r#"{{"schema": 1, "stage": "final", "date": "2025-01-01", "project": {{"schema": 1}},
            "rules": {{"test/least": {{"parameters": {{{set}}}}}}}}}"#
    );
    redtag_rule::answer(&MODULE, &request)
}

#[test]
fn a_set_value_counts_and_one_that_does_not_read_fails_the_module() {
    assert!(answer("").unwrap().contains("0.0761999"), "{:?}", answer(""));
    assert!(answer(r#""least": {"si": 0.5, "unit": "m", "written": "0.5 m"}"#).unwrap().contains("0.5"));
    let refused = answer(r#""least": "3 psi""#).unwrap_err();
    assert!(refused.starts_with("test/least: parameter least is set to \"3 psi\""), "{refused}");
}
