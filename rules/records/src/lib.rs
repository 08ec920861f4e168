//! The records family: is what the drawing names also described, so that the rules about it have something to ask of.
//!
//! Shared by the rules: which record describes which kind of equipment (`kept`).

mod kept;

redtag_rule::module!("records", guarded);
