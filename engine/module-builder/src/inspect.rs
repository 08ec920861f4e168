//! Looks at a component before it is compiled or run: what it asks for, what it offers, how large its functions are.

use crate::caps::{CONTRACT, Caps, HOST_INTERFACE, MODULE_INTERFACE};
use crate::digest::digest;
use crate::reading::{Reading, Stop, damaged, within};
use crate::refusal::{Asked, Excess, Refusal};
use semver::Version;
use wasmparser::{Encoding, Parser};

/// What a component says of itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Inspection {
    /// The contract it speaks, read from the name of what it offers.
    pub contract: Version,
    /// What it asks for.
    pub imports: Vec<String>,
    /// Bytes of its largest function.
    pub largest_function: usize,
    /// Functions in it.
    pub functions: usize,
    /// Bytes of the file.
    pub size: usize,
    /// SHA-256 of the file, 64 hexadecimal digits.
    pub digest: String,
}

/// Reads a component without compiling or running any of it.
///
/// # Errors
/// When it is no rule module, asks for more than a rule may have, or is larger than the caps allow.
pub fn inspect(bytes: &[u8], caps: &Caps) -> Result<Inspection, Refusal> {
    within(Excess::ModuleBytes, None, bytes.len(), caps.module_bytes)?;
    if !bytes.starts_with(b"\0asm") {
        return Err(Refusal::NotWebAssembly { begins: beginning(bytes) });
    }
    let mut reading = Reading::new(caps);
    for payload in Parser::new(0).parse_all(bytes) {
        let seen = payload.map_err(Stop::from).and_then(|payload| reading.read(payload));
        seen.map_err(|stop| stop.into_refusal(bytes.len()))?;
    }
    let contract = judge(&reading)?;
    Ok(Inspection {
        contract,
        imports: reading.imports,
        largest_function: reading.largest_function,
        functions: reading.functions,
        size: bytes.len(),
        digest: digest(bytes),
    })
}

/// Checks that every function and type of a component is well formed, as the compiler will; for files that come from
/// elsewhere, when a pack is built.
///
/// # Errors
/// When it is not.
pub fn validate(bytes: &[u8]) -> Result<(), Refusal> {
    let size = bytes.len();
    wasmparser::Validator::new().validate_all(bytes).map(drop).map_err(|error| damaged(&error, size))
}

/// The first bytes of a file, printable.
fn beginning(bytes: &[u8]) -> String {
    match bytes.get(..bytes.len().min(8)) {
        None | Some([]) => "nothing: it is empty".to_owned(),
        Some(first) => format!("\"{}\"", first.escape_ascii()),
    }
}

/// Holds what a file asks for and offers against the contract; answers the contract's version.
fn judge(reading: &Reading<'_>) -> Result<Version, Refusal> {
    if reading.encoding != Some(Encoding::Component) {
        return Err(Refusal::BareModule { asked: asked(&reading.core_imports) });
    }
    let foreign: Vec<String> =
        reading.imports.iter().filter(|name| version_of(name, HOST_INTERFACE).is_none()).cloned().collect();
    if !foreign.is_empty() {
        return Err(Refusal::Imports { asked: asked(&foreign) });
    }
    for version in reading.imports.iter().filter_map(|name| version_of(name, HOST_INTERFACE)) {
        spoken(HOST_INTERFACE, version)?;
    }
    let offered = reading.exports.iter().find_map(|name| version_of(name, MODULE_INTERFACE));
    match offered {
        Some(version) => spoken(MODULE_INTERFACE, version),
        None => Err(Refusal::NoContract { found: reading.exports.clone() }),
    }
}

fn asked(imports: &[String]) -> Vec<Asked> {
    imports.iter().map(|import| Asked::new(import)).collect()
}

/// The version in `interface@version`.
fn version_of(name: &str, interface: &str) -> Option<Version> {
    Version::parse(name.strip_prefix(interface)?.strip_prefix('@')?).ok()
}

/// A contract grows by minor versions: a module of an earlier one runs, one of a later one may ask for what is not here.
fn spoken(interface: &str, version: Version) -> Result<Version, Refusal> {
    let known = (version.major, version.minor) <= (CONTRACT.major, CONTRACT.minor);
    if version.pre.is_empty() && version.major == CONTRACT.major && known {
        return Ok(version);
    }
    Err(Refusal::Contract { interface: interface.to_owned(), asked: version })
}
