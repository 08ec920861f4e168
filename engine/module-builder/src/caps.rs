//! What a file may be before it is compiled: the contract it has to keep and how large it may be.

/// The contract this program speaks.
pub use redtag_schema::contract::CONTRACT;

/// The interface a rule module offers.
pub const MODULE_INTERFACE: &str = "redtag:rules/module";
/// The one interface a rule module may ask for.
pub const HOST_INTERFACE: &str = "redtag:rules/host";

/// The sizes beyond which a module is refused before it is compiled. Compilation time grows faster than a function's size:
/// it follows the product of its variables and branches, so each has its own cap. Within the default caps it stays in
/// proportion to the size of the file. The largest rule module of this repository stays under half of each.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Caps {
    /// Bytes of the file.
    pub module_bytes: usize,
    /// Functions in the file.
    pub functions: usize,
    /// Bytes of one function.
    pub function_bytes: usize,
    /// Parameters and local variables of one function.
    pub locals: usize,
    /// Branching operators and branch targets of one function.
    pub branches: usize,
    /// Blocks within blocks in one function.
    pub nesting: usize,
    /// Modules and components within the file.
    pub parts: usize,
}

impl Default for Caps {
    fn default() -> Self {
        Self {
            module_bytes: 16 << 20,
            functions: 20_000,
            function_bytes: 64 << 10,
            locals: 1_000,
            branches: 4_000,
            nesting: 1_000,
            parts: 32,
        }
    }
}
