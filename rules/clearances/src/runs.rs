//! Pipes and ducts in the open.

pub use redtag_rule_space::{Run, Runs};
