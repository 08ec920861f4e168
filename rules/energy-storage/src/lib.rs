//! The energy storage family: may the batteries of a dwelling stand where they stand, as many of them, this close together,
//! and will somebody notice, reach the shutdown, and keep vehicles off.
//!
//! Shared by the rules: the units and what exempts them (`units`), the class of place each stands in (`place`), where they
//! are on the plan (`plan`).

mod place;
mod plan;
mod units;

redtag_rule::module!("energy-storage", guarded);
