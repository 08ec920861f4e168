//! A project held against a rulebook.

mod answer;
mod cautions;
mod gather;
mod wanted;
