//! What strangers hand in, as bytes: each target takes anything, must not panic, and holds what it accepts to what the rest of
//! the program relies on. `tests/tests/fuzz_short.rs` runs a few thousand changed seeds of each with every test run;
//! `tests/fuzz/run` runs a target under libFuzzer for as long as one likes.

use redtag::cases;
use redtag::document::{Limits, check_project_bytes, patched};
use redtag::modules::{read_answer, read_description, usable};
use redtag::pack::{Origin, Pack};
use redtag::trust::{TrustFile, sign, verify};
use redtag_module_builder::{Caps, inspect, open};
use redtag_schema::quantity::{Area, Length, Power, Pressure, Temperature};
use redtag_schema::rulebook::Rulebook;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::PathBuf;

/// A target: it takes anything.
pub type Target = fn(&[u8]);

/// The targets, each with seeds: what is sound, so that changes of it come far.
pub fn targets() -> Vec<(&'static str, Target, Vec<Vec<u8>>)> {
    let text = |all: &[&str]| all.iter().map(|one| one.as_bytes().to_vec()).collect::<Vec<_>>();
    vec![
        (
            "quantity",
            quantity as Target,
            text(&["36 in", "1,250 ft", "3' 6-1/2\"", "80,000 Btu/h", "7 in wc", "-4 °F", "1e308 m", "2½ in"]),
        ),
        ("project", project, text(&[PROJECT])),
        ("archive", archive, vec![archived(&[("pack.json", MANIFEST.as_bytes()), ("notes/one.md", b"one")])]),
        ("pack", pack, vec![archived(&[("pack.json", MANIFEST.as_bytes())])]),
        ("manifest", manifest, text(&[MANIFEST])),
        ("component", component, super::hostile("healthy").into_iter().collect()),
        ("description", description, text(&[DESCRIPTION])),
        ("answer", answer, text(&[ANSWER])),
        ("cases", case_file, text(&[CASES])),
        ("patch", patch, text(&[PATCH])),
        ("signers", signers, text(&[SIGNERS])),
        ("signature", signature, vec![signed()]),
    ]
}

/// The target of this name.
pub fn target(name: &str) -> Option<Target> {
    targets().into_iter().find(|(known, ..)| *known == name).map(|(_, target, _)| target)
}

fn quantity(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    for si in [
        Length::parse(text).ok().map(|amount| amount.si()),
        Area::parse(text).ok().map(|amount| amount.si()),
        Power::parse(text).ok().map(|amount| amount.si()),
        Pressure::parse(text).ok().map(|amount| amount.si()),
        Temperature::parse(text).ok().map(|amount| amount.si()),
    ]
    .into_iter()
    .flatten()
    {
        assert!(si.is_finite(), "{text:?} is {si}");
    }
}

fn project(bytes: &[u8]) {
    let seen = check_project_bytes("house.json", bytes, &Limits::default());
    let Some(document) = seen.project.as_ref().filter(|_| !seen.is_refused()) else {
        assert!(!seen.complaints.is_empty(), "a project that is refused says why");
        return;
    };
    assert!(!seen.complaints.iter().any(redtag::diagnostic::Diagnostic::is_error));
    assert!(document.canonical.is_object());
    for complaint in &seen.complaints {
        assert!(!complaint.one_line().contains('\n'));
    }
}

fn archive(bytes: &[u8]) {
    let limits = redtag_module_builder::Limits { total_bytes: 1 << 20, ..redtag_module_builder::Limits::default() };
    let Ok(files) = open(bytes, &limits) else { return };
    assert!(files.iter().map(|(_, content)| content.len() as u64).sum::<u64>() <= limits.total_bytes);
    for (name, _) in files {
        assert!(!name.starts_with('/') && !name.split('/').any(|part| part == ".."), "{name:?}");
    }
}

fn pack(bytes: &[u8]) {
    let _ = Pack::from_archive(bytes, Origin::Archive(PathBuf::from("pack.zip")));
}

fn in_pack(files: &[(&str, &[u8])]) -> Option<Pack> {
    let files: BTreeMap<String, Vec<u8>> = files.iter().map(|(name, bytes)| ((*name).to_owned(), bytes.to_vec())).collect();
    Pack::from_files(files, Origin::Folder(PathBuf::from("pack"))).ok()
}

fn manifest(bytes: &[u8]) {
    if let Some(pack) = in_pack(&[("pack.json", bytes)]) {
        assert!(!pack.name().is_empty() && pack.digest().len() == 64);
    }
}

fn component(bytes: &[u8]) {
    let _ = inspect(bytes, &Caps::default());
}

fn description(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    if let Ok(usable) = read_description(text).map(usable) {
        assert!(usable.is_err_and(|refused| !refused.message.is_empty()) || text.contains("rules"));
    }
}

fn answer(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    match read_answer(text) {
        Ok(answer) => assert_eq!(answer.schema, 1),
        Err(bad) => assert!(!bad.to_string().is_empty()),
    }
}

fn case_file(bytes: &[u8]) {
    let manifest = json!({
        "schema": 1, "name": "tried", "version": "1.0.0", "title": "t", "authority": {"name": "Nobody"}, "contract": "1.0", "cases": ["cases"],
    });
    let Some(pack) = in_pack(&[("pack.json", manifest.to_string().as_bytes()), ("cases/gas/trap.md", bytes)]) else { return };
    let empty = json!({"schema": 1, "date": "2025-03-14", "packs": [], "modules": [], "rules": []});
    let Ok(rulebook) = serde_json::from_value::<Rulebook>(empty) else { return };
    for complaint in cases::load(&pack, &rulebook).complaints {
        assert!(!complaint.one_line().contains('\n'));
    }
}

