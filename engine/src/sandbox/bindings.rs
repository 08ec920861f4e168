//! The call contract of `schema/wit` as Rust; generated.
#![allow(missing_docs)] // Generated code lowers and lifts values; it is wasmtime's, not ours.

wasmtime::component::bindgen!({
    path: "../schema/wit",
    world: "rule-module",
    imports: { default: trappable },
});
