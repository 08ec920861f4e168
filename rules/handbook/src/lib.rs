//! The trade's formulas and tables as pure functions over typed quantities, each with its source.
//!
//! Nothing here knows of projects, rules or WebAssembly: a function takes amounts with units, answers amounts with units,
//! and says where its figures come from. Whatever jurisdictions change is an argument: a struct of parameters whose
//! `Default` is the model code's value. A [`Source`] beside each figure says whether it was confirmed against a readable
//! copy of the text, is remembered, or is common practice.
//!
//! Powers go through `libm`, so that a rule module and the program that runs it agree to the last bit.

pub mod clearance;
pub mod combustion_air;
pub mod drainage;
pub mod ducts;
pub mod fire;
pub mod fuel;
pub mod gas_installation;
pub mod load;
pub mod panel;
pub mod piping;
pub mod raceway;
mod source;
pub mod space;
pub mod standby;
pub mod units;
pub mod venting;
pub mod water;

pub use source::{Source, Sourced};
