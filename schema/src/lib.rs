//! Every document that crosses a border of redtag: the project, the pack, what a rule module is asked and answers, the
//! review, the rulebook, a comparison of two, the proof of a pack. Quantities with units. No computation, no files.

pub mod comparison;
pub mod contract;
pub mod lock;
pub mod pack;
pub mod project;
pub mod proof;
#[cfg(feature = "json-schema")]
pub mod published;
pub mod quantity;
pub mod review;
pub mod rulebook;
