//! What several rules ask packs, and how they say numbers without a unit.

use redtag_handbook::drainage::CodeFamily;
use redtag_rule::prelude::*;
use uom::si::f64::Ratio;

/// Whose tables hold.
pub const CODE_FAMILY: Choice = Choice::new(
    "code_family",
    "irc",
    &CodeFamily::WORDS,
    "The family of plumbing codes whose tables hold: the residential code, the IPC, the UPC, or 248 CMR of Massachusetts.",
    "model residential code",
)
.figure();

/// The family in force.
pub fn family(inquiry: &Inquiry) -> CodeFamily {
    CodeFamily::from_word(inquiry.value(&CODE_FAMILY))
}

/// A slope as it is written on plans.
pub fn sloped(slope: Ratio) -> quantity::Slope {
    quantity::Slope::from_quantity(&slope)
}

/// Fixture units in words.
pub fn units(number: f64) -> String {
    let rounded = (number * 100.0).round() / 100.0;
    let noun = if rounded == 1.0 { "fixture unit" } else { "fixture units" };
    format!("{rounded} {noun}")
}

/// A space's kind in which equipment of a house is gathered.
pub fn is_mechanical(kind: SpaceKind) -> bool {
    use SpaceKind as K;
    matches!(kind, K::MechanicalRoom | K::FurnaceRoom | K::BoilerRoom | K::UtilityRoom | K::EquipmentCloset)
}
