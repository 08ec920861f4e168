//! The panels family: what feeds a bus, what is left of its spaces, which circuits and disconnects equipment needs, what
//! protects people, how the service is sized, cut off and grounded.
//!
//! Shared by the rules: finding circuits and the panel they belong to (`circuits`).

mod circuits;

redtag_rule::module!("panels", guarded);
