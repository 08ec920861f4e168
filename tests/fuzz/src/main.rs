//! One target under libFuzzer: the one `REDTAG_FUZZ_TARGET` names.
#![no_main]

use redtag_tests::fuzz::{Target, target};
use std::sync::OnceLock;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    static TARGET: OnceLock<Target> = OnceLock::new();
    let named = || target(&std::env::var("REDTAG_FUZZ_TARGET").unwrap_or_default()).expect("REDTAG_FUZZ_TARGET names a target");
    TARGET.get_or_init(named)(bytes);
});
