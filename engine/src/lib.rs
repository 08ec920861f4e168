//! redtag: a project read, held against the rulebook of its place and day, and reported on. Rules are met only through
//! WebAssembly; this crate knows none of them.

pub mod cases;
pub mod cli;
pub mod compare;
pub mod diagnostic;
pub mod document;
pub mod modules;
pub mod pack;
pub mod progress;
pub mod report;
pub mod review;
pub mod rulebook;
pub mod sandbox;
pub mod store;
pub mod trust;
