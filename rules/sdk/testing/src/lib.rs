//! The tests every rule module gets from `redtag_rule::module!`, run natively and without WebAssembly: every case beside a rule
//! finds what it expects.
//!
//! A development dependency of rule modules; nothing of it is in a module that ships.

mod ask;
mod cases;
mod differ;

pub use ask::{Family, ask};
pub use cases::{Case, Expected};

/// Every case of the module finds what it expects. `folder` is the module's own, where its `src/rules` stands.
///
/// # Panics
/// When a case file does not read or a case finds something else; the message says which, where, and what was found.
pub fn assert_cases(module: &'static redtag_rule::Module, folder: &str) {
    let family = Family::new(module, folder);
    let cases = family.cases().unwrap_or_else(|complaint| panic!("{complaint}"));
    assert!(!cases.is_empty(), "{} has no case", module.name);
    let wrong: Vec<String> = cases.iter().filter_map(|case| family.wrong(case)).collect();
    assert!(wrong.is_empty(), "{} of {} cases find something else:\n\n{}\n", wrong.len(), cases.len(), wrong.join("\n\n"));
}
