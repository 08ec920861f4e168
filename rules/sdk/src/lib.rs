//! What a rule module links: the project as a rule reads it, facts that may be missing, worksheets, findings, parameters.
//!
//! A module is one crate; a rule is one file under its `src/rules/`. The crate's `lib.rs` is one line,
//! `redtag_rule::module!("family-name");`, its `build.rs` is one line too, and the list of rules is derived from the folder.

#[cfg(target_arch = "wasm32")]
pub mod component;
mod finding;
mod inquiry;
pub mod kinds;
pub mod log;
mod module;
mod parameter;
mod place;
mod rule;
mod sheet;
pub mod size;
mod subjects;
pub mod testing;
mod unsaid;
pub mod ways;
mod words;

pub use finding::{FindingBuilder, ask_each};
pub use inquiry::Inquiry;
pub use module::{Entry, Module, answer, describe, findings_of};
pub use parameter::{Choice, Choices, Flag, Number, Parameter, Quantity, Typed};
pub use place::{Listed, Lookup, Named, Place, Together, Unresolved};
pub use redtag_schema as schema;
pub use redtag_schema::contract::{IntoPart, Part};
pub use rule::{Rule, cited, remembered};
pub use serde_json::{Value, json};
pub use sheet::{Measured, Sheet, box_mark, line_mark, point_mark, remedy, remedy_at};
pub use words::{in_unit, placeholders, words_of};

/// Everything a rule file needs.
pub mod prelude {
    pub use crate::{
        Choice, Choices, Entry, FindingBuilder, Flag, Inquiry, IntoPart, Listed, Lookup, Module, Named, Number, Place, Quantity,
        Rule, Sheet, Together, Unresolved, ask_each, box_mark, cited, in_unit, json, kinds, line_mark, log, need, point_mark,
        remembered, text,
    };
    pub use redtag_schema::contract::{Finding, Level, Missing, Outcome, Stage, Text};
    pub use redtag_schema::project::*;
    pub use redtag_schema::quantity::{self, at_least, at_most, dimensions};
}
