//! Every document that crosses a border of redtag: the project, the pack, what a rule module is asked and answers, the
//! review. Quantities with units. No computation, no files.

pub mod contract;
pub mod pack;
pub mod project;
pub mod quantity;
pub mod review;
