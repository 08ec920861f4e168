//! Every document that crosses a border of redtag: the project, the pack, what a rule module is asked and answers, the
//! review. Quantities with units. No computation, no files.

pub mod contract;
pub mod lock;
pub mod pack;
pub mod project;
#[cfg(feature = "json-schema")]
pub mod published;
pub mod quantity;
pub mod review;
