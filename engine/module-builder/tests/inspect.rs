//! Files that are no rule module, or ask for more than one may have, are refused before anything in them is compiled or run,
//! in words that say what was found, what is allowed and what to do.

use redtag_module_builder::{Caps, Excess, Refusal, encode, inspect, validate};
use std::fmt::Write as _;

/// A component that offers the contract, with more text put in before its exports.
fn component(version: &str, more: &str) -> Vec<u8> {
    let text = format!(
        r#"(component
            {more}
            (core module $core
                (memory (export "memory") 1)
                (func (export "realloc") (param i32 i32 i32 i32) (result i32) i32.const 64)
                (func (export "describe") (result i32) i32.const 0)
                (func (export "review") (param i32 i32) (result i32) i32.const 0))
            (core instance $it (instantiate $core))
            (alias core export $it "memory" (core memory $memory))
            (func $describe (result string)
                (canon lift (core func $it "describe") (memory $memory)))
            (func $review (param "request" string) (result (result string (error string)))
                (canon lift (core func $it "review") (memory $memory) (realloc (core func $it "realloc"))))
            (instance $module (export "describe" (func $describe)) (export "review" (func $review)))
            (export "redtag:rules/module{version}" (instance $module)))"#
    );
    wat::parse_str(text).expect("valid text")
}

const LOG: &str = r#"(import "redtag:rules/host@1.0.0" (instance
    (type $level (enum "debug" "info" "warn" "error"))
    (export "level" (type $named (eq $level)))
    (export "log" (func (param "level" $named) (param "text" string)))))"#;

fn refused(bytes: &[u8]) -> Refusal {
    inspect(bytes, &Caps::default()).expect_err("refused")
}

/// The refusal's text, which must hold every one of the words.
fn says(refusal: &Refusal, words: &[&str]) {
    let text = refusal.to_string();
    assert_eq!(text.lines().count(), 1, "{text}");
    for word in words {
        assert!(text.contains(word), "{word:?} is missing in: {text}");
    }
}

#[test]
fn a_rule_module_is_accepted_and_its_contract_read_without_running_it() {
    let bytes = component("@1.0.0", LOG);
    validate(&bytes).expect("well formed");
    let inspection = inspect(&bytes, &Caps::default()).expect("accepted");
    assert_eq!(inspection.contract.to_string(), "1.0.0");
    assert_eq!(inspection.imports, ["redtag:rules/host@1.0.0"]);
    assert_eq!((inspection.functions, inspection.size), (3, bytes.len()));
    assert_eq!(inspection.digest, redtag_module_builder::digest(&bytes));
}

#[test]
fn a_module_that_asks_for_nothing_is_accepted() {
    assert!(inspect(&component("@1.0.7", ""), &Caps::default()).expect("accepted").imports.is_empty());
}

#[test]
fn an_import_beyond_the_contract_is_named_with_what_it_means() {
    let files = r#"(import "wasi:filesystem/types@0.2.0" (instance)) (import "wasi:clocks/wall-clock@0.2.0" (instance))"#;
    let refusal = refused(&component("@1.0.0", &format!("{LOG} {files}")));
    says(
        &refusal,
        &["`wasi:filesystem/types@0.2.0`: files", "the clock", "Allowed is `redtag:rules/host@1.x` only", "Take out the code"],
    );
    assert!(matches!(refusal, Refusal::Imports { asked } if asked.len() == 2));
}

#[test]
fn a_bare_import_and_a_look_alike_are_imports_too() {
    for import in ["log", "redtag:rules/hosts@1.0.0", "redtag:rules/host", "other:rules/host@1.0.0"] {
        let kind = if import == "log" { "(func)" } else { "(instance)" };
        let refusal = refused(&component("@1.0.0", &format!("(import \"{import}\" {kind})")));
        assert!(matches!(refusal, Refusal::Imports { .. }), "{import}: {refusal}");
        says(&refusal, &[import]);
    }
}

#[test]
fn a_contract_of_another_time_says_who_has_to_update() {
    says(&refused(&component("@1.1.0", "")), &["redtag:rules/module@1.1.0", "this redtag speaks 1.0.0", "Update redtag"]);
    says(&refused(&component("@2.0.0", "")), &["Update redtag"]);
    says(&refused(&component("@0.9.0", "")), &["Ask the author for a module of the newer contract"]);
    says(&refused(&component("@1.0.0", &LOG.replace("1.0.0", "1.2.0"))), &["redtag:rules/host@1.2.0", "Update redtag"]);
}

