//! The access family: can every appliance be reached, worked on, and taken out again.
//!
//! Shared by the rules: which equipment they concern (`served`), a space with its walls, bodies and doors (`layout`), how what
//! is in the way is named, drawn and moved (`thing`).

mod beyond;
mod carrying;
mod layout;
mod onward;
mod passage;
mod served;
mod thing;

redtag_rule::module!("access", guarded);
