//! Boilers that heat rooms.

use redtag_rule::prelude::*;

/// Judges every boiler.
pub fn each<'a>(inquiry: &Inquiry<'a>, judge: impl Fn(&Place<'a, Equipment>) -> Finding) -> Vec<Finding> {
    let equipment = need!(inquiry.project(), equipment).every();
    equipment.iter().filter(|item| item.kind == EquipmentKind::Boiler).map(judge).collect()
}