#[test]
fn a_component_that_offers_something_else_is_no_rule_module() {
    let other = wat::parse_str(r#"(component (instance $it) (export "wasi:cli/run@0.2.0" (instance $it)))"#).expect("valid");
    says(&refused(&other), &["does not offer `redtag:rules/module`", "`wasi:cli/run@0.2.0`", "rule SDK"]);
    says(&refused(&wat::parse_str("(component)").expect("valid")), &["offers nothing"]);
    says(&refused(&component("", "")), &["does not offer"]);
}

#[test]
fn a_bare_module_is_told_from_a_component() {
    let bare = wat::parse_str(r#"(module (import "wasi_snapshot_preview1" "fd_write" (func)))"#).expect("valid");
    says(&refused(&bare), &["bare WebAssembly module", "wasi_snapshot_preview1/fd_write", "redtag pack build"]);
    assert!(matches!(refused(&wat::parse_str("(module)").expect("valid")), Refusal::BareModule { asked } if asked.is_empty()));
}

#[test]
fn what_is_not_webassembly_is_said_to_be_none() {
    says(&refused(b""), &["not a WebAssembly file", "it is empty"]);
    says(&refused(b"{\"schema\": 1}"), &["begins with \"{\\\"schema", "redtag pack build"]);
    says(&refused(b"\x7fELF\x02"), &["\\x7fELF"]);
}

#[test]
fn a_file_cut_short_anywhere_is_refused_and_never_panics() {
    let whole = component("@1.0.0", LOG);
    for length in 0..whole.len() {
        let cut = &whole[..length];
        match inspect(cut, &Caps::default()) {
            Err(Refusal::NotWebAssembly { .. }) => assert!(length < 4),
            Err(Refusal::Damaged { .. } | Refusal::NoContract { .. }) => assert!(length >= 4),
            // Only the names for people at the very end are gone; the digest in the manifest tells.
            Ok(_) => assert_eq!(validate(cut), Ok(()), "{length}"),
            Err(other) => panic!("{length}: {other}"),
        }
    }
    says(&refused(&whole[..whole.len() / 2]), &["damaged at byte", "SHA-256"]);
}

#[test]
fn any_flipped_byte_is_survived() {
    let whole = component("@1.0.0", LOG);
    for index in 0..whole.len() {
        for change in [0x01, 0x80, 0xff] {
            let mut bytes = whole.clone();
            bytes[index] ^= change;
            let _ = inspect(&bytes, &Caps::default());
            let _ = validate(&bytes);
        }
    }
}

#[test]
fn a_function_of_a_hundred_and_fifty_thousand_branches_is_refused_before_it_is_compiled() {
    let mut body = String::new();
    for _ in 0..150_000 {
        body.push_str("(if (local.get 0) (then (local.set 0 (i32.const 1))))\n");
    }
    let bomb = component("@1.0.0", &format!("(core module (func (param i32) {body}))"));
    assert!(bomb.len() > 1 << 20, "{}", bomb.len());
    let refusal = refused(&bomb);
    says(&refusal, &["bytes long", "allowed are 65536", "nothing of it is compiled", "Split the function"]);
    // Where the size is allowed, the branches are not.
    let caps = Caps { function_bytes: usize::MAX, ..Caps::default() };
    let refusal = inspect(&bomb, &caps).expect_err("refused");
    assert!(matches!(refusal, Refusal::TooLarge { excess: Excess::Branches, found: 150_000, .. }), "{refusal}");
}

#[test]
fn too_many_locals_or_parameters_are_refused() {
    let locals = component("@1.0.0", &format!("(core module (func (local {})))", "i64 ".repeat(1001)));
    says(&refused(&locals), &["1001 local variables", "allowed are"]);
    let parameters =
        component("@1.0.0", &format!("(core module (func (param {}) (local {})))", "i64 ".repeat(900), "i64 ".repeat(200)));
    assert!(matches!(refused(&parameters), Refusal::TooLarge { excess: Excess::Locals, found: 1100, .. }));
}

#[test]
fn every_other_size_has_its_cap() {
    let nested = format!("(core module (func {} {}))", "block ".repeat(1001), "end ".repeat(1001));
    assert!(matches!(refused(&component("@1.0.0", &nested)), Refusal::TooLarge { excess: Excess::Nesting, .. }));
    let table = format!("(core module (func block (br_table {} (i32.const 0)) end))", "0 ".repeat(4001));
    assert!(matches!(refused(&component("@1.0.0", &table)), Refusal::TooLarge { excess: Excess::Branches, .. }));
    let parts = "(core module)".repeat(40);
    assert!(matches!(refused(&component("@1.0.0", &parts)), Refusal::TooLarge { excess: Excess::Parts, .. }));
    let mut many = String::from("(core module ");
    for _ in 0..20_001 {
        let _ = write!(many, "(func)");
    }
    let many = component("@1.0.0", &format!("{many})"));
    assert!(matches!(refused(&many), Refusal::TooLarge { excess: Excess::Functions, .. }));
    let caps = Caps { module_bytes: 100, ..Caps::default() };
    assert!(matches!(inspect(&many, &caps), Err(Refusal::TooLarge { excess: Excess::ModuleBytes, .. })));
}

#[test]
fn a_core_module_without_the_contract_inside_is_not_made_a_component() {
    let core = wat::parse_str(r#"(module (import "env" "clock" (func)))"#).expect("valid");
    let reason = encode(&core).expect_err("refused");
    assert!(!reason.is_empty() && reason.lines().count() >= 1, "{reason}");
}