/// A line with a project, a line with a patch.
fn patch(bytes: &[u8]) {
    let mut lines = bytes.splitn(2, |&byte| byte == b'\n');
    let (Some(project), Some(patch)) = (lines.next(), lines.next()) else { return };
    let Ok(mut project) = serde_json::from_slice::<Value>(project) else { return };
    let Ok(patch) = serde_json::from_slice::<json_patch::Patch>(patch) else { return };
    if patched(&mut project, &patch.0).is_ok() {
        assert!(project.to_string().len() < (64 << 20) + bytes.len());
    }
}

fn signers(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    if let Err(complaints) = TrustFile::parse("signers", text) {
        assert!(!complaints.is_empty());
    }
}

const MESSAGE: &[u8] = b"not really a pack\n";

/// A changed signature never counts for the message, unless it is the same signature written otherwise.
fn signature(bytes: &[u8]) {
    let Ok(signed) = verify(MESSAGE, bytes) else { return };
    assert_eq!(Ok(signed), verify(MESSAGE, &self::signed()));
    assert!(verify(b"another\n", bytes).is_err());
}

fn signed() -> Vec<u8> {
    use std::sync::OnceLock;
    static SIGNED: OnceLock<Vec<u8>> = OnceLock::new();
    let make = || {
        let key = ssh_key::PrivateKey::from(ssh_key::private::Ed25519Keypair::from_seed(&[7; 32]));
        let key = key.to_openssh(ssh_key::LineEnding::LF).map(|key| key.as_bytes().to_vec()).unwrap_or_default();
        sign(MESSAGE, &key).map(String::into_bytes).unwrap_or_default()
    };
    SIGNED.get_or_init(make).clone()
}

fn archived(files: &[(&str, &[u8])]) -> Vec<u8> {
    let Ok(folder) = tempfile::tempdir() else { return Vec::new() };
    for (name, content) in files {
        let path = folder.path().join(name);
        let _ = path.parent().map(std::fs::create_dir_all);
        let _ = std::fs::write(path, content);
    }
    redtag_module_builder::seal(folder.path()).unwrap_or_default()
}

const PROJECT: &str = r#"{"schema": 1, "name": "Net loft", "application_date": "2025-03-14", "site": {"elevation": "600 ft"},
 "spaces": [{"id": "loft", "kind": "mechanical-room", "ceiling_height": "8 ft", "outline": [{"x": "0", "y": "0"}, {"x": "9 ft", "y": "0"}, {"x": "9 ft", "y": "7 ft"}]}],
 "equipment": [{"id": "furnace", "kind": "furnace", "space": "loft", "fuel_burning": {"plate": {"fuel": "natural-gas", "input": "80,000 Btu/h"}}}],
 "variances": [{"id": "v-1", "rule": "a/b", "document": "V 1", "expires": "2026-02-11"}]}"#;

const MANIFEST: &str = r#"{"schema": 1, "name": "tried", "version": "1.0.0", "title": "t", "authority": {"name": "Nobody"}, "contract": "1.0",
 "stands_on": {"name": "model", "version": "^1"}, "in_force": {"from": "2024-07-01"}, "no_variance": ["a/b"],
 "amendments": [{"change": "set", "rule": "a/b", "parameter": "p", "value": "9 in", "ordinance": {"document": "O 1"}},
  {"change": "withdraw", "rule": "a/c", "ordinance": {"document": "O 2", "section": "3"}, "in_force": {"from": "2025-01-01"}}]}"#;

const DESCRIPTION: &str = r#"{"schema": 1, "module": "tried", "version": "1.0.0", "rules": [{"id": "tried/one", "title": "t", "purpose": "p",
 "stages": ["permit"], "reads": ["/equipment"], "parameters": [{"name": "depth", "purpose": "p", "kind": "length", "default": "36 in"}]}]}"#;

const ANSWER: &str = r#"{"schema": 1, "findings": [{"rule": "a/b", "outcome": "correction", "subject": {"pointer": "/equipment/0", "label": "boiler"},
 "summary": {"template": "needs {0}", "amounts": [{"kind": "length", "si": 1.0}]}, "remedies": [{"words": {"template": "do"}, "patch": [{"op": "remove", "path": "/a"}]}],
 "marks": [{"label": "m", "shape": {"point": {"at": {"x": 0.0, "y": 0.0, "z": 0.0}}}}]}]}"#;

const CASES: &str = "# Trap\n\n```json project\n{\"schema\": 1, \"equipment\": []}\n```\n\n## Fail: nothing\n\n```json change\n[{\"op\": \"add\", \
                     \"path\": \"/name\", \"value\": \"x\"}]\n```\n\n```json findings\n[{\"outcome\": \"correction\"}]\n```\n";

const PATCH: &str = "{\"a\": [1, {\"b\": \"c\"}], \"d\": {}}\n[{\"op\": \"copy\", \"from\": \"/a\", \"path\": \"/a/-\"}, {\"op\": \"move\", \"from\": \
                     \"/d\", \"path\": \"/a/0\"}, {\"op\": \"add\", \"path\": \"/e\", \"value\": [[]]}, {\"op\": \"test\", \"path\": \"/e\", \"value\": [[]]}]";

const SIGNERS: &str = "# who signs\ntarnmark-*,plans@county.example namespaces=\"redtag-*\",valid-after=\"20260101\" ssh-ed25519 \
                       AAAAC3NzaC1lZDI1NTE5AAAAIHIBONPaqOjkj7a+ne2ShhIZGMd2/bxqDdOPuFocfOF0\n";
