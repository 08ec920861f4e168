//! The water supply family: does enough water reach the last tap, clean, at a pressure the house can bear.
//!
//! Shared by the rules: where the water comes from and at which pressure (`source`), the tree of pipes with what hangs on it and
//! what flows in it (`network`), holes in walls that carry pipes (`bores`).

mod bores;
mod figures;
mod network;
mod source;

redtag_rule::module!("water-supply", guarded);
