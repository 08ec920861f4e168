//! The glue between a module and the call contract; compiled for WebAssembly only.
#![allow(missing_docs, unsafe_code)] // Generated bindings: the canonical ABI is raw memory.

wit_bindgen::generate!({
    path: "../../schema/wit",
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
