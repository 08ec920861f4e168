//! `redtag compile-module`, hidden: what the sandbox starts to compile a module nobody vouches for.

pub use crate::sandbox::child::CompileModule as Arguments;
