//! The venting family: does what a gas appliance burnt reach the open air, warm enough to rise, cool enough to harm nothing, and
//! where nobody breathes it.
//!
//! Shared by the rules: what a vent serves (`appliances`), what its tables say (`sizing`), what stands around its end
//! (`surroundings`).

mod appliances;
mod marks;
mod sizing;
mod surroundings;

redtag_rule::module!("venting", guarded);
