//! The appliance safety family: what keeps an appliance from setting fire to a garage, a car from running into it, and its exhaust
//! from killing people in their sleep.
//!
//! Shared by the rules: which spaces count as garage (`garage`).

mod garage;

redtag_rule::module!("appliance-safety", guarded);
