//! The glue between a module and the call contract; compiled for WebAssembly only.
//!
//! The contract's text stands in this crate too, so that a county's module builds from the published crate alone; a test holds
//! it against the one in `schema/wit`.
#![allow(missing_docs, unsafe_code)] // Generated bindings: the canonical ABI is raw memory.

wit_bindgen::generate!({
    path: "wit",
    world: "rule-module",
    pub_export_macro: true,
    export_macro_name: "export",
    default_bindings_module: "redtag_rule::component",
});

pub use exports::redtag::rules::module::Guest;

/// Sends the message and place of a panic to the host's log before the module stops.
pub fn report_panics() {
    std::panic::set_hook(Box::new(|panic| {
        redtag::rules::host::log(redtag::rules::host::Level::Error, &panic.to_string());
    }));
}

/// Writes a line to the host's log.
pub(crate) fn log(level: crate::log::LogLevel, line: &str) {
    use crate::log::LogLevel;
    use redtag::rules::host::Level;
    let level = match level {
        LogLevel::Debug => Level::Debug,
        LogLevel::Info => Level::Info,
        LogLevel::Warn => Level::Warn,
        LogLevel::Error => Level::Error,
    };
    redtag::rules::host::log(level, line);
}
