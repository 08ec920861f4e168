//! From the compiler's core WebAssembly to a component that says what it offers and asks for.

use wit_component::ComponentEncoder;

/// Makes a component of a core module that carries its contract in a custom section, as the rule SDK's glue leaves it.
///
/// # Errors
/// In words: what the module lacks or asks for beyond the contract.
pub fn encode(core: &[u8]) -> Result<Vec<u8>, String> {
    let encoded = ComponentEncoder::default().validate(true).module(core).and_then(|mut encoder| encoder.encode());
    encoded.map_err(|error| format!("{error:#}"))
}
