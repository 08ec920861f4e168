//! Apparent powers in sentences. Their type is that of powers, so that they must say themselves that they are apparent ones.

use redtag_rule::Part;
use redtag_rule::prelude::*;
use redtag_rule::schema::contract::Measure;
use uom::si::f64::Power;

fn apparent(power: Power, unit: &str) -> Part {
    Part::Amount(Measure { kind: quantity::Kind::ApparentPower, si: power.value, unit: Some(unit.to_owned()), written: None })
}

/// In volt-amperes.
pub fn va(power: Power) -> Part {
    apparent(power, "VA")
}

/// In kilovolt-amperes.
pub fn kva(power: Power) -> Part {
    apparent(power, "kVA")
}
