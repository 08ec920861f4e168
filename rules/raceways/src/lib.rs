//! The raceways family: how much runs in a conduit, whether it can be pulled, how it is held, sealed and shielded, what heat
//! leaves of its conductors, and whether a spare one leads where it is meant to.
//!
//! Shared by the rules: kinds, sizes and conductors as the handbook knows them (`inside`).

mod inside;

redtag_rule::module!("raceways", guarded);
