//! Helpers of this family's tests.

use redtag_rule::Value;
use redtag_rule::prelude::*;
use redtag_rule::schema::quantity::System;

/// Summary and worksheet in words.
pub fn lines(finding: &Finding) -> Vec<String> {
    let step = finding.worksheet.iter().map(|step| format!("{}: {}", step.label, step.text.print(System::UsCustomary)));
    std::iter::once(finding.summary.print(System::UsCustomary)).chain(step).collect()
}

/// The finding about a subject.
#[track_caller]
pub fn about<'f>(found: &'f [Finding], id: &str) -> &'f Finding {
    found.iter().find(|finding| finding.subject.id.as_deref() == Some(id)).unwrap_or_else(|| panic!("nothing about {id}"))
}

/// Its summary or a line of its worksheet holds the words.
#[track_caller]
pub fn says(finding: &Finding, words: &str) {
    assert!(lines(finding).iter().any(|line| line.contains(words)), "{words:?} is not in {:#?}", lines(finding));
}

/// An appliance by id and input in Btu/h.
pub fn appliance(id: &str, input: u32) -> Value {
    json!({"id": id, "kind": "furnace", "fuel_burning": {"plate": {"fuel": "propane", "input": format!("{input} Btu/h")}}})
}
